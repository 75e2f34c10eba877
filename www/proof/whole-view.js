// @ts-check
/**
 * The family as a whole, while it is edited: any two of it, any blend of it,
 * the tolerance, the sets that agree. Where that takes too long for a frame it
 * is worked out beside the page, and what stands here is marked as of before.
 */
import { button, element, sign } from '../page/dom.js';
import { Background, Stopped } from '../work/background.js';

/** What may be worked out in the page itself, in milliseconds. */
const BUDGET = 4;
/** In the page it may take this part of the time. */
const SHARE = 0.3;

/** @typedef {import('../page/messages.js').Whole} Whole */

export class WholeView {
  /**
   * @param {HTMLElement} place
   * @param {import('../page/controller.js').Controller} controller
   * @param {() => Worker} hire
   */
  constructor(place, controller, hire) {
    this.place = place;
    this.controller = controller;
    this.board = controller.board;
    this.background = new Background(controller.kernel, hire);
    /** How long it last took, in milliseconds; not known for a family of another size. */
    this.took = Infinity;
    this.size = 0;
    this.due = 0;
    /** Whether the drawing has changed since the work in hand was begun. */
    this.again = false;
    /** The blend that meets itself, as the kernel gave it. @type {Whole['blend']} */
    this.blend = undefined;
    this.draws = true;
    /** What is shown. @type {string} */
    this.shown = '';
    this.status = element('span', { class: 'redone' }, 'being worked out anew');
    this.status.hidden = true;
    this.body = element('div', { class: 'whole-body' });
    this.proofButton = button('Write the proof to a file', () => controller.writeProof());
    place.append(element('h2', {}, element('span', {}, 'The whole family'), this.status), this.body, element('div', { class: 'actions' }, this.proofButton));
  }

  /** The drawing has changed. */
  drawn() {
    const size = this.controller.family?.profiles.length ?? 0;
    if (size !== this.size) this.took = Infinity;
    this.size = size;
    if (size < 2) {
      this.background.stop();
      this.show(null);
      return;
    }
    this.mark(true);
    if (BUDGET < this.took) this.askBeside();
    else this.askHere();
  }

  /** In the page: at once, or when its share of the time allows it. */
  askHere() {
    clearTimeout(this.later);
    const wait = this.due - performance.now();
    if (0 < wait && this.board.isDragging()) {
      this.later = setTimeout(() => this.askHere(), wait);
      return;
    }
    const start = performance.now();
    const whole = /** @type {Whole | null} */ (this.board.wholeFamily());
    const end = performance.now();
    this.took = end - start;
    this.due = start + this.took / SHARE;
    this.show(whole);
    this.mark(false);
  }

  /** Beside the page: one work at a time, and at its end the latest drawing. */
  async askBeside() {
    if (this.background.busy) {
      this.again = true;
      return;
    }
    do {
      this.again = false;
      const code = this.board.shownCode();
      try {
        const { whole, took } = await this.background.ask('whole', { code });
        this.took = took;
        const current = code === this.board.shownCode();
        this.show(whole, current);
        this.mark(!current);
        if (!current) this.again = true;
      } catch (error) {
        if (!(error instanceof Stopped)) this.controller.announcer.refuse(error);
      }
    } while (this.again && 1 < this.size);
  }

  /** @param {boolean} redone whether what stands here is of before */
  mark(redone) {
    this.place.classList.toggle('stale', redone);
    this.status.hidden = !redone;
  }

  /**
   * @param {Whole | null} whole
   * @param {boolean} current whether it is of the drawing as it stands
   */
  show(whole, current = true) {
    this.place.hidden = whole === null;
    this.blend = current ? whole?.blend : undefined;
    this.drawBlend();
    const key = JSON.stringify(whole);
    if (!whole || key === this.shown) return;
    this.shown = key;
    const { anyBlend, anyTwo, anyTwoVerdict, sets, tolerance, toleranceMm, verdict } = whole;
    const mend = (/** @type {string} */ text, /** @type {'all' | 'blend'} */ target) => button(text, () => this.controller.mendView.lookFor(target));
    this.body.replaceChildren(
      part('Any two', anyTwoVerdict, element('p', {}, anyTwo), ...(anyTwoVerdict === 'clear' ? [] : [mend('Mend all pairs', 'all')])),
      part('Any blend', verdict, element('p', {}, anyBlend.what),
        ...(anyBlend.place ? [element('p', { class: 'where' }, `Where: ${anyBlend.place}.`)] : []),
        ...(anyBlend.right ? [element('p', {}, anyBlend.right)] : []),
        ...(whole.blend ? [this.tick()] : []),
        ...(verdict === 'clear' ? [] : [mend('Mend for any blend', 'blend')])),
      part(toleranceMm === undefined ? 'Tolerance' : `Tolerance ${figure(toleranceMm)} mm`, '', element('p', {}, tolerance)),
      ...(sets.length ? [part('Sets that agree', '', ...sets.map((text) => element('p', {}, text)))] : []),
    );
  }

  tick() {
    const box = /** @type {HTMLInputElement} */ (element('input', { type: 'checkbox', checked: this.draws, change: () => {
      this.draws = box.checked;
      this.drawBlend();
    } }));
    return element('label', { class: 'tick' }, box, element('span', {}, 'Draw this blend on the board'));
  }

  drawBlend() {
    this.controller.act(() => this.board.showBlend(this.draws ? this.blend : undefined));
  }
}

/**
 * @param {string} title
 * @param {string} verdict may be empty
 * @param {...Node} children
 */
function part(title, verdict, ...children) {
  const word = verdict ? [sign(verdict), element('span', { class: 'hidden' }, `${verdict}: `)] : [];
  return element('section', { class: 'whole-part' }, element('h3', {}, ...word, element('span', {}, title)), ...children);
}

/** @param {number} mm rounded down, for a tolerance must not be promised */
function figure(mm) {
  return mm < 0.01 ? mm.toPrecision(1) : (Math.floor(mm * 100) / 100).toFixed(2);
}
