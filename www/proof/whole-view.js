// @ts-check
/**
 * The family as a whole, while it is edited: any two of it, any blend of it,
 * the tolerance, the sets that agree.
 */
import { button, element, sign } from '../page/dom.js';
import { Follower } from './follower.js';

/** What one answer may take in the page while a node is dragged, in milliseconds. */
const LIVE = 4;
/** The same when the drawing is still, and how long it must have been so. */
const STILL = 12;
const WAIT = 350;

export class WholeView {
  /**
   * @param {HTMLElement} place
   * @param {import('../page/controller.js').Controller} controller
   * @param {import('../beside.js').Means} means
   */
  constructor(place, controller, means) {
    this.place = place;
    this.controller = controller;
    const { board } = controller;
    this.board = board;
    this.shown = '';
    /** The blend that meets itself, as the kernel gave it. @type {import('../page/messages.js').Blend | undefined} */
    this.blend = undefined;
    /** Whether the blend is to be drawn, as the person chose. @type {boolean | undefined} */
    this.chosen = undefined;
    const [two, any, tolerance, sets] = ['any-two', 'any-blend', 'tolerance', 'sets'].map((name) => element('section', { class: `whole-part ${name}` }));
    this.parts = { two, any, tolerance, sets };
    const refuse = (/** @type {unknown} */ error) => controller.announcer.refuse(error);
    const follow = (/** @type {import('./follower.js').Way} */ way) => new Follower(board, means, refuse, way);
    this.followers = [
      follow({ budget: LIVE, wait: 0, here: () => board.anyBlend(), show: (answer) => this.showBlends(answer), mark: mark(two, any) }),
      follow({ kind: 'tolerance', budget: LIVE, wait: 0, here: () => board.familyTolerance(), show: (answer) => this.showTolerance(answer), mark: mark(tolerance) }),
      follow({ kind: 'sets', budget: STILL, wait: WAIT, here: () => board.sets(), show: (answer) => this.showSets(answer), mark: mark(sets) }),
    ];
    place.append(
      element('h2', {}, 'The whole family'),
      element('div', { class: 'whole-body' }, two, any, tolerance, sets),
      element('div', { class: 'actions' }, button('Write the proof to a file', () => controller.writeProof())));
  }

  /** The drawing has changed. */
  drawn() {
    const size = this.controller.family?.profiles.length ?? 0;
    this.place.hidden = size < 2;
    for (const follower of this.followers) {
      if (size < 2) follower.rest();
      else follower.drawn(size);
    }
  }

  /** @param {import('../page/messages.js').AnyBlend} answer */
  showBlends(answer) {
    this.blend = answer.blend;
    this.drawBlend();
    const key = JSON.stringify(answer);
    if (key === this.shown) return;
    this.shown = key;
    const { anyBlend, anyTwo, anyTwoVerdict, blend, verdict } = answer;
    const mend = (/** @type {string} */ text, /** @type {'all' | 'blend'} */ target) => button(text, () => this.controller.mendView.lookFor(target));
    fill(this.parts.two, 'Any two', anyTwoVerdict, anyTwo, ...(anyTwoVerdict === 'clear' ? [] : [mend('Mend all pairs', 'all')]));
    fill(this.parts.any, 'Any blend', verdict, anyBlend.what,
      ...(anyBlend.place ? [element('p', { class: 'where' }, `Where: ${anyBlend.place}.`)] : []),
      ...(anyBlend.right ? [element('p', {}, anyBlend.right)] : []),
      ...(blend ? [this.tick()] : []),
      ...(verdict === 'clear' ? [] : [element('div', { class: 'actions' }, mend('Mend for any blend', 'blend'), ...(blend ? [this.enlarge()] : []))]));
  }

  /** @param {import('../page/messages.js').Tolerance} answer */
  showTolerance({ text }) {
    fill(this.parts.tolerance, 'Tolerance', '', text);
  }

  /** @param {string[]} sets */
  showSets(sets) {
    this.parts.sets.hidden = sets.length === 0;
    const [first = '', ...more] = sets;
    fill(this.parts.sets, 'Sets that agree', '', first, ...more.map((text) => element('p', {}, text)));
  }

  tick() {
    const box = /** @type {HTMLInputElement} */ (element('input', { type: 'checkbox', checked: this.draws(), change: () => {
      this.chosen = box.checked;
      this.drawBlend();
    } }));
    return element('label', { class: 'tick' }, box, element('span', {}, 'Draw this blend on the board'));
  }

  enlarge() {
    return button('Show it large', () => {
      this.board.showBlend(this.blend);
      this.controller.act(() => this.board.fitBlend());
    });
  }

  /** A pair that is at fault shows itself; three at once are drawn unless the person says no. */
  draws() {
    return this.chosen ?? (this.blend !== undefined && 2 < this.blend.profiles.length);
  }

  drawBlend() {
    this.controller.act(() => this.board.showBlend(this.draws() ? this.blend : undefined));
  }
}

/**
 * Marks parts as being redone: what they say is of the drawing before.
 * @param {...HTMLElement} parts
 */
function mark(...parts) {
  return (/** @type {boolean} */ redone) => {
    for (const part of parts) part.toggleAttribute('data-redone', redone);
  };
}

/**
 * @param {HTMLElement} part
 * @param {string} title
 * @param {string} verdict may be empty
 * @param {string} text
 * @param {...Node} more
 */
function fill(part, title, verdict, text, ...more) {
  const word = verdict ? [sign(verdict), element('span', { class: 'hidden' }, `${verdict}: `)] : [];
  const redone = element('span', { class: 'redone' }, 'being redone');
  part.replaceChildren(element('h3', {}, ...word, element('span', {}, title), redone), element('p', {}, text), ...more);
}
