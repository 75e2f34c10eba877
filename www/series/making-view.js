// @ts-check
/**
 * The place "Making": the sheet and the limits, the measures of the piece, and
 * whether it keeps the limits. Estimates for design, and said to be.
 */
import { element, sign } from '../page/dom.js';

/** @type {[Exclude<keyof import('./messages.js').Shop, 'draw'>, string][]} */
const LIMITS = [
  ['gauge', 'Gauge of the sheet, mm'], ['density', 'Density, g/cm³'], ['leastDraft', 'Least draft, degrees'], ['cutter', 'Radius of the cutter, mm'],
  ['stepOver', 'Step-over, mm'], ['mostScallop', 'Highest scallop, mm'], ['bendGauges', 'Least bend radius, gauges'],
  ['leastGauge', 'Least gauge after forming, mm'], ['flowStress', 'Flow stress at forming, MPa'], ['mostPressure', 'Most gas pressure, MPa'],
];
/** Those that the material decides. */
const OF_MATERIAL = ['density', 'bendGauges', 'flowStress'];
const DRAWS = { up: 'up the stack or the axis', right: 'to the right of the drawing', back: 'up in the drawing, across a ring' };

export class MakingView {
  /**
   * @param {HTMLElement} place
   * @param {import('./places.js').Places} places
   * @param {import('./messages.js').Shop} shop
   * @param {import('./messages.js').Material[]} materials
   */
  constructor(place, places, shop, materials) {
    this.places = places;
    this.materials = materials;
    this.inputs = LIMITS.map(([name, title]) => {
      const input = /** @type {HTMLInputElement} */ (element('input', { type: 'number', step: 'any', min: '0', change: () => this.changed(name) }));
      input.value = String(shop[name]);
      return { name, title, input };
    });
    this.draw = /** @type {HTMLSelectElement} */ (element('select', { change: () => places.remake() }, ...Object.entries(DRAWS).map(([value, text]) => element('option', { value }, text))));
    this.material = /** @type {HTMLSelectElement} */ (element('select', { change: () => this.takeMaterial() },
      element('option', { value: '' }, 'as given'), ...materials.map((material, index) => element('option', { value: String(index) }, material.name))));
    this.notes = element('ul', { class: 'quiet-text' });
    this.result = element('div', { class: 'making-result' });
    const field = (/** @type {string} */ title, /** @type {HTMLElement} */ input) => element('label', {}, element('span', {}, title), input);
    place.append(
      element('div', { class: 'settings' }, field('Material', this.material), field('Direction of draw', this.draw), ...this.inputs.map(({ title, input }) => field(title, input))),
      this.notes, this.result);
  }

  /**
   * A value was typed: one of the material's own makes it another material.
   * @param {string} name
   */
  changed(name) {
    if (OF_MATERIAL.includes(name)) {
      this.material.value = '';
      this.notes.replaceChildren();
    }
    this.places.remake();
  }

  takeMaterial() {
    const material = this.materials[Number(this.material.value || -1)];
    this.notes.replaceChildren(...(material?.notes ?? []).map((note) => element('li', {}, note)));
    if (!material) return;
    const set = (/** @type {string} */ name, /** @type {number} */ value) => { this.field(name).value = String(value); };
    set('density', material.density);
    set('bendGauges', this.field('gauge').valueAsNumber < material.thick ? material.bend : material.bendThick);
    if (material.flowStress !== undefined) set('flowStress', material.flowStress);
    this.places.remake();
  }

  /** @param {string} name */
  field(name) {
    const found = this.inputs.find((limit) => limit.name === name);
    if (!found) throw new Error(`there is no limit ${name}`);
    return found.input;
  }

  /** @returns {import('./messages.js').Shop} */
  shop() {
    const limits = Object.fromEntries(this.inputs.map(({ name, input }) => [name, input.valueAsNumber || 0]));
    return /** @type {import('./messages.js').Shop} */ ({ draw: this.draw.value, ...limits });
  }

  /** @param {string} text why there is nothing to tell */
  showTrouble(text) {
    this.result.replaceChildren(element('p', {}, text));
  }

  /**
   * @param {string} number
   * @param {import('./messages.js').Making} making
   */
  show(number, { figures, checks, cautions }) {
    const open = new Set([...this.result.querySelectorAll('details[open]')].map((details) => details.getAttribute('data-what')));
    this.result.replaceChildren(
      ...cautions.map((caution) => element('p', { class: 'caution-text' }, caution)),
      frame('Measures', element('table', { class: 'making' }, element('caption', {}, `Measures of piece ${number}`),
        element('tbody', {}, ...figures.map(({ what, figure, note }) => element('tr', {}, element('th', { scope: 'row' }, what), element('td', {}, figure), element('td', { class: 'quiet-text' }, note)))))),
      frame('Checks', element('table', { class: 'making' }, element('caption', {}, `Making checks of piece ${number}: design estimates`),
        element('thead', {}, element('tr', {}, ...['Check', 'Worst', 'Limit', 'Kept', 'How it is worked out'].map((title) => element('th', { scope: 'col' }, title)))),
        element('tbody', {}, ...checks.map((check) => row(check, open.has(check.what)))))));
  }
}

/**
 * @param {string} name
 * @param {HTMLElement} table
 */
function frame(name, table) {
  return element('div', { class: 'making-frame', tabindex: '0', role: 'group', 'aria-label': name }, table);
}

/**
 * @param {import('./messages.js').Making['checks'][number]} check
 * @param {boolean} open
 */
function row(check, open) {
  const { what, worst, limit, passes, basis, place, formula, source, caution } = check;
  const sentences = [formula, `Source: ${source}.`, `${basis}${place ? `; worst ${place}` : ''}.`, caution].filter(Boolean);
  const kept = element('td', { class: 'kept' }, sign(passes ? 'clear' : 'faulty'), passes ? ' kept' : ' not kept');
  return element('tr', {}, element('th', { scope: 'row' }, what), element('td', {}, worst), element('td', {}, limit), kept,
    element('td', {}, element('details', { 'data-what': what, open }, element('summary', {}, 'formula, source, caution', element('span', { class: 'hidden' }, ` of ${what}`)), ...sentences.map((text) => element('p', {}, text)))));
}
