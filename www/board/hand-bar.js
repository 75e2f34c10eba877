// @ts-check
/**
 * The row above the board: what the pointer does, the grid, the zoom.
 */
import { button, element } from '../page/dom.js';

const HANDS = [
  { text: 'Move', help: 'Drag a node to move it, the curve to move the whole profile, the empty sheet to look elsewhere. Press twice on the curve to insert a node.' },
  { text: 'Place nodes', help: 'Press to set the nodes of a new profile one by one; press the last one again, or Enter, to end it. For a closed profile press the first one again.' },
  { text: 'Draw freely', help: 'Draw a new profile in one stroke; nodes are fitted to it.' },
];

export class HandBar {
  /**
   * @param {HTMLElement} place
   * @param {HTMLElement} help
   * @param {HTMLElement} look where the zoom buttons go
   * @param {import('../page/controller.js').Controller} controller
   */
  constructor(place, help, look, controller) {
    const { board } = controller;
    this.board = board;
    this.help = help;
    this.radios = HANDS.map(({ text }, index) => {
      const radio = /** @type {HTMLInputElement} */ (element('input', {
        type: 'radio', name: 'hand', value: String(index),
        change: () => controller.act(() => board.setHand(index)),
      }));
      return { radio, label: element('label', { class: 'choice' }, radio, element('span', {}, text)) };
    });
    const hands = element('fieldset', { class: 'choices' }, element('legend', { class: 'hidden' }, 'The pointer'), ...this.radios.map(({ label }) => label));
    const snap = element('input', { type: 'checkbox', change: (/** @type {any} */ event) => controller.act(() => board.setSnapping(event.target.checked)) });
    this.closed = /** @type {HTMLInputElement} */ (element('input', { type: 'checkbox', change: (/** @type {any} */ event) => controller.act(() => board.setClosing(event.target.checked)) }));
    this.closedLabel = element('label', { class: 'tick' }, this.closed, 'Closed profiles');
    this.end = button('End sketch', () => controller.act(() => board.endSketch()));
    const zoom = (/** @type {string} */ text, /** @type {string} */ name, /** @type {number} */ factor) =>
      button(text, () => controller.act(() => board.zoom(factor)), { 'aria-label': name, class: 'small' });
    place.append(
      hands, this.end, this.closedLabel,
      element('label', { class: 'tick' }, snap, 'Keep to the grid'),
    );
    look.append(zoom('−', 'Zoom out', 1 / 1.4), zoom('+', 'Zoom in', 1.4), button('Show all', () => controller.act(() => board.fit())));
  }

  /** @param {import('../page/messages.js').Family} family */
  update(family) {
    const hand = this.board.hand();
    this.radios.forEach(({ radio }, index) => { radio.checked = index === hand; });
    this.end.hidden = this.board.sketchNodes() === 0;
    this.closedLabel.hidden = 0 < family.profiles.length;
    this.closed.checked = family.closing;
    this.help.textContent = HANDS[hand].help;
  }
}
