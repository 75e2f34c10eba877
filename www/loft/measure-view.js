// @ts-check
/**
 * Places of the loft that are kept to be measured: two at most, pointed at in
 * a picture or typed as fractions. It says what the kernel measures there and
 * between them.
 */
import { button, element } from '../page/dom.js';
import { figureField, figureOf } from '../page/figure.js';

const NAMES = ['A', 'B'];

export class MeasureView {
  /**
   * @param {HTMLElement} place
   * @param {import('../page/controller.js').Controller} controller
   */
  constructor(place, controller) {
    this.board = controller.board;
    this.controller = controller;
    /** @type {(import('../page/links.js').LoftPlace | null)[]} */
    this.places = [null, null];
    /** Which is set next. */
    this.next = 0;
    this.fields = NAMES.map((name, index) => this.row(name, index));
    this.between = element('p', { class: 'measured' });
    this.under = element('p', { class: 'quiet-text place-reading', 'aria-hidden': 'true' });
    const help = element('p', { class: 'quiet-text' }, 'Point at the loft or its section to read a place; press to keep it as A, press again for B. Or type the fractions.');
    place.append(element('details', { class: 'folding measure' }, element('summary', {}, 'Measure'), help, ...this.fields.map(({ home }) => home), this.between,
      element('div', { class: 'actions' }, button('Forget both places', () => this.forget(), { class: 'quiet' }))), this.under);
    this.details = /** @type {HTMLDetailsElement} */ (place.querySelector('details'));
  }

  /**
   * @param {string} name
   * @param {number} index
   */
  row(name, index) {
    const field = (/** @type {string} */ word) => figureField({ step: '0.001', 'aria-label': `Place ${name}, ${word}`, change: () => this.typed(index) });
    const [along, across] = ['along', 'across'].map(field);
    const words = element('p', { class: 'measured', role: 'status' });
    const home = element('div', { class: 'measure-row' }, element('b', {}, name), along, element('span', {}, 'along'), across, element('span', {}, 'across'), words);
    return { home, along, across, words };
  }

  /** @param {number} index */
  typed(index) {
    const { along, across } = this.fields[index];
    const values = [figureOf(along), figureOf(across)];
    if (!values.every((value) => 0 <= value && value <= 1)) return;
    this.places[index] = { along: values[0], across: values[1] };
    this.next = 1 - index;
    this.update();
  }

  /**
   * Keeps a place that was pressed.
   * @param {import('../page/links.js').LoftPlace} place
   */
  keep(place) {
    this.details.open = true;
    this.places[this.next] = place;
    this.next = 1 - this.next;
    this.update();
  }

  forget() {
    this.places = [null, null];
    this.next = 0;
    this.update();
  }

  /** The places or the curves have changed. */
  update() {
    this.places.forEach((place, index) => {
      const { along, across, words } = this.fields[index];
      if (place && document.activeElement !== along) along.value = place.along.toFixed(3);
      if (place && document.activeElement !== across) across.value = place.across.toFixed(3);
      if (!place && this.shown?.[index]) along.value = across.value = '';
      words.textContent = place ? this.words(place) : '';
    });
    this.shown = this.places.map(Boolean);
    const [one, other] = this.places;
    const found = one && other ? this.board.measureBetween(one.along, one.across, other.along, other.across) : [];
    this.between.textContent = found.length ? `A to B: ${found[0]} straight; the skin turns by ${found[1]} from one to the other.` : '';
    // While the loft's view is being made it is not there yet.
    this.controller.loftView?.showKept(this.places);
    this.controller.sectionPlot.showKept(this.places);
  }

  /**
   * What lies under the pointer.
   * @param {import('../page/links.js').LoftPlace | null} place
   */
  showPointed(place) {
    this.under.textContent = place ? `${place.along.toFixed(3)} along, ${place.across.toFixed(3)} across: ${this.words(place)}` : '';
  }

  /** @param {import('../page/links.js').LoftPlace} place */
  words({ along, across }) {
    const found = this.board.measureAt(along, across);
    return found.length ? `${found[0]}; twist ${found[1]}; ruling to section ${found[2]}; curvature ${found[3]}` : '';
  }
}
