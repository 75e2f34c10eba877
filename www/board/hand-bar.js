// @ts-check
/**
 * The row above the board: what the pointer does and how, the grid, the zoom.
 */
import { button, byId, element } from '../page/dom.js';
import { figureField } from '../page/figure.js';
import { HANDS } from './hands.js';
import { keysHint } from './keys.js';
import { figureIn, numberField, showFigure } from './number-field.js';

const [SCALE, PLACE, STROKE, PICTURE] = [4, 1, 2, 5];

export class HandBar {
  /**
   * @param {HTMLElement} place
   * @param {HTMLElement} help
   * @param {import('../page/controller.js').Controller} controller
   */
  constructor(place, help, controller) {
    const { board } = controller;
    this.board = board;
    this.help = help;
    this.hint = byId('key-hint');
    this.radios = HANDS.map(({ text, hand }) => {
      const radio = /** @type {HTMLInputElement} */ (element('input', {
        type: 'radio', name: 'hand', value: String(hand),
        change: () => controller.act(() => board.setHand(hand)),
      }));
      return { hand, radio, label: element('label', { class: 'choice' }, radio, element('span', {}, text)) };
    });
    const hands = element('fieldset', { class: 'choices' }, element('legend', { class: 'hidden' }, 'The pointer'), ...this.radios.map(({ label }) => label));
    const tick = (/** @type {string} */ text, /** @type {(on: boolean) => void} */ set) => {
      const box = /** @type {HTMLInputElement} */ (element('input', { type: 'checkbox', change: () => controller.act(() => set(box.checked)) }));
      return { box, label: element('label', { class: 'tick' }, box, text) };
    };
    this.closed = tick('Closed profiles', (on) => board.setClosing(on));
    this.middle = tick('About the middle', (on) => board.setAboutMiddle(on));
    this.snap = tick('Keep to the grid of', (on) => board.setSnapping(on));
    this.end = button('End sketch', () => controller.act(() => board.endSketch()));
    this.tolerance = numberField('Tolerance', { optional: true, change: () => controller.act(() => board.chooseTolerance(figureIn(this.tolerance.input))) });
    this.step = figureField({
      step: '0.01', 'aria-label': 'Step of the grid, mm', class: 'short', title: 'Leave it empty to let the grid follow the zoom',
      change: () => controller.act(() => board.chooseGridStep(figureIn(this.step))),
    });
    const grid = element('span', { class: 'grid-step' }, this.snap.label, this.step, element('span', { class: 'unit' }, 'mm'));
    // What comes and goes shares one place with what is never there at the same time, so that the sheet stays put.
    const turns = (/** @type {HTMLElement[]} */ ...parts) => element('span', { class: 'turns' }, ...parts);
    const zoom = (/** @type {string} */ text, /** @type {string} */ name, /** @type {number} */ factor) =>
      button(text, () => controller.act(() => board.zoom(factor)), { 'aria-label': name, class: 'small' });
    // Beside the sheet and not on it, where they would lie over nodes.
    const look = element('span', { class: 'look', role: 'group', 'aria-label': 'What is seen of the sheet' },
      zoom('−', 'Zoom out', 1 / 1.4), zoom('+', 'Zoom in', 1.4), button('Show all', () => controller.act(() => board.fit())));
    place.append(hands, turns(this.closed.label, this.middle.label), grid, turns(this.end, this.tolerance.label), look);
  }

  /** @param {import('../page/messages.js').Family} family */
  update(family) {
    const { board } = this;
    const current = board.hand();
    for (const { hand, radio, label } of this.radios) {
      radio.checked = hand === current;
      label.hidden = hand === PICTURE && board.reference().length === 0;
    }
    const sketching = 0 < board.sketchNodes();
    this.end.toggleAttribute('data-away', !sketching);
    this.closed.label.toggleAttribute('data-away', 0 < family.profiles.length);
    this.closed.box.checked = family.closing;
    this.middle.label.toggleAttribute('data-away', current !== SCALE || family.profiles.length === 0);
    this.middle.box.checked = board.aboutMiddle();
    this.snap.box.checked = board.snapping();
    this.tolerance.label.toggleAttribute('data-away', current !== STROKE || sketching);
    this.hint.textContent = keysHint(current === PLACE && (sketching || board.chosenNodes().length === 0));
    this.help.textContent = HANDS.find(({ hand }) => hand === current)?.help ?? '';
    this.updateFigures();
  }

  /** What follows the zoom. */
  updateFigures() {
    const { board } = this;
    const chosen = (/** @type {number | undefined} */ figure) => (figure === undefined ? '' : String(figure));
    showFigure(this.step, chosen(board.chosenGridStep()));
    this.step.placeholder = String(Number(board.gridStep().toFixed(2)));
    showFigure(this.tolerance.input, chosen(board.chosenTolerance()));
    this.tolerance.input.placeholder = board.tolerance().toFixed(2);
  }
}
