// @ts-check
/**
 * What must hold after a mend: the margin, what may move, what is kept.
 */
import { button, element } from '../page/dom.js';
import { figureField, figureOf } from '../page/figure.js';

const KEPT = {
  keepEnds: 'Ends of open profiles stay',
  keepEndTangents: 'Ends of open profiles keep their directions, to half a degree',
  keepHeight: 'Heights stay, to 0.05 mm',
  keepWidth: 'Widths stay, to 0.05 mm',
};
/** Pins named one by one; more are counted. */
const MOST_NAMED = 6;

export class Limits {
  /** @param {import('../page/controller.js').Controller} controller */
  constructor(controller) {
    const { board } = controller;
    this.board = board;
    this.margin = figureField({ step: '0.01', placeholder: '0.2 at most' });
    this.movable = /** @type {HTMLSelectElement} */ (element('select'));
    this.cheapFirst = field({ type: 'checkbox', checked: true });
    this.kept = Object.keys(KEPT).map((name) => field({ type: 'checkbox', name }));
    this.pinned = element('span');
    this.release = button('Release all', () => controller.act(() => board.releasePins()), { class: 'quiet' });
    const tick = (/** @type {HTMLInputElement} */ box, /** @type {string} */ text) => element('label', { class: 'tick' }, box, element('span', {}, text));
    this.details = element('details', { class: 'mend-limits' }, element('summary', {}, 'What must hold'),
      element('div', { class: 'settings' },
        element('label', {}, element('span', {}, 'Margin to be proved, mm; empty: what a workshop can hold'), this.margin),
        element('label', {}, element('span', {}, 'What may move'), this.movable)),
      ...this.kept.map((box) => tick(box, KEPT[/** @type {'keepEnds'} */ (box.name)])),
      tick(this.cheapFirst, 'First try what moves no node: reverse, seam, pace'),
      element('div', { class: 'actions' },
        button('Pin the chosen nodes, or release them', () => controller.act(() => board.togglePins())), this.pinned, this.release));
  }

  /** @param {import('../page/messages.js').Family} family */
  update(family) {
    const names = ['Any profile', ...family.profiles.map((profile, index) => `Only profile ${index + 1}${profile.name ? ` “${profile.name}”` : ''}`)];
    if (names.join('\n') !== this.names) {
      const before = this.movable.value;
      this.names = names.join('\n');
      this.movable.replaceChildren(...names.map((name, index) => element('option', { value: index ? String(index - 1) : '' }, name)));
      this.movable.value = before;
      if (this.movable.selectedIndex < 0) this.movable.value = '';
    }
    const pins = this.pins();
    const named = pins.slice(0, MOST_NAMED).map(([profile, node]) => `node ${node + 1} of profile ${profile + 1}`);
    const more = pins.length - named.length;
    this.pinned.textContent = pins.length ? `Pinned: ${named.join(', ')}${more ? ` and ${more} more` : ''}` : 'No node is pinned';
    this.release.disabled = pins.length === 0;
  }

  /** @returns {[number, number][]} the pinned nodes, as profile and node */
  pins() {
    const flat = this.board.pins();
    return Array.from({ length: flat.length / 2 }, (_, index) => [flat[2 * index], flat[2 * index + 1]]);
  }

  /** @returns {Omit<import('../page/messages.js').MendWish, 'pair' | 'anyBlend' | 'blameFirst'>} */
  wish() {
    const kept = Object.fromEntries(this.kept.map((box) => [box.name, box.checked]));
    return {
      margin: this.margin.value === '' ? null : figureOf(this.margin),
      movable: this.movable.value === '' ? null : [Number(this.movable.value)],
      pinned: this.pins(),
      keepEnds: kept.keepEnds,
      keepEndTangents: kept.keepEndTangents,
      keepHeight: kept.keepHeight,
      keepWidth: kept.keepWidth,
      remediesFirst: this.cheapFirst.checked,
    };
  }
}

/** @param {Record<string, string | boolean>} attributes */
function field(attributes) {
  return /** @type {HTMLInputElement} */ (element('input', attributes));
}
