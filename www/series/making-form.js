// @ts-check
/**
 * What a workshop has and wants: material, direction of draw, mould, sheet,
 * and the limits of the checks.
 */
import { button, element } from '../page/dom.js';
import { figureField, figureOf } from '../page/figure.js';
import { keep, refill, WORKSHOP } from './kept-fields.js';

/** @typedef {Exclude<keyof import('./messages.js').Shop, 'draw' | 'halves' | 'toolSide' | 'sideways' | 'sheetSide'>} LimitName */

/** @type {[LimitName, string][]} */
const LIMITS = [
  ['gauge', 'Gauge of the sheet, mm'], ['density', 'Density, g/cm³'], ['leastDraft', 'Least draft, degrees'], ['mostBand', 'Band accepted at the parting line, mm'], ['cutter', 'Radius of the cutter, mm'],
  ['stepOver', 'Step-over, mm'], ['mostScallop', 'Highest scallop, mm'], ['mostLeft', 'Left in a sharp valley at most, mm'], ['fillet', 'Fillet assumed on sharp edges, mm'], ['bendGauges', 'Least bend radius, times the gauge'],
  ['leastGauge', 'Least gauge after forming, mm'], ['flowStress', 'Flow stress at forming, MPa'], ['mostPressure', 'Most gas pressure, MPa'],
];
/** Those that may be 0: none is accepted, none is assumed. */
const OR_NOUGHT = ['mostBand', 'mostLeft', 'fillet'];
/** Those that the material decides. */
const OF_MATERIAL = ['density', 'bendGauges', 'flowStress'];
const AXES = { up: [0, 0, 1], right: [1, 0, 0], back: [0, 1, 0] };
const DRAWS = { up: 'up the stack or axis', right: 'right in the drawing', back: 'up in the drawing', other: 'other: x, y, z' };
const SIDEWAYS = { up: 'by levels, up the stack or axis', right: 'right in the drawing', back: 'up in the drawing' };
const HALVES = { one: 'in one part', two: 'in two halves' };
const TOOLS = { outside: 'male: cut from outside', inside: 'female: cut from inside' };
const SHEETS = { middle: 'half to each side', inside: 'inside the skin', outside: 'outside the skin' };

export class MakingForm {
  /**
   * @param {import('./messages.js').Shop} shop
   * @param {import('./messages.js').Material[]} materials
   * @param {{changed: () => void, best: () => void}} acts
   */
  constructor(shop, materials, { changed, best }) {
    this.materials = materials;
    this.changed = () => {
      keep(WORKSHOP, this.fields);
      this.mark();
      changed();
    };
    this.inputs = LIMITS.map(([name, title]) => ({
      name, title, input: number(String(shop[name]), () => this.typed(name), { 'aria-describedby': `wrong-${name}` }), wrong: element('span', { class: 'wrong', id: `wrong-${name}` }),
    }));
    /** What was told of a direction that was taken, until the check has found its worst. */
    this.taken = '';
    this.draw = choice(DRAWS, () => this.chosen());
    this.free = shop.draw.map((part, at) => number(String(part), () => this.changed(), { signed: true, 'aria-label': `Direction of draw, ${'xyz'[at]}` }));
    this.freeFields = element('div', { class: 'free-direction' }, ...this.free.map((input, at) => element('label', {}, 'xyz'[at], input)));
    this.freeFields.hidden = true;
    this.halves = choice(HALVES, () => this.chosen());
    this.best = button('Find the best draw', best);
    this.told = element('p', { class: 'quiet-text', role: 'status' });
    this.tool = choice(TOOLS, () => this.changed());
    this.sideways = choice(SIDEWAYS, () => this.changed());
    this.sheet = choice(SHEETS, () => this.changed());
    this.material = choice({ '': 'as given', ...Object.fromEntries(materials.map((material, index) => [String(index), material.name])) }, () => this.takeMaterial());
    this.notes = element('ul', { class: 'quiet-text' });
    /** All fields by name. @type {import('./kept-fields.js').Fields} */
    this.fields = {
      ...Object.fromEntries(this.inputs.map(({ name, input }) => [name, input])), ...Object.fromEntries(this.free.map((input, at) => ['xyz'[at], input])),
      draw: this.draw, halves: this.halves, tool: this.tool, sideways: this.sideways, sheet: this.sheet, material: this.material,
    };
    refill(WORKSHOP, this.fields);
    const field = (/** @type {string} */ title, /** @type {HTMLElement} */ input, /** @type {Node[]} */ ...more) => element('label', {}, element('span', {}, title), input, ...more);
    const limit = (/** @type {LimitName} */ name) => {
      const { title, input, wrong } = this.input(name);
      return element('div', { class: 'limit-field' }, field(title, input), wrong);
    };
    /** Only two halves part along a line. */
    this.band = limit('mostBand');
    this.follow();
    this.mark();
    const group = (/** @type {string} */ title, /** @type {HTMLElement[]} */ ...fields) => element('fieldset', { class: 'making-group' },
      element('legend', {}, title), element('div', { class: 'settings' }, ...fields));
    this.place = element('div', { class: 'making-form' },
      group('Sheet', field('Material', this.material), ...['gauge', 'density', 'bendGauges'].map((name) => limit(/** @type {LimitName} */ (name))), field('The sheet lies', this.sheet)),
      element('fieldset', { class: 'making-group' }, element('legend', {}, 'Mould'),
        element('div', { class: 'settings' }, field('The mould is', this.tool), field('The mould comes off', this.halves), field('Direction of draw', this.draw), limit('leastDraft'), this.band),
        this.freeFields, element('div', { class: 'actions' }, this.best, this.told)),
      group('Milling', limit('cutter'), limit('stepOver'), field('Passes step over', this.sideways), limit('mostScallop'), limit('mostLeft')),
      group('Forming', limit('fillet'), limit('leastGauge'), limit('flowStress'), limit('mostPressure')),
      this.notes);
  }

  /** @param {LimitName} name */
  input(name) {
    const found = this.inputs.find((limit) => limit.name === name);
    if (!found) throw new Error(`there is no limit ${name}`);
    return found;
  }

  /**
   * A value was typed: one of the material's own makes it another material.
   * @param {LimitName} name
   */
  typed(name) {
    if (OF_MATERIAL.includes(name)) {
      this.material.value = '';
      this.notes.replaceChildren();
    }
    this.changed();
  }

  /** Marks the limits that cannot be, and the flow stress that is of another material. */
  mark() {
    const foreign = this.hasForeignStress();
    for (const { name, input, wrong } of this.inputs) {
      const orNought = OR_NOUGHT.includes(name);
      const bad = !(0 < figureOf(input) || orNought && figureOf(input) === 0);
      input.setAttribute('aria-invalid', String(bad));
      wrong.textContent = bad ? `Give ${orNought ? '0 or ' : ''}a number above 0.` : foreign && name === 'flowStress' ? 'The table has none for this material: confirm it.' : '';
      wrong.classList.toggle('quiet-text', !bad);
    }
    const nowhere = !this.free.some(figureOf);
    for (const input of this.free) input.setAttribute('aria-invalid', String(nowhere));
  }

  /** Whether the flow stress is of another material than the one that is chosen. */
  hasForeignStress() {
    const material = this.materials[Number(this.material.value || -1)];
    return material !== undefined && material.flowStress === undefined;
  }

  /** Another draw or mould. */
  chosen() {
    this.follow();
    this.changed();
  }

  /** Shows what belongs to the choices. */
  follow() {
    this.freeFields.hidden = this.draw.value !== 'other';
    this.band.hidden = this.halves.value === 'one';
    this.best.disabled = this.halves.value === 'two';
    this.told.textContent = this.best.disabled ? 'The best draw is sought for a mould in one part.' : '';
    this.showNotes();
  }

  /** What the table says of the material. */
  showNotes() {
    const material = this.materials[Number(this.material.value || -1)];
    this.notes.replaceChildren(...(material?.notes ?? []).map((note) => element('li', {}, note)));
    return material;
  }

  /** @param {import('./messages.js').BestDraw} best taken as the direction of draw */
  take({ direction, said }) {
    direction.forEach((part, at) => { this.free[at].value = String(part); });
    this.draw.value = 'other';
    this.taken = `${said} It is taken as the direction of draw.`;
    this.chosen();
    this.told.textContent = this.taken;
  }

  /** @param {string} worst that the check finds in the direction that was taken */
  tellFound(worst) {
    if (this.taken) this.told.textContent = `${this.taken} The check, which looks closer, finds ${worst} at worst.`;
    this.taken = '';
  }

  takeMaterial() {
    const material = this.showNotes();
    if (!material) {
      this.changed();
      return;
    }
    const set = (/** @type {LimitName} */ name, /** @type {number} */ value) => { this.input(name).input.value = String(value); };
    set('density', material.density);
    set('bendGauges', figureOf(this.input('gauge').input) < material.thick ? material.bend : material.bendThick);
    if (material.flowStress !== undefined) set('flowStress', material.flowStress);
    this.changed();
  }

  /** @returns {import('./messages.js').Shop} */
  shop() {
    const limits = Object.fromEntries(this.inputs.map(({ name, input }) => [name, figureOf(input) || 0]));
    const axis = (/** @type {string} */ value) => AXES[/** @type {'up'} */ (value)];
    return /** @type {import('./messages.js').Shop} */ ({
      draw: axis(this.draw.value) ?? this.free.map((input) => figureOf(input) || 0), halves: this.halves.value,
      toolSide: this.tool.value, sideways: axis(this.sideways.value), sheetSide: this.sheet.value, ...limits,
    });
  }
}

/**
 * @param {string} value
 * @param {() => void} change
 * @param {Record<string, string | boolean>} [attributes]
 */
function number(value, change, attributes = {}) {
  return figureField({ value, change, ...attributes });
}

/**
 * @param {Record<string, string>} words
 * @param {() => void} change
 */
function choice(words, change) {
  return /** @type {HTMLSelectElement} */ (element('select', { change }, ...Object.entries(words).map(([value, text]) => element('option', { value }, text))));
}
