// @ts-check
/**
 * The stations one by one: where each stands, which profiles may stand there,
 * scale, shift and turn; the field that is wrong is marked.
 */
import { element } from '../page/dom.js';
import { figureField, figureOf } from '../page/figure.js';
import { AllowedProfiles } from './allowed-profiles.js';

const COLUMNS = /** @type {const} */ ([['scale', 'Scale', '0.001'], ['right', 'Shift right, mm', '1'], ['up', 'Shift up, mm', '1'], ['turn', 'Turn, °', '1']]);
/** What a refusal begins with, and the field that it is about. */
const REFUSALS = /** @type {const} */ ([
  [/^station (\d+) at /i, 'at'], [/^station (\d+) has scale/i, 'scale'], [/^station (\d+) is shifted/i, 'right'], [/^station (\d+) is turned/i, 'turn'],
]);
/** The angle of the last station is too large. */
const PAST_FULL_TURN = /^the ring turns through/i;

export class StationTable {
  /** @param {() => void} changed */
  constructor(changed) {
    this.changed = changed;
    this.frame = element('div', { class: 'station-frame', tabindex: '0', role: 'group', 'aria-label': 'Stations one by one' });
    this.place = /** @type {HTMLDetailsElement} */ (element('details', { class: 'folding' }, element('summary', {}, 'Stations one by one: which profiles may stand there, scale, shift, turn'), this.frame));
  }

  /**
   * @param {{stations: import('./messages.js').StationWish[], names: string[], keys: number[], closed: boolean, stack: boolean}} form
   */
  show({ stations, names, keys, closed, stack }) {
    const columns = COLUMNS.filter(([name]) => closed || name !== 'turn');
    const where = stack ? 'Height, mm' : 'Angle, °';
    const titles = ['Station', where, 'Profiles', ...columns.map(([, title]) => title)];
    this.frame.replaceChildren(element('table', { class: 'stations' },
      element('thead', {}, element('tr', {}, ...titles.map((title) => element('th', { scope: 'col' }, title)))),
      element('tbody', {}, ...stations.flatMap((station, index) => this.lines(station, index, { columns, where, names, keys })))));
  }

  /**
   * @param {import('./messages.js').StationWish} station
   * @param {number} index
   * @param {{columns: (typeof COLUMNS[number])[], where: string, names: string[], keys: number[]}} table
   */
  lines(station, index, { columns, where, names, keys }) {
    const number = (/** @type {'at' | 'scale' | 'right' | 'up' | 'turn'} */ name, /** @type {string} */ title, /** @type {string} */ step) => {
      const [what, unit = ''] = title.split(', ');
      const input = figureField({ step, signed: name !== 'scale', 'data-field': `${name} ${index + 1}`, 'aria-label': `${what} of station ${index + 1}${unit && `, ${unit}`}` });
      input.value = String(tidy(station[name]));
      input.addEventListener('change', () => {
        if (!Number.isFinite(figureOf(input))) {
          input.value = String(tidy(station[name]));
          return;
        }
        station[name] = figureOf(input);
        this.changed();
      });
      return input;
    };
    const allowed = new AllowedProfiles(index + 1, { names, keys }, station.allowed, (profiles) => {
      station.allowed = profiles;
      this.changed();
    });
    const inputs = [number('at', where, '1'), allowed.opener, ...columns.map(([name, title, step]) => number(name, title, step))];
    allowed.span(inputs.length + 1);
    return [element('tr', {}, element('th', { scope: 'row' }, String(index + 1)), ...inputs.map((input) => element('td', {}, input))), allowed.line];
  }

  /**
   * Marks the field that a refusal is about.
   * @param {string} text empty for none
   * @param {number} count of stations
   */
  mark(text, count) {
    for (const input of this.frame.querySelectorAll('[aria-invalid]')) for (const name of ['aria-invalid', 'aria-describedby']) input.removeAttribute(name);
    const [found] = REFUSALS.flatMap(([pattern, name]) => {
      const station = text.match(pattern)?.[1];
      return station ? `${name} ${station}` : [];
    });
    const field = PAST_FULL_TURN.test(text) ? `at ${count}` : found;
    const input = field && this.frame.querySelector(`[data-field="${field}"]`);
    if (!input) return;
    input.setAttribute('aria-invalid', 'true');
    input.setAttribute('aria-describedby', 'series-refused');
    this.place.open = true;
  }
}

/**
 * A figure as it is shown.
 * @param {number} value
 */
export function tidy(value) {
  return Math.round(value * 1e6) / 1e6;
}
