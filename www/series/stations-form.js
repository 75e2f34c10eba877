// @ts-check
/**
 * Where profiles stand: stack or ring, the stations one by one, the blend and
 * the rules.
 */
import { element } from '../page/dom.js';
import { figureField, figureOf } from '../page/figure.js';
import { GoneProfiles } from './gone-profiles.js';
import { byPlace } from './profile-keys.js';
import { StationMemory, evenStep } from './station-memory.js';
import { StationTable, tidy } from './station-table.js';

const FEWEST = 2;
const MOST = 24;
const FIRST = 5;
/** Degrees: first between stations of a ring, and the most that it may take up. */
const RING = { step: 30, most: 350 };

export class StationsForm {
  /**
   * @param {() => number} step the height that suits two stations of the family, in mm
   * @param {() => void} changed
   */
  constructor(step, changed) {
    this.step = step;
    this.changed = changed;
    /** Their profiles are named by keys. @type {import('./messages.js').StationWish[]} */
    this.stations = [];
    this.memory = new StationMemory();
    /** Of the family's profiles, in their order. @type {string[]} */
    this.names = [];
    /** @type {number[]} */
    this.keys = [];
    this.gone = new GoneProfiles();
    this.closed = false;
    /** What of the family is shown. */
    this.shown = '';
    this.setting = select({ stack: 'Stack: one above the other', ring: 'Ring: round an axis', round: 'Ring, closed all round' });
    this.count = figureField({ value: String(FIRST) });
    this.spacing = figureField({});
    this.spacingTitle = element('span');
    this.blend = select({ ruled: 'Ruled: straight from station to station', eased: 'Eased: smooth through every station', 'b-spline-2': 'B-spline of degree 2', 'b-spline-3': 'B-spline of degree 3' });
    this.apart = /** @type {HTMLInputElement} */ (element('input', { type: 'checkbox' }));
    this.table = new StationTable(() => this.tell());
    this.said = element('p', { class: 'refused', role: 'alert', id: 'stations-said' });
    this.said.hidden = true;
    const field = (/** @type {string | HTMLElement} */ title, /** @type {HTMLElement} */ input) => element('label', {}, typeof title === 'string' ? element('span', {}, title) : title, input);
    this.place = element('div', { class: 'stations-form' },
      element('div', { class: 'settings' },
        field('Stations stand as', this.setting), field('How many, 2 to 24', this.count), field(this.spacingTitle, this.spacing), field('Blend', this.blend)), this.said,
      element('label', { class: 'tick' }, this.apart, element('span', {}, 'No profile beside itself')),
      this.gone.place, this.table.place);
    this.setting.addEventListener('change', () => this.recall());
    this.count.addEventListener('change', () => this.recall());
    this.spacing.addEventListener('change', () => this.space());
    for (const input of [this.blend, this.apart]) input.addEventListener('change', () => this.tell());
  }

  /** The person has set something. */
  tell() {
    this.memory.keep(this.setting.value, this.stations);
    this.showSpacing();
    this.gone.show(this.stations, this.keys);
    this.say('');
    this.mark('');
    this.changed();
  }

  /** The stations of another setting or number, as they last stood. */
  recall() {
    const wanted = Math.round(figureOf(this.count));
    const count = Math.min(MOST, Math.max(FEWEST, wanted || this.stations.length || FIRST));
    this.count.value = String(count);
    this.stations = this.memory.recall(this.setting.value, count, this.suitable());
    this.show();
    this.tell();
    if (MOST < wanted) this.say(`A series has at most ${MOST} stations, not ${wanted}: there are ${count} now.`);
    else if (wanted < FEWEST) this.say(`A series has at least ${FEWEST} stations, not ${wanted}: there are ${count} now.`);
  }

  suitable() {
    const count = figureOf(this.count);
    if (this.setting.value === 'stack') return Math.max(1, Math.round(this.step()));
    return this.setting.value === 'ring' ? Math.min(RING.step, Math.floor(RING.most / (count - 1))) : 360 / count;
  }

  /** Places all stations evenly, as far apart as is written. */
  space() {
    const step = figureOf(this.spacing);
    if (step) {
      this.stations = this.memory.even(this.setting.value, this.stations.length, step);
      this.show();
      this.tell();
    } else {
      this.showSpacing();
    }
  }

  showSpacing() {
    const step = evenStep(this.stations);
    this.spacingTitle.textContent = this.setting.value === 'stack' ? 'From one to the next, mm' : 'From one to the next, degrees';
    this.spacing.disabled = this.setting.value === 'round';
    this.spacing.placeholder = step === undefined ? 'uneven' : '';
    this.spacing.value = step === undefined ? '' : String(tidy(step));
  }

  /** @param {string} text what of the settings was not taken; empty for nothing */
  say(text) {
    this.said.textContent = text;
    this.said.hidden = !text;
  }

  /** @param {string} text what is wrong with the stations; empty for nothing */
  mark(text) {
    this.table.mark(text, this.stations.length);
  }

  /** Forgets what was set: stations begin anew for the next family. */
  forget() {
    this.stations = [];
    this.memory = new StationMemory();
    this.count.value = String(FIRST);
    this.blend.value = 'ruled';
    this.apart.checked = false;
  }

  /**
   * Sets all of it, as it was kept.
   * @param {import('./messages.js').SeriesWish} wish its profiles by keys
   */
  set({ ring, allRound, stations, blend, noEqualNeighbours }) {
    this.setting.value = ring ? (allRound ? 'round' : 'ring') : 'stack';
    this.stations = stations.map((station) => ({ ...station }));
    this.count.value = String(stations.length);
    this.blend.value = blend;
    this.apart.checked = noEqualNeighbours;
    this.memory.keep(this.setting.value, this.stations);
    this.say('');
    this.show();
  }

  /**
   * @param {import('../page/messages.js').Family} family
   * @param {number[]} keys of its profiles
   */
  update(family, keys) {
    const names = family.profiles.map((profile, index) => (profile.name ? `${index + 1} ${profile.name}` : String(index + 1)));
    const closed = family.profiles[0]?.closed ?? false;
    const shown = JSON.stringify([names, keys, closed]);
    if (this.stations.length && shown === this.shown) return;
    this.shown = shown;
    this.names = names;
    this.keys = keys;
    this.gone.know(family.profiles, keys);
    this.closed = closed;
    if (this.stations.length) {
      this.show();
    } else {
      this.setting.value = family.settings.placement === 'ring' ? 'round' : 'stack';
      this.stations = this.memory.recall(this.setting.value, figureOf(this.count), this.suitable());
      this.memory.keep(this.setting.value, this.stations);
      this.show();
    }
  }

  show() {
    this.showSpacing();
    this.gone.show(this.stations, this.keys);
    this.table.show({ stations: this.stations, names: this.names, keys: this.keys, closed: this.closed, stack: this.setting.value === 'stack' });
  }

  /**
   * What holds for the family as it is, its profiles by place.
   * @returns {import('./messages.js').SeriesWish}
   */
  wish() {
    const wish = byPlace(this.snapshot(), this.keys);
    return this.closed ? wish : { ...wish, stations: wish.stations.map((station) => ({ ...station, turn: 0 })) };
  }

  /**
   * All that is set, whether it holds for the family or not, its profiles by keys: it stands on, for a step taken back.
   * @returns {import('./messages.js').SeriesWish}
   */
  snapshot() {
    return {
      ring: this.setting.value !== 'stack', allRound: this.setting.value === 'round',
      stations: this.stations.map((station) => ({ ...station })),
      blend: /** @type {'ruled'} */ (this.blend.value), noEqualNeighbours: this.apart.checked,
    };
  }

}

/** @param {Record<string, string>} options */
function select(options) {
  return /** @type {HTMLSelectElement} */ (element('select', {}, ...Object.entries(options).map(([value, text]) => element('option', { value }, text))));
}
