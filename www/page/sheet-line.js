// @ts-check
/**
 * One line below the sheet: the totals, the way to the next fault, and what is
 * to be decided about a trial, so that nobody who draws must leave the sheet
 * for them. It says nothing aloud: the totals of the table do.
 */
import { button, element } from './dom.js';

/** Told apart from the buttons of the same word beside the table. */
const FROM = 'from the sheet';

export class SheetLine {
  /**
   * @param {HTMLElement} place
   * @param {import('./controller.js').Controller} controller
   */
  constructor(place, controller) {
    this.place = place;
    this.board = controller.board;
    this.text = element('span', { class: 'sheet-totals' });
    const order = (/** @type {string} */ word, /** @type {() => void} */ act, strong = false) =>
      button(word, act, { ...(strong && { class: 'strong' }), 'aria-label': `${word}, ${FROM}` });
    this.next = order('Next fault', () => controller.pairTable.goToTrouble(), true);
    this.trial = element('span', { class: 'sheet-trial', role: 'group', 'aria-label': `Trial, ${FROM}` },
      'On trial:',
      order('Keep it', () => controller.act(() => this.board.keepTrial()), true),
      order('Go back', () => controller.act(() => this.board.dropTrial())));
    place.append(this.text, this.next, this.trial);
  }

  /**
   * @param {number} profiles how many there are
   * @param {string} totals
   * @param {boolean} trouble whether a pair or a profile is not clear
   */
  update(profiles, totals, trouble) {
    const words = profiles < 2 ? '' : totals;
    if (this.text.textContent !== words) this.text.textContent = words;
    this.next.hidden = !trouble;
    const trying = Boolean(this.board.onTrial()) || this.board.mendOnTrial() !== null;
    const focused = !trying && this.trial.contains(document.activeElement);
    this.trial.hidden = !trying;
    // The button that was pressed is gone: the keyboard stays at the sheet.
    if (focused) document.getElementById('board')?.focus({ preventScroll: true });
  }
}
