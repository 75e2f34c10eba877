// @ts-check
/**
 * What the keys do while the board has the focus.
 */

/** The help that stands under the board. */
export const KEYS_HELP =
  'Keys: arrows move the chosen nodes (Shift: ten times), or the drawing when none is chosen. '
  + 'Page Up and Page Down choose a node, I inserts after it, C makes it a corner, Delete deletes it. '
  + 'Enter ends a sketch, Escape gives it up. Plus, minus and 0 zoom.';

/** An arrow moves this many steps of 0.01 mm. */
const NUDGE = 10;
/** An arrow moves the drawing this many pixels. */
const PAN = 40;
const ZOOM = 1.25;

/** @type {Record<string, [number, number]>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

/**
 * @param {KeyboardEvent} event
 * @param {import('../loftkin_page.js').Board} board
 * @returns {(() => string | void | undefined) | null} what to do, if anything
 */
export function keyAct(event, board) {
  if (event.ctrlKey || event.metaKey || event.altKey) return null;
  const arrow = ARROWS[event.key];
  if (arrow) return () => move(board, arrow, event.shiftKey ? 10 : 1);
  const sketching = 0 < board.sketchNodes();
  switch (event.key) {
    case 'PageDown': return () => board.chooseNext(true, event.shiftKey);
    case 'PageUp': return () => board.chooseNext(false, event.shiftKey);
    case 'Enter': return sketching ? () => board.endSketch() : null;
    case 'Escape': return sketching ? () => board.dropSketch() : () => board.chooseNone();
    case 'Delete':
    case 'Backspace': return sketching ? () => board.sketchBack() : () => board.deleteNodes();
    case 'i': return () => board.insertAfter();
    case 'c': return () => board.toggleCorner();
    case '+':
    case '=': return () => board.zoom(ZOOM);
    case '-': return () => board.zoom(1 / ZOOM);
    case '0': return () => board.fit();
    default: return null;
  }
}

/**
 * @param {import('../loftkin_page.js').Board} board
 * @param {[number, number]} direction
 * @param {number} times
 */
function move(board, [x, y], times) {
  if (board.chosenNodes().length) board.nudge(x * NUDGE * times, y * NUDGE * times);
  else board.pan(-x * PAN * times, y * PAN * times);
}
