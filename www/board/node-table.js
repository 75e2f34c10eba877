// @ts-check
/**
 * The nodes of the active profile as a table: the twin of the board for the
 * keyboard, for screen readers and for typed coordinates.
 */
import { button, element } from '../page/dom.js';
import { figureField, figureOf } from '../page/figure.js';

export class NodeTable {
  /**
   * @param {HTMLElement} place
   * @param {HTMLElement} beside what the buttons for chosen nodes stand before
   * @param {import('../page/controller.js').Controller} controller
   */
  constructor(place, beside, controller) {
    this.controller = controller;
    this.board = controller.board;
    this.rows = element('tbody');
    const head = element('thead', {}, element('tr', {}, ...['Node', 'x, mm', 'y, mm', 'Corner'].map((text) => element('th', { scope: 'col' }, text))));
    this.table = element('div', { class: 'node-frame', tabindex: '0', role: 'region', 'aria-label': 'Nodes of the active profile' }, element('table', { class: 'nodes' }, head, this.rows));
    const act = (/** @type {() => void} */ what) => () => controller.act(what);
    this.all = button('Choose all', act(() => this.board.chooseAll()));
    this.actions = element('div', { class: 'actions', role: 'group', 'aria-label': 'Chosen nodes' },
      button('Insert after', act(() => this.board.insertAfter())),
      button('Corner or smooth', act(() => this.board.toggleCorner())),
      button('Delete nodes', act(() => this.board.deleteNodes())),
    );
    this.typed = this.typedForm();
    place.append(this.all, this.table, this.typed);
    beside.before(this.actions);
  }

  /** A form that sets the next node of a new profile by its coordinates. */
  typedForm() {
    const field = (/** @type {string} */ name) => figureField({ step: '0.01', signed: true, required: true, 'aria-label': `${name} of the new node, mm` });
    const [x, y] = [field('x'), field('y')];
    const submit = (/** @type {Event} */ event) => {
      event.preventDefault();
      this.controller.act(() => {
        if (this.board.hand() !== 1) this.board.setHand(1);
        this.board.sketchAt(figureOf(x), figureOf(y));
      });
      x.focus();
      x.select();
    };
    return element('form', { class: 'typed', submit }, element('span', {}, 'New profile by numbers: node at'), x, y, element('button', { type: 'submit' }, 'Set node'), button('End profile', () => this.controller.act(() => this.board.endSketch())));
  }

  update() {
    const nodes = this.board.nodes();
    const chosen = new Set(this.board.chosenNodes());
    const count = nodes.length / 3;
    while (this.rows.children.length < count) this.rows.append(this.row(this.rows.children.length));
    while (count < this.rows.children.length) this.rows.lastChild?.remove();
    for (let index = 0; index < count; index += 1) {
      const row = this.rows.children[index];
      const [pick, x, y, corner] = /** @type {any} */ (row).parts;
      pick.setAttribute('aria-pressed', String(chosen.has(index)));
      if (document.activeElement !== x) x.value = nodes[3 * index].toFixed(2);
      if (document.activeElement !== y) y.value = nodes[3 * index + 1].toFixed(2);
      corner.checked = nodes[3 * index + 2] === 1;
    }
    this.actions.hidden = chosen.size === 0;
    this.all.hidden = count === 0;
    this.table.hidden = count === 0;
  }

  /** @param {number} index */
  row(index) {
    const { board, controller } = this;
    const number = String(index + 1);
    const pick = button(number, () => {}, { class: 'chip', 'aria-pressed': 'false', 'aria-label': `Choose node ${number}` });
    pick.addEventListener('click', (event) => controller.act(() => board.choose(index, event.shiftKey)));
    const put = () => {
      controller.act(() => board.putNode(index, figureOf(x), figureOf(y)));
      // What holds is shown again, whether the figure was taken, rounded or refused.
      const nodes = board.nodes();
      [x, y].forEach((input, side) => { input.value = nodes[3 * index + side].toFixed(2); });
    };
    const field = (/** @type {string} */ name) => figureField({ step: '0.01', signed: true, 'aria-label': `${name} of node ${number}, mm`, change: put });
    const [x, y] = [field('x'), field('y')];
    const corner = /** @type {HTMLInputElement} */ (element('input', { type: 'checkbox', 'aria-label': `Node ${number} is a corner`, change: () => controller.act(() => board.setCorner(index, corner.checked)) }));
    const row = element('tr', {}, ...[pick, x, y, corner].map((part) => element('td', {}, part)));
    return Object.assign(row, { parts: [pick, x, y, corner] });
  }
}
