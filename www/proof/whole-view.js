// @ts-check
/**
 * The family as a whole: whether any blend of it is free, which sets agree,
 * how true it must be made. Worked out when the drawing has been still.
 */
import { element, sign } from '../page/dom.js';

export class WholeView {
  /**
   * @param {HTMLElement} place
   * @param {import('../loftkin_page.js').Board} board
   */
  constructor(place, board) {
    this.place = place;
    this.board = board;
  }

  /** The drawing has changed: what stands here is of before. */
  stale() {
    this.place.classList.add('stale');
  }

  /** The drawing is still. */
  update() {
    const whole = /** @type {import('../page/messages.js').Whole | null} */ (this.board.wholeFamily());
    this.place.classList.remove('stale');
    this.place.hidden = whole === null;
    if (!whole) return;
    const { anyBlend, notes, verdict } = whole;
    this.place.replaceChildren(
      element('h2', {}, sign(verdict), element('span', {}, 'Any blend of the whole family'), element('span', { class: 'hidden' }, `: ${verdict}`)),
      element('p', {}, anyBlend.what),
      ...(anyBlend.place ? [element('p', { class: 'where' }, `Where: ${anyBlend.place}.`)] : []),
      ...(anyBlend.right ? [element('p', {}, anyBlend.right)] : []),
      ...notes.map((note) => element('p', { class: 'note' }, note)),
    );
  }
}
