// @ts-check
/**
 * The contact sheet: a small picture of each chosen piece. Only those in sight
 * exist and are drawn, so that thousands scroll as easily as ten.
 */
import { element, onceAFrame } from '../page/dom.js';

/** Pixels of the page. */
const CELL = { width: 116, height: 112, picture: 84 };
/** Rows kept beyond those in sight. */
const BEYOND = 1;

export class ContactSheet {
  /**
   * @param {import('../page/theme.js').Theme} theme
   * @param {(number: string) => void} open
   */
  constructor(theme, open) {
    this.theme = theme;
    this.open = open;
    /** @type {import('./messages.js').Piece[]} */
    this.pieces = [];
    /** @type {import('./sketch.js').Sketch | undefined} */
    this.sketch = undefined;
    this.chosen = '';
    /** @type {Map<number, HTMLButtonElement>} */
    this.cells = new Map();
    this.body = element('div', { class: 'contact-body' });
    this.frame = element('div', { class: 'contact', role: 'group', 'aria-label': 'The chosen pieces' }, this.body);
    this.frame.hidden = true;
    this.frame.addEventListener('scroll', onceAFrame(() => this.fill()));
    this.frame.addEventListener('keydown', (event) => this.key(event));
    new ResizeObserver(() => this.rebuild()).observe(this.frame);
  }

  /** @param {import('./messages.js').Piece[]} pieces */
  show(pieces) {
    this.pieces = pieces;
    this.frame.hidden = pieces.length === 0;
    this.frame.scrollTop = 0;
    this.rebuild();
  }

  /** @param {string} number the piece that is shown large */
  mark(number) {
    this.chosen = number;
    for (const [index, cell] of this.cells) cell.setAttribute('aria-pressed', String(this.pieces[index]?.number === number));
  }

  columns() {
    return Math.max(1, Math.floor(this.frame.clientWidth / CELL.width));
  }

  rebuild() {
    this.cells.clear();
    this.body.replaceChildren();
    this.body.style.height = `${Math.ceil(this.pieces.length / this.columns()) * CELL.height}px`;
    this.fill();
  }

  /** Makes what is in sight and takes away what is not. */
  fill() {
    const columns = this.columns();
    const { scrollTop, clientHeight } = this.frame;
    const first = Math.max(0, Math.floor(scrollTop / CELL.height) - BEYOND) * columns;
    const last = Math.min(this.pieces.length, (Math.ceil((scrollTop + clientHeight) / CELL.height) + BEYOND) * columns);
    for (const [index, cell] of this.cells) {
      if ((first <= index && index < last) || cell === document.activeElement) continue;
      cell.remove();
      this.cells.delete(index);
    }
    for (let index = first; index < last; index += 1) if (!this.cells.has(index)) this.add(index, columns);
  }

  /**
   * @param {number} index
   * @param {number} columns
   */
  add(index, columns) {
    const { number, arrangement } = this.pieces[index];
    const canvas = /** @type {HTMLCanvasElement} */ (element('canvas', { 'aria-hidden': 'true' }));
    const cell = /** @type {HTMLButtonElement} */ (element('button', {
      type: 'button', class: 'contact-cell', 'aria-pressed': String(number === this.chosen),
      title: `Profiles ${arrangement.map((profile) => profile + 1).join(' ')}`, 'data-index': String(index), click: () => this.open(number),
    }, canvas, element('span', {}, element('span', { class: 'hidden' }, 'Piece '), number)));
    cell.style.left = `${((index % columns) + 0.5) * (this.frame.clientWidth / columns) - CELL.width / 2}px`;
    cell.style.top = `${Math.floor(index / columns) * CELL.height}px`;
    this.cells.set(index, cell);
    const next = this.cells.get(index + 1) ?? null;
    this.body.insertBefore(cell, next);
    this.draw(canvas, arrangement);
  }

  /**
   * @param {HTMLCanvasElement} canvas
   * @param {number[]} arrangement
   */
  draw(canvas, arrangement) {
    const ratio = Math.min(window.devicePixelRatio || 1, 2);
    canvas.width = canvas.height = CELL.picture * ratio;
    const context = canvas.getContext('2d');
    if (!context) return;
    this.sketch?.draw(context, arrangement, { skin: this.theme.colour('--sibling'), outline: this.theme.colour('--text'), ratio });
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    const held = Number(/** @type {HTMLElement} */ (event.target).dataset?.index);
    const columns = this.columns();
    const step = { ArrowRight: 1, ArrowLeft: -1, ArrowDown: columns, ArrowUp: -columns }[event.key];
    const to = held + (step ?? 0);
    if (!step || Number.isNaN(held) || to < 0 || this.pieces.length <= to) return;
    event.preventDefault();
    const top = Math.floor(to / columns) * CELL.height;
    if (top < this.frame.scrollTop) this.frame.scrollTop = top;
    else if (this.frame.scrollTop + this.frame.clientHeight < top + CELL.height) this.frame.scrollTop = top + CELL.height - this.frame.clientHeight;
    this.fill();
    this.cells.get(to)?.focus();
  }
}
