// @ts-check
/**
 * The table of pairs: a grid of cells, one a pair, the diagonal for each
 * profile itself. Follows w3.org/WAI/ARIA/apg/patterns/grid: one tab stop,
 * arrows, Home and End. What is in sight is table-window.js's.
 */
import { marginFigure, spoken } from './table-cell.js';
import { arranged, nextTrouble, pairAt, placeOf } from './table-order.js';
import { TableTools } from './table-tools.js';
import { TableWindow } from './table-window.js';

export class PairTable {
  /**
   * @param {HTMLElement} table
   * @param {{frame: HTMLElement, tools: HTMLElement, reading: HTMLElement}} places
   * @param {import('../page/controller.js').Controller} controller
   * @param {string[]} reasons the words of the second byte of a cell
   */
  constructor(table, { frame, tools, reading }, controller, reasons) {
    this.controller = controller;
    this.board = controller.board;
    this.reading = reading;
    /** @type {import('./table-cell.js').Source} */
    this.source = { board: this.board, reasons, states: new Uint8Array(), margins: new Float64Array() };
    /** @type {string[]} */
    this.names = [];
    /** The names that the table is built for. */
    this.shaped = '';
    /** Whether the names have changed since it was built. */
    this.reshaped = true;
    this.window = new TableWindow(frame, table, this.source);
    this.tools = new TableTools(tools, {
      changed: () => this.rearrange(true),
      next: () => this.goToTrouble(),
    });
    /** The chosen pair as last shown. @type {number[]} */
    this.pair = [];
    table.addEventListener('click', (event) => this.choose(event.target));
    table.addEventListener('keydown', (event) => this.key(event));
    table.addEventListener('pointerover', (event) => this.hover(event.target));
    table.addEventListener('pointerleave', () => this.hover(null));
    table.addEventListener('focusin', (event) => this.read(event.target));
    table.addEventListener('focusout', () => this.read(null));
  }

  get size() {
    return this.names.length;
  }

  /** @param {import('../page/messages.js').Family} family */
  shape(family) {
    const names = family.profiles.map((profile) => profile.name);
    const key = JSON.stringify(names);
    if (key === this.shaped) return;
    this.shaped = key;
    this.names = names;
    this.reshaped = true;
    this.source.states = new Uint8Array();
    this.source.margins = new Float64Array((names.length * (names.length + 1)) / 2).fill(Number.NaN);
  }

  /**
   * Shows verdicts; redraws only cells of profile `changed`, or all.
   * @param {Uint8Array} cells
   * @param {number | undefined} changed
   * @returns {{index: number, text: string}[]} what is different from before
   */
  update(cells, changed) {
    const before = this.source.states;
    this.source.states = cells;
    const news = [];
    for (let second = 0, index = 0; second < this.size; second += 1) {
      for (let first = 0; first <= second; first += 1, index += 1) {
        if (changed === undefined || changed === first || changed === second) this.source.margins[index] = Number.NaN;
        if (cells[2 * index] === before[2 * index] && cells[2 * index + 1] === before[2 * index + 1]) continue;
        const { before: whom, word, by } = spoken({ first, second, index }, this.source);
        news.push({ index, text: whom + word + by });
      }
    }
    this.pair = [...this.board.pair()];
    // While a node is dragged the order stays: nothing moves under the eye.
    const settled = 0 < news.length && !this.board.isDragging();
    const reshaped = this.reshaped;
    this.reshaped = false;
    if (!(reshaped || settled) || !this.rearrange(reshaped)) {
      for (const cell of this.window.cells()) {
        cell.update(changed === undefined || changed === cell.first || changed === cell.second);
      }
    }
    this.mark();
    return news;
  }

  /**
   * Puts the profiles in order; whether anything was made anew.
   * @param {boolean} always
   */
  rearrange(always) {
    const { view, byTrouble, onlyTrouble } = this.tools.choice;
    const order = arranged(this.source.states, this.size, { byTrouble, onlyTrouble });
    if (!always && order.join() === this.window.order.join()) return false;
    this.tools.say(onlyTrouble && 0 < this.size && !order.length ? 'Every pair is clear: nothing is left to show.' : '');
    this.window.table.hidden = !order.length;
    this.tools.place.hidden = !this.size;
    this.window.arrange(order, this.names, { view, dimClear: onlyTrouble });
    this.mark();
    return true;
  }

  /** Makes the chosen cell the tab stop, or the first one. */
  mark() {
    const places = this.pair.map((profile) => this.window.order.indexOf(profile));
    const shown = places.length === 2 && places.every((at) => 0 <= at);
    const [row, column] = shown ? [Math.max(...places), Math.min(...places)] : [0, 0];
    const moved = row !== this.window.held[0] || column !== this.window.held[1];
    if (moved) {
      this.window.held = [row, column];
      this.window.fill();
    }
    for (const cell of this.window.cells()) {
      const chosen = shown && cell.first === this.pair[0] && cell.second === this.pair[1];
      const stop = chosen || (!shown && cell === this.window.rows.get(0)?.cells.get(0));
      const [tab, selected] = [stop ? '0' : '-1', String(chosen)];
      if (cell.home.getAttribute('tabindex') !== tab) cell.home.setAttribute('tabindex', tab);
      if (cell.home.getAttribute('aria-selected') !== selected) cell.home.setAttribute('aria-selected', selected);
    }
  }

  /**
   * The margin of a pair has been worked out.
   * @param {number} index
   * @param {number} mm
   */
  setMargin(index, mm) {
    this.source.margins[index] = mm;
    this.window.cellOf(...pairAt(index))?.showMargin();
  }

  /** @param {EventTarget | null} target */
  choose(target) {
    const cell = this.cellOf(target);
    if (!cell) return;
    this.controller.act(() => this.board.choosePair(cell.first, cell.second));
    cell.home.focus({ preventScroll: true });
  }

  goToTrouble() {
    const [first, second] = this.pair;
    const found = nextTrouble(this.source.states, this.pair.length ? placeOf(first, second) : -1);
    if (!found) {
      this.tools.say('Every pair is clear.');
      return;
    }
    this.controller.act(() => this.board.choosePair(...found));
    const [row, column] = found.map((profile) => this.window.order.indexOf(profile)).sort((a, b) => b - a);
    if (0 <= column) this.window.reach(row, column);
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    const cell = this.cellOf(event.target);
    if (!cell || event.altKey || event.metaKey) return;
    const at = (/** @type {number} */ profile) => this.window.order.indexOf(profile);
    let [column, row] = [at(cell.first), at(cell.second)].sort((a, b) => a - b);
    const last = this.window.order.length - 1;
    const all = event.ctrlKey;
    switch (event.key) {
      case 'ArrowLeft': column -= 1; break;
      case 'ArrowRight': column += 1; break;
      case 'ArrowUp': row -= 1; break;
      case 'ArrowDown': row += 1; break;
      case 'PageUp': row = Math.max(column, row - 8); break;
      case 'PageDown': row = Math.min(last, row + 8); break;
      case 'Home': if (all) row = 0; column = 0; break;
      case 'End': if (all) row = last; column = row; break;
      default: return;
    }
    event.preventDefault();
    if (column < 0 || row < column || last < row) return;
    this.choose(this.window.reach(row, column)?.home ?? null);
  }

  /** @param {EventTarget | null} target */
  hover(target) {
    const home = target instanceof Element ? target.closest('[data-profile]') : null;
    const cell = this.cellOf(target);
    this.read(target);
    const profiles = cell ? [cell.first, cell.second] : home instanceof HTMLElement ? [Number(home.dataset.profile)] : [];
    this.controller.links.showProfiles(profiles);
  }

  /**
   * Says below the table what a cell holds, for cells too small for words.
   * @param {EventTarget | null} target
   */
  read(target) {
    const cell = this.cellOf(target);
    if (!cell) {
      this.reading.textContent = '';
      return;
    }
    const { before, word, by } = spoken(cell, this.source);
    const margin = this.source.margins[cell.index];
    this.reading.textContent = `${before}${word}${by}${Number.isFinite(margin) ? `, margin ${marginFigure(margin)} mm` : ''}`;
  }

  /**
   * Marks the titles of profiles that something else on the page points at.
   * @param {number[]} profiles
   */
  point(profiles) {
    for (const title of this.window.table.querySelectorAll('th[data-profile]')) {
      title.classList.toggle('pointed', title instanceof HTMLElement && profiles.includes(Number(title.dataset.profile)));
    }
  }

  /** @param {EventTarget | null} target */
  cellOf(target) {
    const home = target instanceof Element ? target.closest('td[data-first]') : null;
    if (!home) return undefined;
    return home instanceof HTMLElement ? this.window.cellOf(Number(home.dataset.first), Number(home.dataset.second)) : undefined;
  }
}
