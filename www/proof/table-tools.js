// @ts-check
/**
 * What may be chosen about the table of pairs: what its cells show, the order
 * of the profiles, whether what is clear stands back; and what its colours mean.
 */
import { button, element } from '../page/dom.js';
import { MARGIN } from '../page/words.js';
import { MARGIN_CLASSES } from './table-cell.js';

const VIEWS = { sections: 'Sections', margins: 'Margins', signs: 'Signs' };

export class TableTools {
  /**
   * @param {HTMLElement} place
   * @param {{changed: () => void, next: () => void}} told
   */
  constructor(place, { changed, next }) {
    this.place = place;
    this.choice = { view: /** @type {'sections' | 'margins' | 'signs'} */ ('sections'), byTrouble: false, onlyTrouble: false };
    const views = element('fieldset', { class: 'choices' }, element('legend', { class: 'hidden' }, 'What the cells show'));
    for (const [view, word] of Object.entries(VIEWS)) {
      const input = element('input', {
        type: 'radio', name: 'table-view', value: view, ...(view === this.choice.view ? { checked: true } : {}),
        change: () => {
          this.choice.view = /** @type {'sections'} */ (view);
          this.legend.hidden = view !== 'margins';
          changed();
        },
      });
      views.append(element('label', { class: 'choice small-choice' }, input, word));
    }
    const order = element('select', { 'aria-label': 'Order of the profiles', change: (/** @type {Event} */ event) => {
      this.choice.byTrouble = /** @type {HTMLSelectElement} */ (event.target).value === 'trouble';
      changed();
    } }, element('option', { value: 'drawn' }, 'As drawn'), element('option', { value: 'trouble' }, 'Most trouble first'));
    const only = element('label', { class: 'tick' }, element('input', { type: 'checkbox', change: (/** @type {Event} */ event) => {
      this.choice.onlyTrouble = /** @type {HTMLInputElement} */ (event.target).checked;
      changed();
    } }), 'Only what is not clear');
    this.note = element('p', { class: 'quiet-text', role: 'status' });
    this.legend = legend();
    this.next = button('Next fault', next);
    place.append(views, order, only, this.next, this.legend, this.note);
  }

  /**
   * Says on the button how many cells are not clear; whether any is.
   * @param {Uint8Array} cells
   */
  faults(cells) {
    const count = cells.filter((verdict, at) => at % 2 === 0 && verdict !== 0).length;
    const text = count ? `Next fault (${count})` : 'Next fault';
    if (this.next.textContent !== text) this.next.textContent = text;
    this.next.classList.toggle('strong', 0 < count);
    return 0 < count;
  }

  /** @param {string} text */
  say(text) {
    this.note.textContent = text;
  }
}

/** What the shades of the margins mean, in figures. */
function legend() {
  const parts = MARGIN_CLASSES.map((least, index) => {
    const next = MARGIN_CLASSES[index + 1];
    const words = index === 0 ? `below ${next}` : next === undefined ? `${least} and more` : `${least} to ${next}`;
    return element('li', {}, element('span', { class: 'swatch', 'data-heat': String(index) }), words);
  });
  return element('ul', { class: 'legend', 'aria-label': `Margin in mm: ${MARGIN}`, hidden: true },
    element('li', {}, 'Margin in mm:'), ...parts, element('li', {}, element('span', { class: 'swatch swatch-faulty' }), 'faulty'));
}
