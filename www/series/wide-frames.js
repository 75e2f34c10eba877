// @ts-check
/**
 * Marks the frames whose table is wider than they are, so that they can say
 * that they scroll.
 */

const FRAMES = '.station-frame, .making-frame';

/**
 * Follows all frames in a part of the page, whenever they are made.
 * @param {HTMLElement} part
 */
export function markWideFrames(part) {
  const measure = new ResizeObserver((entries) => {
    for (const { target } of entries) mark(/** @type {HTMLElement} */ (target.closest(FRAMES)));
  });
  const watch = () => {
    measure.disconnect();
    for (const frame of part.querySelectorAll(FRAMES)) {
      measure.observe(frame);
      for (const table of frame.children) measure.observe(table);
    }
  };
  new MutationObserver(watch).observe(part, { childList: true, subtree: true });
  watch();
}

/** @param {HTMLElement | null} frame */
function mark(frame) {
  // Half a pixel is rounding.
  frame?.toggleAttribute('data-wide', frame.clientWidth + 1 < frame.scrollWidth);
}
