// @ts-check
/**
 * What is shown on the sheet besides the curves: other profiles, tangents,
 * bend, and the reference picture with its figures.
 */
import { button, element } from '../page/dom.js';
import { figureOf } from '../page/figure.js';
import { numberField, showFigure } from './number-field.js';
import { KINDS } from './reference-picture.js';

const LOOKS = ['Other profiles', 'Tangents at the nodes', 'How the profile bends'];
const PICTURE = 5;

export class SheetPanel {
  /**
   * @param {HTMLElement} place
   * @param {import('../page/controller.js').Controller} controller
   * @param {import('./reference-picture.js').ReferencePicture} picture
   */
  constructor(place, controller, picture) {
    this.controller = controller;
    this.board = controller.board;
    this.picture = picture;
    this.looks = LOOKS.map((text) => {
      const box = /** @type {HTMLInputElement} */ (element('input', { type: 'checkbox', change: () => this.show() }));
      return { box, label: element('label', { class: 'tick' }, box, text) };
    });
    this.choose = button('Lay a picture under the curves', () => this.pick());
    const place1 = () => this.put();
    this.x = numberField('x', { name: 'x of the picture, mm', signed: true, change: place1 });
    this.y = numberField('y', { name: 'y of the picture, mm', signed: true, change: place1 });
    this.width = numberField('Width', { name: 'Width of the picture, mm', change: place1 });
    this.strength = /** @type {HTMLInputElement} */ (element('input', { type: 'range', min: '0', max: '100', step: '5', input: place1 }));
    const act = (/** @type {() => void} */ what) => () => controller.act(what);
    this.figures = element('div', { class: 'figures' },
      element('label', { class: 'figure' }, element('span', {}, 'Strength'), this.strength),
      this.x.label, this.y.label, this.width.label,
      button('Move by hand', act(() => this.board.setHand(PICTURE))),
      button('Remove the picture', act(() => picture.remove())),
    );
    place.append(
      element('fieldset', { class: 'ticks' }, element('legend', {}, 'Show'), ...this.looks.map(({ label }) => label)),
      element('h3', {}, 'Reference picture'), this.choose, this.figures,
      element('p', { class: 'help' }, 'The picture stays in this browser: it is in no link and in no file, and no step of the history.'),
    );
  }

  show() {
    const [siblings, tangents, bend] = this.looks.map(({ box }) => box.checked);
    this.controller.act(() => this.board.setLooks(siblings, tangents, bend));
  }

  /** Lets a person pick a picture; a file that is too large is not read. */
  pick() {
    const input = /** @type {HTMLInputElement} */ (element('input', { type: 'file', accept: KINDS.join(',') }));
    input.addEventListener('change', () => {
      const file = input.files?.[0];
      if (file) this.picture.lay(file, file.name);
    });
    input.click();
  }

  put() {
    const { x, y, width, strength } = this;
    this.controller.act(() => this.board.placeReference(figureOf(x.input), figureOf(y.input), figureOf(width.input), strength.valueAsNumber / 100));
    this.update();
  }

  update() {
    const looks = this.board.looks();
    this.looks.forEach(({ box }, index) => { box.checked = looks[index] === 1; });
    const laid = this.board.reference();
    this.figures.hidden = laid.length === 0;
    this.choose.textContent = laid.length ? 'Lay another picture' : 'Lay a picture under the curves';
    if (!laid.length) return;
    const [x, y, width, , strength] = laid;
    showFigure(this.x.input, x.toFixed(2));
    showFigure(this.y.input, y.toFixed(2));
    showFigure(this.width.input, width.toFixed(2));
    this.strength.value = String(Math.round(strength * 100));
    this.strength.setAttribute('aria-valuetext', `${this.strength.value} %`);
  }
}
