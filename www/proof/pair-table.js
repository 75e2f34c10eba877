// @ts-check
/**
 * The table of pairs: a grid of cells, one a pair, the diagonal for each
 * profile itself. Follows w3.org/WAI/ARIA/apg/patterns/grid: one tab stop,
 * arrows, Home and End.
 */
import { drawing, element, sign } from '../page/dom.js';
import { VERDICTS } from '../page/messages.js';

/** Above this many profiles the cells carry a sign and no picture. */
const MOST_PICTURES = 16;

/**
 * @typedef {object} Parts what stands in a large cell
 * @property {HTMLElement} word
 * @property {HTMLElement} margin
 * @property {SVGElement} ends
 * @property {SVGElement} inner
 *
 * @typedef {object} Cell
 * @property {HTMLElement} home
 * @property {Parts | null} parts
 * @property {number} state verdict and reason as last shown, or -1
 */

export class PairTable {
  /**
   * @param {HTMLTableElement} table
   * @param {import('../page/controller.js').Controller} controller
   * @param {string[]} reasons the words of the second byte of a cell
   */
  constructor(table, controller, reasons) {
    this.table = table;
    this.controller = controller;
    this.board = controller.board;
    this.reasons = reasons;
    /** @type {Cell[]} */
    this.cells = [];
    this.size = 0;
    /** The cell that the tab key stops at. @type {Cell | undefined} */
    this.stop = undefined;
    /** The names that the table is built for. */
    this.shaped = '';
    table.addEventListener('click', (event) => this.choose(event.target));
    table.addEventListener('keydown', (event) => this.key(event));
  }

  /** @param {import('../page/messages.js').Family} family */
  shape(family) {
    const names = family.profiles.map((profile, index) => profile.name || String(index + 1));
    const key = JSON.stringify(names);
    if (key === this.shaped) return;
    this.shaped = key;
    this.size = names.length;
    this.cells = [];
    const small = MOST_PICTURES < this.size;
    this.table.classList.toggle('small', small);
    const title = (/** @type {string} */ name, /** @type {number} */ index, /** @type {string} */ scope) =>
      element('th', { scope, title: name }, element('b', {}, String(index + 1)), element('span', {}, name === String(index + 1) ? '' : name));
    const rows = names.map((name, second) => element('tr', {}, title(name, second, 'row'), ...names.slice(0, second + 1).map((_, first) => this.cell(first, second, small))));
    const foot = element('tr', { class: 'foot-row' }, element('td', {}), ...names.map((name, index) => title(name, index, 'col')));
    this.table.replaceChildren(element('tbody', {}, ...rows, foot));
  }

  /**
   * @param {number} first
   * @param {number} second
   * @param {boolean} small
   */
  cell(first, second, small) {
    const home = element('td', { role: 'gridcell', tabindex: '-1', 'aria-selected': 'false', 'data-first': String(first), 'data-second': String(second), class: first === second ? 'alone' : '' });
    // Of small cells there may be thirty thousand: the style sheet draws their sign.
    this.cells.push({ home, parts: small ? null : parts(home), state: -1 });
    return home;
  }

  /**
   * Shows verdicts; redraws only cells of profile `changed`, or all.
   * @param {Uint8Array} cells
   * @param {number | undefined} changed
   * @returns {{index: number, text: string}[]} what is different from before
   */
  update(cells, changed) {
    const news = [];
    const pair = this.board.pair();
    for (let second = 0, index = 0; second < this.size; second += 1) {
      for (let first = 0; first <= second; first += 1, index += 1) {
        const cell = this.cells[index];
        const state = cells[2 * index] * 256 + cells[2 * index + 1];
        if (state !== cell.state) {
          news.push({ index, text: this.dress(cell, first, second, cells[2 * index], cells[2 * index + 1]) });
          cell.state = state;
        }
        const own = changed === undefined || changed === first || changed === second;
        if (own && cell.parts) this.draw(cell.parts, first, second);
      }
    }
    this.mark(pair.length ? this.cells[place(pair[0], pair[1])] : this.cells[0], 0 < pair.length);
    return news;
  }

  /**
   * Makes one cell the tab stop, and shows whether it is the chosen one.
   * @param {Cell | undefined} cell
   * @param {boolean} chosen
   */
  mark(cell, chosen) {
    if (this.stop && this.stop !== cell) {
      this.stop.home.tabIndex = -1;
      this.stop.home.setAttribute('aria-selected', 'false');
    }
    this.stop = cell;
    if (!cell) return;
    cell.home.tabIndex = 0;
    cell.home.setAttribute('aria-selected', String(chosen));
  }

  /**
   * @param {Cell} cell
   * @param {number} first
   * @param {number} second
   * @param {number} verdict
   * @param {number} reason
   */
  dress(cell, first, second, verdict, reason) {
    const name = VERDICTS[verdict];
    const word = this.reasons[reason];
    cell.home.dataset.verdict = name;
    const whom = first === second ? `Profile ${first + 1} alone` : `Profiles ${first + 1} and ${second + 1}`;
    const before = word === name ? `${whom}: ` : `${whom}: ${name}, `;
    if (cell.parts) cell.parts.word.replaceChildren(element('span', { class: 'hidden' }, before), sign(name), element('span', {}, word));
    else cell.home.setAttribute('aria-label', before + word);
    return before + word;
  }

  /**
   * @param {Parts} parts
   * @param {number} first
   * @param {number} second
   */
  draw({ ends, inner, margin }, first, second) {
    const [endsData, innerData] = this.board.cellPicture(first, second);
    ends.setAttribute('d', endsData);
    inner.setAttribute('d', innerData);
    margin.textContent = '';
  }

  /** @param {EventTarget | null} target */
  choose(target) {
    const home = target instanceof Element ? target.closest('td') : null;
    if (!home?.dataset.first) return;
    this.controller.act(() => this.board.choosePair(Number(home.dataset.first), Number(home.dataset.second)));
    home.focus();
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    const home = event.target instanceof HTMLElement ? event.target.closest('td') : null;
    if (!home || event.altKey || event.ctrlKey || event.metaKey) return;
    let [first, second] = [Number(home.dataset.first), Number(home.dataset.second)];
    switch (event.key) {
      case 'ArrowLeft': first -= 1; break;
      case 'ArrowRight': first += 1; break;
      case 'ArrowUp': second -= 1; break;
      case 'ArrowDown': second += 1; break;
      case 'Home': first = 0; break;
      case 'End': first = second; break;
      default: return;
    }
    event.preventDefault();
    if (first < 0 || second < first || this.size <= second) return;
    this.choose(this.cells[place(first, second)].home);
  }
}

/**
 * Where a cell stands in the list of all.
 * @param {number} first
 * @param {number} second
 */
function place(first, second) {
  return (second * (second + 1)) / 2 + first;
}

/**
 * @param {HTMLElement} home
 * @returns {Parts}
 */
function parts(home) {
  const word = element('span', { class: 'word' });
  const margin = element('span', { class: 'margin' });
  const [inner, ends] = ['picture-inner', 'picture-ends'].map((name) => drawing('path', { class: name }));
  const picture = drawing('svg', { viewBox: '0 0 56 36', class: 'picture', 'aria-hidden': 'true' }, inner, ends);
  home.append(picture, word, margin);
  return { word, margin, ends, inner };
}
