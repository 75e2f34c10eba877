// @ts-check
/**
 * A lift-out to be worked out: the calibration of the bath, how the piece
 * hangs, voltage against height, time; the patch of a trial strip that
 * calibrates the bath; and the volts of a wished colour.
 */
import { button, element } from '../page/dom.js';
import { figureField, figureOf } from '../page/figure.js';
import { keep, refill } from './kept-fields.js';
import { WishedForm } from './wished-form.js';

/** @type {[Exclude<keyof import('./messages.js').FinishWish, 'over' | 'stops' | 'minutes' | 'rows'>, string][]} */
const BATH = [
  ['nmPerVolt', 'Film grown, nm per volt'], ['lowest', 'At least, nm per volt'], ['highest', 'At most, nm per volt'],
  ['start', 'Film before, nm'], ['oxide', 'Index of the oxide'],
];
/** What the bath and its supply can do: empty where it is not known. @type {['aslant' | 'linearTo' | 'breakdown' | 'rise' | 'current', string][]} */
const LIMITS = [
  ['aslant', 'Seen aslant at, degrees'], ['linearTo', 'Growth is linear up to, V'], ['breakdown', 'The bath breaks down at, V'],
  ['rise', 'The supply rises by at most, V a second'], ['current', 'The supply gives at most, A'],
];
/** Where the fields are kept: those of the bath, for stops are the piece's. */
const KEY = 'loftkin.bath';
const HUNG = { '': 'as it is drawn: top leaves first', over: 'turned over: foot leaves first' };

export class FinishForm {
  /**
   * @param {import('./messages.js').FinishWish} usual
   * @param {{changed: () => void, patch: (patch: {film: number, volts: number, percent: number}) => void, wished: (colour: string) => void}} acts
   */
  constructor(usual, { changed, patch, wished }) {
    this.changed = () => {
      keep(KEY, this.fields);
      changed();
    };
    this.bath = BATH.map(([name, title]) => ({ name, title, input: number(usual[name] ?? '', () => this.changeBath()) }));
    this.limits = LIMITS.map(([name, title]) => ({ name, title, input: number(usual[name] ?? '', () => this.changeBath()) }));
    this.hung = /** @type {HTMLSelectElement} */ (element('select', { change: () => this.turnOver() }, ...Object.entries(HUNG).map(([value, text]) => element('option', { value }, text))));
    this.minutes = number(usual.minutes, () => this.changed());
    this.rows = number(usual.rows, () => this.changed());
    /** @type {import('./kept-fields.js').Fields} */
    this.fields = { ...Object.fromEntries([...this.bath, ...this.limits].map(({ name, input }) => [name, input])), minutes: this.minutes, rows: this.rows };
    refill(KEY, this.fields);
    this.stops = usual.stops.map((stop) => ({ ...stop }));
    this.stopBody = element('tbody', {});
    this.wished = new WishedForm({ ask: wished, set: (stop, volts) => this.setVolts(stop, volts) });
    this.film = /** @type {HTMLInputElement} */ (element('input', { type: 'range', min: '1', max: '400', step: '1', 'aria-label': 'Film that the colour of the patch shows, nm', input: () => this.showFilm() }));
    this.film.value = '60';
    this.filmTold = element('output', {});
    this.chart = element('div', { class: 'map-bar film-chart', 'aria-hidden': 'true' });
    this.volts = number(25, () => {});
    this.percent = number(10, () => {});
    const field = (/** @type {string} */ title, /** @type {HTMLElement} */ input) => element('label', {}, element('span', {}, title), input);
    const group = (/** @type {string} */ title, /** @type {Node[]} */ ...parts) => element('fieldset', { class: 'making-group' }, element('legend', {}, title), ...parts);
    this.place = element('div', { class: 'making-form' },
      group('Calibration of your bath', element('div', { class: 'settings' }, ...this.bath.map(({ title, input }) => field(title, input))),
        element('details', { class: 'patch' }, element('summary', {}, 'Calibrate by a patch of a trial strip'),
          element('p', { class: 'quiet-text' }, 'Grow one patch at a known voltage, hold it beside the screen in daylight, and move the slider to its colour. The colours come round again with thicker films: start with a low voltage.'),
          this.chart, this.film, element('div', { class: 'settings' }, field('Grown at, V', this.volts), field('Unsure by, percent', this.percent)),
          element('div', { class: 'actions' }, this.filmTold, button('Take the patch', () => patch({ film: this.film.valueAsNumber, volts: figureOf(this.volts) || 0, percent: figureOf(this.percent) || 0 }))))),
      group('Bath and supply', element('p', { class: 'quiet-text' }, 'Measure these or take them from data sheets; what is left empty is not checked.'), element('div', { class: 'settings' }, ...this.limits.map(({ title, input }) => field(title, input)))),
      group('Lift-out', element('div', { class: 'settings' }, field('The piece hangs', this.hung), field('Lift-out takes, minutes', this.minutes), field('Lines of the table', this.rows)),
        element('table', { class: 'stations stops' }, element('caption', { class: 'hidden' }, 'Stops, from what leaves the bath first'),
          element('thead', {}, element('tr', {}, ...['Stop', 'Height, mm', 'Volts', ''].map((title) => (title ? element('th', { scope: 'col' }, title) : element('td', {}))))), this.stopBody),
        element('div', { class: 'actions' }, button('Add a stop', () => this.addStop()))),
      this.wished.place);
    this.showStops();
    this.showFilm();
  }

  /** @param {string[]} colours @param {number} to nm */
  showChart(colours, to) {
    this.film.max = String(to);
    this.chart.style.background = `linear-gradient(to right, ${colours.join(', ')})`;
    this.wished.showChart(colours);
  }

  showFilm() {
    this.filmTold.textContent = `The patch shows a film of ${this.film.value} nm.`;
  }

  showStops() {
    this.stopBody.replaceChildren(...this.stops.map((stop, at) => {
      const typed = (/** @type {'height' | 'volts'} */ name, /** @type {string} */ title) => number(stop[name], (input) => {
        stop[name] = figureOf(input) || 0;
        this.wished.forget();
        this.wished.showStops(this.stops);
        this.changed();
      }, { signed: name === 'height', 'aria-label': `${title} of stop ${at + 1}`, focus: () => this.wished.choose(at) });
      const drop = button('Remove', () => this.removeStop(at), { 'aria-label': `Remove stop ${at + 1}`, class: 'quiet' });
      drop.disabled = this.stops.length <= 2;
      return element('tr', {}, element('th', { scope: 'row' }, String(at + 1)), element('td', {}, typed('height', 'Height')), element('td', {}, typed('volts', 'Volts')), element('td', {}, drop));
    }));
    this.wished.showStops(this.stops);
  }

  changeBath() {
    this.changed();
    this.wished.again();
  }

  /**
   * As one of the films near a wished colour has it.
   * @param {number} at
   * @param {number} volts
   */
  setVolts(at, volts) {
    const stop = this.stops[at];
    if (!stop) return;
    this.wished.showGiven(at, { volts, before: stop.volts });
    stop.volts = volts;
    this.showStops();
    this.changed();
  }

  /** Half way between the last two. */
  addStop() {
    const [one, last] = this.stops.slice(-2);
    const middle = { height: round((one.height + last.height) / 2), volts: round((one.volts + last.volts) / 2) };
    this.stops.splice(-1, 0, middle);
    this.reorder();
  }

  /** @param {number} at */
  removeStop(at) {
    this.stops.splice(at, 1);
    this.reorder();
  }

  /** The other end leaves the bath first: the stops change their order, each height keeps its voltage. */
  turnOver() {
    this.stops.reverse();
    this.reorder();
  }

  /** Shows stops that have other numbers now. */
  reorder() {
    this.wished.forget();
    this.showStops();
    this.changed();
  }

  /** @param {Float64Array} found nm per volt, least and most */
  take([rate, lowest, highest]) {
    const set = (/** @type {string} */ name, /** @type {number} */ value) => {
      const found = this.bath.find((one) => one.name === name);
      if (found) found.input.value = String(value);
    };
    set('nmPerVolt', round(rate));
    set('lowest', Math.min(round(lowest), round(rate)));
    set('highest', Math.max(round(highest), round(rate)));
    set('start', 0);
    this.changeBath();
  }

  /** @returns {import('./messages.js').FinishWish} */
  wish() {
    const bath = Object.fromEntries(this.bath.map(({ name, input }) => [name, figureOf(input) || 0]));
    return /** @type {import('./messages.js').FinishWish} */ ({
      ...bath, ...Object.fromEntries(this.limits.map(({ name, input }) => [name, input.value === '' ? undefined : figureOf(input) || 0])), over: this.hung.value === 'over', stops: this.stops, minutes: figureOf(this.minutes) || 0, rows: Math.max(0, Math.round(figureOf(this.rows)) || 0),
    });
  }
}

/** @param {number} value to the hundredth */
function round(value) {
  return Math.round(100 * value) / 100;
}

/**
 * @param {number | ''} value
 * @param {(input: HTMLInputElement) => void} change
 * @param {Record<string, string | boolean | (() => void)>} [attributes]
 */
function number(value, change, attributes = {}) {
  const input = figureField({ value: String(value), change: () => change(input), ...attributes });
  return input;
}
