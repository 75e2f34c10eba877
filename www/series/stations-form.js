// @ts-check
/**
 * Where profiles stand: stack or ring, the stations one by one, the blend and
 * the rules.
 */
import { element } from '../page/dom.js';
import { AllowedProfiles } from './allowed-profiles.js';

const FEWEST = 2;
const MOST = 24;
const FIRST = 5;
const COLUMNS = /** @type {const} */ ([['scale', 'Scale', '0.001'], ['right', 'Shift right, mm', 'any'], ['up', 'Shift up, mm', 'any'], ['turn', 'Turn, °', 'any']]);
/** @typedef {import('./messages.js').StationWish} StationWish */

/** @type {StationWish} */
const AS_DRAWN = { at: 0, scale: 1, right: 0, up: 0, turn: 0, allowed: null };

export class StationsForm {
  /**
   * @param {() => number} step the height that suits two stations of the family, in mm
   * @param {() => void} changed
   */
  constructor(step, changed) {
    this.step = step;
    this.changed = changed;
    /** @type {StationWish[]} */
    this.stations = [];
    /** @type {string[]} */
    this.names = [];
    this.closed = false;
    /** What of the family is shown. */
    this.shown = '';
    this.setting = select({ stack: 'Stack: one above the other', ring: 'Ring: round an axis', round: 'Ring, closed all round' });
    this.count = /** @type {HTMLInputElement} */ (element('input', { type: 'number', min: String(FEWEST), max: String(MOST), value: String(FIRST) }));
    this.spacing = /** @type {HTMLInputElement} */ (element('input', { type: 'number', min: '0.01', step: 'any' }));
    this.spacingTitle = element('span');
    this.blend = select({ ruled: 'Ruled: straight from station to station', eased: 'Eased: smooth through every station', 'b-spline-2': 'B-spline of degree 2', 'b-spline-3': 'B-spline of degree 3' });
    this.apart = /** @type {HTMLInputElement} */ (element('input', { type: 'checkbox' }));
    this.table = element('div', { class: 'station-frame', tabindex: '0', role: 'group', 'aria-label': 'Stations one by one' });
    const field = (/** @type {string | HTMLElement} */ title, /** @type {HTMLElement} */ input) => element('label', {}, typeof title === 'string' ? element('span', {}, title) : title, input);
    this.place = element('div', { class: 'stations-form' },
      element('div', { class: 'settings' },
        field('Stations stand as', this.setting), field('How many, 2 to 24', this.count), field(this.spacingTitle, this.spacing), field('Blend', this.blend)),
      element('label', { class: 'tick' }, this.apart, element('span', {}, 'No profile beside itself')),
      element('details', { class: 'folding' }, element('summary', {}, 'Stations one by one: which profiles may stand there, scale, shift, turn'), this.table));
    this.setting.addEventListener('change', () => this.begin());
    for (const input of [this.count, this.spacing]) input.addEventListener('change', () => { this.space(); changed(); });
    for (const input of [this.blend, this.apart]) input.addEventListener('change', changed);
  }

  /** Another kind of stations, evenly spaced as it wants it. */
  begin() {
    this.spacing.value = String(this.suitable());
    this.space();
    this.changed();
  }

  suitable() {
    if (this.setting.value === 'stack') return Math.max(1, Math.round(this.step()));
    return this.setting.value === 'ring' ? 30 : 0;
  }

  /** Places all stations evenly. */
  space() {
    const count = Math.min(MOST, Math.max(FEWEST, Math.round(this.count.valueAsNumber) || FIRST));
    this.count.value = String(count);
    const round = this.setting.value === 'round';
    const step = round ? 360 / count : this.spacing.valueAsNumber || this.suitable();
    this.showSpacing(step);
    this.stations = Array.from({ length: count }, (_, index) => ({ ...(this.stations[index] ?? AS_DRAWN), at: index * step }));
    this.show();
  }

  /** @param {number} step */
  showSpacing(step) {
    this.spacingTitle.textContent = this.setting.value === 'stack' ? 'From one to the next, mm' : 'From one to the next, degrees';
    this.spacing.disabled = this.setting.value === 'round';
    this.spacing.value = String(tidy(step));
  }

  /** Forgets what was set: stations begin anew for the next family. */
  forget() {
    this.stations = [];
    this.count.value = String(FIRST);
    this.blend.value = 'ruled';
    this.apart.checked = false;
  }

  /**
   * Sets all of it, as it was kept.
   * @param {import('./messages.js').SeriesWish} wish
   */
  set({ ring, allRound, stations, blend, noEqualNeighbours }) {
    this.setting.value = ring ? (allRound ? 'round' : 'ring') : 'stack';
    this.stations = stations;
    this.count.value = String(stations.length);
    this.blend.value = blend;
    this.apart.checked = noEqualNeighbours;
    this.showSpacing(1 < stations.length ? stations[1].at - stations[0].at : this.suitable());
    this.show();
  }

  /** @param {import('../page/messages.js').Family} family */
  update(family) {
    const names = family.profiles.map((profile, index) => (profile.name ? `${index + 1} ${profile.name}` : String(index + 1)));
    const closed = family.profiles[0]?.closed ?? false;
    const key = JSON.stringify([names, closed]);
    if (this.stations.length && key === this.shown) return;
    this.shown = key;
    this.names = names;
    this.closed = closed;
    if (this.stations.length) {
      this.show();
    } else {
      this.setting.value = family.settings.placement === 'ring' ? 'round' : 'stack';
      this.spacing.value = String(this.suitable());
      this.space();
    }
  }

  show() {
    const columns = COLUMNS.filter(([name]) => this.closed || name !== 'turn');
    const titles = ['Station', this.placeTitle(), 'Profiles', ...columns.map(([, title]) => title)];
    this.table.replaceChildren(element('table', { class: 'stations' },
      element('thead', {}, element('tr', {}, ...titles.map((title) => element('th', { scope: 'col' }, title)))),
      element('tbody', {}, ...this.stations.flatMap((station, index) => this.lines(station, index, columns)))));
  }

  placeTitle() {
    return this.setting.value === 'stack' ? 'Height, mm' : 'Angle, °';
  }

  /**
   * @param {StationWish} station
   * @param {number} index
   * @param {(typeof COLUMNS[number])[]} columns
   */
  lines(station, index, columns) {
    const number = (/** @type {'at' | 'scale' | 'right' | 'up' | 'turn'} */ name, /** @type {string} */ title, /** @type {string} */ step) => {
      const [what, unit = ''] = title.split(', ');
      const input = /** @type {HTMLInputElement} */ (element('input', { type: 'number', step, 'aria-label': `${what} of station ${index + 1}${unit && `, ${unit}`}` }));
      input.value = String(tidy(station[name]));
      input.addEventListener('change', () => {
        if (Number.isFinite(input.valueAsNumber)) station[name] = input.valueAsNumber;
        else input.value = String(station[name]);
        this.changed();
      });
      return input;
    };
    const allowed = new AllowedProfiles(index + 1, this.names, station.allowed, (profiles) => {
      station.allowed = profiles;
      this.changed();
    });
    const inputs = [number('at', this.placeTitle(), 'any'), allowed.opener, ...columns.map(([name, title, step]) => number(name, title, step))];
    allowed.span(inputs.length + 1);
    return [element('tr', {}, element('th', { scope: 'row' }, String(index + 1)), ...inputs.map((input) => element('td', {}, input))), allowed.line];
  }

  /** @returns {import('./messages.js').SeriesWish} */
  wish() {
    return {
      ring: this.setting.value !== 'stack', allRound: this.setting.value === 'round',
      stations: this.stations.map((station) => this.standing(station)),
      blend: /** @type {'ruled'} */ (this.blend.value), noEqualNeighbours: this.apart.checked,
    };
  }

  /**
   * What of a station holds for the family as it is: what was set stands on, for a step taken back.
   * @param {StationWish} station
   * @returns {StationWish}
   */
  standing(station) {
    const there = station.allowed?.filter((profile) => profile < this.names.length);
    return { ...station, turn: this.closed ? station.turn : 0, allowed: there?.length ? there : station.allowed };
  }
}

/** @param {number} value */
function tidy(value) {
  return Math.round(value * 1e6) / 1e6;
}

/** @param {Record<string, string>} options */
function select(options) {
  return /** @type {HTMLSelectElement} */ (element('select', {}, ...Object.entries(options).map(([value, text]) => element('option', { value }, text))));
}
