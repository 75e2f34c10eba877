// @ts-check
/**
 * A wished colour, chosen or pointed at in the chart of films: which films come
 * near it, at which voltages, and one press that gives a stop such a voltage.
 */
import { button, element } from '../page/dom.js';

/** @typedef {{height: number, volts: number}} Stop */

export class WishedForm {
  /** @param {{ask: (colour: string) => void, set: (stop: number, volts: number) => void}} acts */
  constructor({ ask, set }) {
    this.ask = ask;
    this.set = set;
    /** Colours of films, one a nm. @type {string[]} */
    this.colours = [];
    /** What gives a stop the volts of a film. @type {{give: HTMLButtonElement, volts: number}[]} */
    this.gives = [];
    const colour = '#3f6fb0';
    this.picked = input({ type: 'color', value: colour, change: () => this.wish(this.picked.value) });
    this.typed = input({ type: 'text', value: colour, maxlength: '7', spellcheck: 'false', autocomplete: 'off', change: () => this.wish(this.typed.value) });
    this.film = input({ type: 'range', min: '0', max: '400', step: '1', value: '50', 'aria-label': 'Film whose colour is wished, nm', input: () => this.point(), change: () => this.again() });
    this.filmTold = element('output', {});
    this.chart = element('div', { class: 'map-bar film-chart', 'aria-hidden': 'true' });
    this.stop = /** @type {HTMLSelectElement} */ (element('select', { change: () => this.nameStop() }));
    this.said = element('p', { role: 'status' });
    this.films = element('ul', { class: 'near-films' });
    this.given = element('div', { class: 'actions', role: 'status' });
    this.notes = element('div', { class: 'quiet-text' });
    const field = (/** @type {string} */ title, /** @type {HTMLElement} */ of) => element('label', {}, element('span', {}, title), of);
    this.place = /** @type {HTMLDetailsElement} */ (element('details', { class: 'patch', toggle: () => this.again() }, element('summary', {}, 'Find the volts of a colour'),
      element('p', { class: 'quiet-text' }, 'Choose a colour, or move the slider to a film that has it. Colours come round again with thicker films.'),
      this.chart, this.film, this.filmTold,
      element('div', { class: 'settings' }, field('Colour wished', this.picked), field('The same in digits', this.typed), field('Stop that gets the volts', this.stop)),
      this.said, this.films, this.given, this.notes));
  }

  /** @param {string[]} colours of films, one a nm */
  showChart(colours) {
    this.colours = colours;
    this.film.max = String(colours.length - 1);
    this.chart.style.background = `linear-gradient(to right, ${colours.join(', ')})`;
  }

  /** @param {Stop[]} stops */
  showStops(stops) {
    const chosen = Math.max(0, Math.min(this.stop.selectedIndex, stops.length - 1));
    this.stop.replaceChildren(...stops.map(({ height }, at) => element('option', {}, `${at + 1}, at ${height} mm`)));
    this.choose(chosen);
  }

  /** @param {number} stop */
  choose(stop) {
    this.stop.selectedIndex = stop;
    this.nameStop();
  }

  nameStop() {
    for (const { give, volts } of this.gives) give.textContent = `Set stop ${this.stop.selectedIndex + 1} to ${volts} V`;
  }

  /** Takes the colour of the film under the slider. */
  point() {
    this.filmTold.textContent = `A film of ${this.film.value} nm.`;
    const colour = this.colours[this.film.valueAsNumber];
    if (colour) this.picked.value = this.typed.value = colour;
  }

  /** @param {string} colour chosen, or typed */
  wish(colour) {
    this.typed.value = colour;
    this.filmTold.textContent = '';
    const digits = /^#?([0-9a-f]{6})$/i.exec(colour.trim());
    if (digits) this.picked.value = `#${digits[1]}`;
    this.again();
  }

  /** Asks anew, when it is open. */
  again() {
    if (this.place.open) this.ask(this.typed.value);
  }

  /** @param {import('./messages.js').Wished} answer */
  show({ colour: wished, said, films, notes }) {
    this.said.textContent = said;
    this.notes.replaceChildren(...notes.map((text) => element('p', {}, text)));
    const swatch = (/** @type {string} */ colour) => {
      const made = element('span', { class: 'swatch' });
      made.style.background = colour;
      return made;
    };
    this.gives = films.map(({ volts }) => ({ give: button('', () => this.set(this.stop.selectedIndex, volts)), volts }));
    this.films.replaceChildren(...films.map((film, at) => element('li', {},
      element('span', { 'aria-hidden': 'true' }, swatch(wished), swatch(film.colour)), element('span', {}, film.said), this.gives[at].give)));
    this.nameStop();
  }

  /** @param {string} text */
  refuse(text) {
    this.show({ colour: '', said: text, films: [], notes: [] });
  }

  /**
   * Says what a stop has got, and offers what it had.
   * @param {number} stop
   * @param {{volts: number, before: number}} change
   */
  showGiven(stop, { volts, before }) {
    const back = button('Put it back', () => {
      this.set(stop, before);
      this.forget();
      this.stop.focus();
    });
    this.given.replaceChildren(element('span', {}, `Stop ${stop + 1} has ${volts} V; it had ${before} V.`), back);
  }

  /** What a stop had is no longer offered. */
  forget() {
    this.given.replaceChildren();
  }
}

/** @param {Record<string, string | (() => void)>} attributes */
function input(attributes) {
  return /** @type {HTMLInputElement} */ (element('input', attributes));
}
