// @ts-check
/**
 * The steps in which stations, blend and rules were set: each can be taken back
 * and done again, with the piece that was shown.
 */
import { button, element } from '../page/dom.js';

/**
 * @typedef {object} Step
 * @property {import('./messages.js').SeriesWish} wish
 * @property {number[] | undefined} shown the profiles of the piece that was shown last, by keys
 * @property {number} [after] how many steps of the drawing were done when the next one of these was taken
 */

export class SeriesSteps {
  /** @param {import('./places.js').Places} places */
  constructor(places) {
    this.places = places;
    /** @type {{past: Step[], future: Step[], now: Step | undefined}} */
    this.held = { past: [], future: [], now: undefined };
    this.backButton = button('Take back', () => this.go('back'), { title: 'Takes back what was set of the series last' });
    this.againButton = button('Do again', () => this.go('again'), { title: 'Does again what was taken back' });
    this.buttons = element('div', { class: 'actions', role: 'group', 'aria-label': 'Steps of the series' }, this.backButton, this.againButton);
    this.tell();
  }

  /**
   * The series as it stands, with no step.
   * @param {import('./messages.js').SeriesWish} wish
   */
  begin(wish) {
    this.held.now = { wish, shown: undefined };
    this.tell();
  }

  /** The person has set something. */
  add() {
    const { past, now } = this.held;
    const wish = this.places.series?.form.snapshot();
    if (!wish || (now && JSON.stringify(now.wish) === JSON.stringify(wish))) return;
    if (now) past.push({ ...now, shown: this.places.shown.before, after: this.places.controller.board.stepsDone() });
    this.held.future = [];
    this.begin(wish);
  }

  /**
   * Whether a step of the series, and not one of the drawing, is the next one back or forward.
   * @param {'back' | 'again'} by
   */
  isTurn(by) {
    const { work, controller: { board } } = this.places;
    const step = (by === 'back' ? this.held.past : this.held.future).at(-1);
    // What is unfinished on the board goes first.
    if (!step || work !== board.work() || board.sketchNodes() || board.onTrial() || board.mendOnTrial() !== null) return false;
    const [after, done] = [step.after ?? 0, board.stepsDone()];
    return by === 'back' ? done <= after : after <= done;
  }

  /**
   * Takes back what was set last, or does again what was taken back.
   * @param {'back' | 'again'} by
   */
  go(by) {
    const { places } = this;
    const { past, future, now } = this.held;
    const [from, to] = by === 'back' ? [past, future] : [future, past];
    const step = from.pop();
    if (!step || !now) return;
    to.push({ ...now, shown: places.shown.before, after: step.after });
    this.held.now = step;
    this.tell();
    places.series?.form.set(step.wish);
    this.focus();
    places.kept.touched = true;
    places.piece = undefined;
    places.shown.before = step.shown;
    places.counting.recount(true);
  }

  /**
   * Other steps take the place of these.
   * @param {SeriesSteps['held']} [held]
   */
  take(held = { past: [], future: [], now: undefined }) {
    this.held = held;
    this.tell();
  }

  tell() {
    this.backButton.disabled = !this.held.past.length;
    this.againButton.disabled = !this.held.future.length;
    this.places.controller.showHistory();
  }

  /** Holds the focus in the place when what had it is gone. */
  focus() {
    const held = document.activeElement;
    if (!held || held === document.body || (held instanceof HTMLButtonElement && held.disabled)) this.hold();
  }

  /** Takes the focus, if there is a step. */
  hold() {
    [this.backButton, this.againButton].find((one) => !one.disabled)?.focus({ preventScroll: true });
  }
}
