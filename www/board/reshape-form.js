// @ts-check
/**
 * The active profile scaled, turned and shifted by typed figures, and copies
 * of it that vary.
 */
import { button, element } from '../page/dom.js';
import { figureOf } from '../page/figure.js';
import { numberField, showFigure } from './number-field.js';

const ABOUT = [
  ['middle', 'its middle'], ['foot', 'the middle of its foot'], ['start', 'its first node'],
  ['end', 'its last node'], ['chosen', 'the chosen nodes'], ['origin', 'x 0, y 0'],
];

export class ReshapeForm {
  /**
   * @param {HTMLElement} place
   * @param {import('../page/controller.js').Controller} controller
   */
  constructor(place, controller) {
    this.controller = controller;
    this.board = controller.board;
    /** @type {[number, number]} width and height of the profile, in mm */
    this.size = [0, 0];
    const percent = (/** @type {string} */ label) => numberField(label, { step: '1', signed: true, value: '100', unit: '%', change: () => this.showSize() });
    const mm = (/** @type {number} */ side, /** @type {string} */ label) => numberField('that is', { name: label, unit: 'mm between nodes', change: () => this.fromSize(side) });
    this.scales = [percent('Width'), percent('Height')];
    this.sides = [mm(0, 'Width between nodes, mm'), mm(1, 'Height between nodes, mm')];
    this.turn = numberField('Turn', { step: '1', signed: true, value: '0', unit: '°' });
    this.right = numberField('To the right', { signed: true, value: '0' });
    this.up = numberField('Upward', { signed: true, value: '0' });
    this.about = /** @type {HTMLSelectElement} */ (element('select', {}, ...ABOUT.map(([value, text]) => element('option', { value }, text))));
    this.count = numberField('Copies', { step: '1', value: '3', unit: '' });
    this.wander = numberField('Nodes wander by', { value: '0', unit: 'mm at most' });
    const form = element('form', { class: 'reshape', submit: (/** @type {Event} */ event) => { event.preventDefault(); this.apply(); } },
      element('div', { class: 'figures' }, ...this.scales.map(({ label }, side) => element('span', { class: 'figure-pair' }, label, this.sides[side].label))),
      element('div', { class: 'figures' }, element('label', { class: 'figure' }, element('span', {}, 'About'), this.about), this.turn.label, this.right.label, this.up.label,
        element('button', { type: 'submit' }, 'Change the profile')),
      element('div', { class: 'figures' }, this.count.label, this.wander.label, button('Copy and vary', () => this.copy())),
      element('p', { class: 'help' }, 'Copies change step by step: the second differs from the first as the first does from the profile. Anticlockwise turns count above zero.'),
    );
    place.append(form);
  }

  figures() {
    return {
      about: this.about.value,
      width: figureOf(this.scales[0].input),
      height: figureOf(this.scales[1].input),
      turn: figureOf(this.turn.input),
      right: figureOf(this.right.input),
      up: figureOf(this.up.input),
    };
  }

  apply() {
    this.controller.act(() => {
      this.board.reshape(this.figures());
      this.reset();
    });
  }

  copy() {
    this.controller.act(() => {
      // An emptied field counts as no copy at all, and is refused in words.
      const count = Math.max(0, Math.round(figureOf(this.count.input) || 0));
      this.board.addCopies(this.figures(), count, figureOf(this.wander.input));
      return `${count} ${count === 1 ? 'copy' : 'copies'} added.`;
    });
  }

  /** Back to what changes nothing, so that Enter twice is not a change twice. */
  reset() {
    for (const { input } of this.scales) input.value = '100';
    for (const { input } of [this.turn, this.right, this.up]) input.value = '0';
    this.showSize();
  }

  /** @param {number} side */
  fromSize(side) {
    const wanted = figureOf(this.sides[side].input);
    if (0 < this.size[side] && Number.isFinite(wanted)) this.scales[side].input.value = String(Number((100 * wanted / this.size[side]).toFixed(6)));
    this.showSize();
  }

  showSize() {
    this.sides.forEach(({ input }, side) => {
      const scaled = this.size[side] * figureOf(this.scales[side].input) / 100;
      showFigure(input, Number.isFinite(scaled) ? Math.abs(scaled).toFixed(2) : '');
    });
  }

  update() {
    const [width = 0, height = 0] = this.board.profileSize();
    this.size = [width, height];
    this.showSize();
  }

  /** @param {'figures' | 'copies'} which */
  focus(which) {
    const { input } = which === 'figures' ? this.scales[0] : this.count;
    input.focus();
    input.select();
  }
}
