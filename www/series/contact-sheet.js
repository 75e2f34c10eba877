// @ts-check
/**
 * The contact sheet: a small picture of each chosen piece, its stations and
 * rulings as lines. Only those in sight exist and are drawn, so that thousands
 * scroll as easily as ten.
 */
import { element } from '../page/dom.js';

/** Points of an outline, less one. */
export const OUTLINE_STEPS = 48;

/** Pixels of the page. */
const CELL = { width: 116, height: 112, picture: 84 };
/** Rows kept beyond those in sight. */
const BEYOND = 1;
/** Every so many points of an outline a ruling is drawn. */
const RULING = 6;
/** From where it is seen, radians. */
const SEEN = { around: 0.65, up: 0.42 };

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
    /** The outlines, flat: x and y of each point. @type {Float32Array} */
    this.flat = new Float32Array();
    this.profiles = 0;
    this.allRound = false;
    this.chosen = '';
    /** @type {Map<number, HTMLButtonElement>} */
    this.cells = new Map();
    this.body = element('div', { class: 'contact-body' });
    this.frame = element('div', { class: 'contact', role: 'group', 'aria-label': 'The chosen pieces' }, this.body);
    this.frame.hidden = true;
    this.frame.addEventListener('scroll', () => this.later());
    this.frame.addEventListener('keydown', (event) => this.key(event));
    new ResizeObserver(() => this.rebuild()).observe(this.frame);
  }

  /**
   * @param {Float32Array} outlines every profile at every station
   * @param {number} profiles
   * @param {boolean} allRound
   */
  setOutlines(outlines, profiles, allRound) {
    const [sine, cosine] = [Math.sin(SEEN.around), Math.cos(SEEN.around)];
    const [rise, lie] = [Math.cos(SEEN.up), Math.sin(SEEN.up)];
    const flat = new Float32Array((2 * outlines.length) / 3);
    for (let from = 0, to = 0; from < outlines.length; from += 3, to += 2) {
      const [x, y, z] = [outlines[from], outlines[from + 1], outlines[from + 2]];
      flat[to] = x * cosine - z * sine;
      flat[to + 1] = -y * rise + (x * sine + z * cosine) * lie;
    }
    this.flat = flat;
    this.profiles = profiles;
    this.allRound = allRound;
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

  /** Once a frame. */
  later() {
    if (this.waiting) return;
    this.waiting = true;
    requestAnimationFrame(() => {
      this.waiting = false;
      this.fill();
    });
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
    cell.style.left = `${(index % columns) * CELL.width}px`;
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
    const size = CELL.picture * ratio * 0.72;
    context.translate(canvas.width / 2, canvas.height / 2);
    const row = OUTLINE_STEPS + 1;
    const at = (/** @type {number} */ station, /** @type {number} */ point) => {
      const place = 2 * ((station * this.profiles + arrangement[station]) * row + point);
      return /** @type {const} */ ([this.flat[place] * size, this.flat[place + 1] * size]);
    };
    context.lineWidth = ratio * 0.7;
    context.strokeStyle = this.theme.colour('--sibling');
    context.beginPath();
    for (let station = this.allRound ? 0 : 1; station < arrangement.length; station += 1) {
      const before = (station + arrangement.length - 1) % arrangement.length;
      for (let point = 0; point < row; point += RULING) {
        context.moveTo(...at(before, point));
        context.lineTo(...at(station, point));
      }
    }
    context.stroke();
    context.lineWidth = ratio * 1.1;
    context.strokeStyle = this.theme.colour('--text');
    context.beginPath();
    for (let station = 0; station < arrangement.length; station += 1) {
      context.moveTo(...at(station, 0));
      for (let point = 1; point < row; point += 1) context.lineTo(...at(station, point));
    }
    context.stroke();
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
