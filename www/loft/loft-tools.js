// @ts-check
/**
 * What may be chosen about the loft's picture: how the profiles stand and how
 * far apart, what the colours tell, whether rulings and sections are drawn on
 * the skin; and the legend of the colours.
 */
import { element } from '../page/dom.js';
import { figureField, figureOf } from '../page/figure.js';
import { MAPS } from './maps.js';

export class LoftTools {
  /**
   * @param {HTMLElement} place
   * @param {import('../page/controller.js').Controller} controller
   */
  constructor(place, controller) {
    this.controller = controller;
    this.board = controller.board;
    this.map = 0;
    /** The legend as last shown. */
    this.legendShown = '';
    this.grid = true;
    this.standing = choices('How the profiles stand', 'standing', ['Stack', 'Ring'], (index) => this.stand(index));
    this.maps = choices('What the colours tell', 'loft-map', MAPS, (index) => {
      this.map = index;
      controller.loftView.updateSurface();
    });
    this.apart = figureField({ id: 'apart', signed: true, change: () => this.setApart() });
    this.title = element('span', {}, 'Planes apart');
    this.unit = element('span', {}, 'mm');
    const grid = element('label', { class: 'tick' }, element('input', {
      type: 'checkbox', checked: true,
      change: (/** @type {Event} */ event) => {
        this.grid = /** @type {HTMLInputElement} */ (event.target).checked;
        controller.loftView.showGrid(this.grid);
      },
    }), 'Rulings and sections');
    this.legend = element('div', { class: 'map-legend' });
    place.append(this.standing, element('label', { class: 'apart', for: 'apart' }, this.title, this.apart, this.unit), this.maps, grid);
    this.place = place;
  }

  /** @param {number} index 0 stack, 1 ring */
  stand(index) {
    const family = this.controller.family;
    if (!family) return;
    this.controller.act(() => this.board.setSettings({ ...family.settings, placement: index ? 'ring' : 'stack' }));
    this.controller.showAll();
  }

  setApart() {
    const value = figureOf(this.apart);
    const ring = this.isRing();
    this.controller.act(() => {
      if (ring) this.board.setOpening(value);
      else this.board.setRise(0 < value ? value : undefined);
    });
    this.update();
  }

  isRing() {
    return this.controller.family?.settings.placement === 'ring';
  }

  /** The family or the pair has changed. */
  update() {
    const ring = this.isRing();
    this.standing.querySelectorAll('input').forEach((input, index) => { input.checked = index === Number(ring); });
    this.title.textContent = ring ? 'Half-planes apart' : 'Planes apart';
    this.unit.textContent = ring ? 'degrees' : 'mm';
    if (document.activeElement !== this.apart) this.apart.value = String(Math.round((ring ? this.board.opening() : this.board.rise()) * 100) / 100);
  }

  /** @param {import('./maps.js').Scale | undefined} scale */
  showLegend(scale) {
    const key = JSON.stringify(scale?.legend ?? null);
    if (key === this.legendShown) return;
    this.legendShown = key;
    if (!scale) {
      this.legend.replaceChildren(element('p', {}, 'The front of the skin is lighter than its back, so that skin turned over by a fold shows. Faulty skin is tinted; double curves and worst places are drawn on it.'));
      return;
    }
    const { colours, labels, words } = scale.legend;
    const bar = element('div', { class: 'map-bar', 'aria-hidden': 'true' });
    bar.style.background = `linear-gradient(to right, ${colours.join(', ')})`;
    this.legend.replaceChildren(bar, element('div', { class: 'map-labels' }, ...labels.map((label) => element('span', {}, label))), element('p', {}, words));
  }
}

/**
 * @param {string} title
 * @param {string} name
 * @param {string[]} words
 * @param {(index: number) => void} chosen
 */
function choices(title, name, words, chosen) {
  return element('fieldset', { class: 'choices' }, element('legend', { class: 'hidden' }, title), ...words.map((word, index) => element('label', { class: 'choice small-choice' },
    element('input', { type: 'radio', name, ...(index ? {} : { checked: true }), change: () => chosen(index) }), word)));
}
