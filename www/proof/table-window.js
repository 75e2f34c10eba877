// @ts-check
/**
 * The part of the table of pairs that is in sight: lays rows and cells out by
 * the room there is, makes those near the window, and takes the others away.
 * A screen reader hears the whole size from the grid's own counts.
 *
 * Rows stand at fixed heights, the names of the columns below the last row
 * and held in view, the names of the rows at the left and held in view.
 */
import { element, onceAFrame } from '../page/dom.js';
import { TableCell } from './table-cell.js';

/** Sizes in rem: what a cell needs for all it has to say, for a picture with a sign, and for a sign alone. */
const FULL = 3.7;
const LARGEST = 5.4;
const COMPACT = 2.3;
const TINY = 0.66;
/** Rows and columns made beyond the window, so that a slow scroll meets them ready. */
const BEYOND = 2;

export class TableWindow {
  /**
   * @param {HTMLElement} frame scrolls
   * @param {HTMLElement} table
   * @param {import('./table-cell.js').Source} source
   */
  constructor(frame, table, source) {
    this.frame = frame;
    this.table = table;
    this.source = source;
    this.body = element('tbody', { role: 'rowgroup' });
    this.foot = element('tr', { role: 'row', class: 'foot-row' });
    table.replaceChildren(this.body, element('tfoot', { role: 'rowgroup' }, this.foot));
    /** The profiles shown, in order. @type {number[]} */
    this.order = [];
    /** Where each profile stands in the order. @type {Map<number, number>} */
    this.positions = new Map();
    /** @type {string[]} */
    this.names = [];
    /** @type {import('./table-cell.js').Look} */
    this.look = { view: 'sections', level: 'full', dimClear: false };
    /** The sizes as last worked out. */
    this.measured = '';
    /** @type {Map<number, {home: HTMLElement, cells: Map<number, TableCell>}>} by place in the order */
    this.rows = new Map();
    /** The place that must exist though out of sight, for it holds the focus. @type {[number, number]} */
    this.held = [0, 0];
    frame.addEventListener('scroll', onceAFrame(() => this.fill()));
    new ResizeObserver(() => { if (this.measure()) this.rebuild(); else this.fill(); }).observe(frame);
  }

  /**
   * Another order, other names or another look.
   * @param {number[]} order
   * @param {string[]} names of all profiles
   * @param {{view: 'sections' | 'margins' | 'signs', dimClear: boolean}} look
   */
  arrange(order, names, look) {
    this.order = order;
    this.positions = new Map(order.map((profile, at) => [profile, at]));
    this.names = names;
    Object.assign(this.look, look);
    this.measure();
    this.rebuild();
  }

  /** Sizes by the room there is; whether they differ from before. */
  measure() {
    const rem = Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
    const room = this.frame.clientWidth;
    const count = Math.max(1, this.order.length);
    const named = 34 * rem < room && count <= 16;
    const head = (named ? 5.6 : 1.7) * rem;
    const fitting = Math.floor((room - head) / count);
    const least = (this.look.view === 'sections' ? COMPACT : TINY) * rem;
    const width = Math.max(Math.min(fitting, LARGEST * rem), least);
    const level = width < COMPACT * rem ? 'tiny' : width < FULL * rem ? 'compact' : 'full';
    const height = { tiny: width, compact: Math.max(0.72 * width, 1.65 * rem), full: 0.6 * width + 1.75 * rem }[level];
    const key = [width, height, head, named, level].join();
    if (key === this.measured) return false;
    this.measured = key;
    this.look.level = /** @type {'tiny' | 'compact' | 'full'} */ (level);
    this.sizes = { width, height, head, named };
    return true;
  }

  rebuild() {
    if (!this.sizes) return;
    const { width, height, head, named } = this.sizes;
    const count = this.order.length;
    this.rows.clear();
    this.body.replaceChildren();
    this.table.className = `pairs ${this.look.level} ${this.look.view}`;
    this.table.style.width = `${head + count * width}px`;
    this.body.style.height = `${count * height}px`;
    this.table.setAttribute('aria-rowcount', String(count + 1));
    this.table.setAttribute('aria-colcount', String(count + 1));
    this.foot.style.height = `${named ? 2.4 * 15 : 1.5 * 15}px`;
    this.foot.setAttribute('aria-rowindex', String(count + 1));
    this.heads = new Map();
    this.foot.replaceChildren();
    this.fill();
  }

  /** Makes what is in sight and takes away what is not. */
  fill() {
    if (!this.sizes) return;
    const { width, height, head } = this.sizes;
    const { scrollTop, scrollLeft, clientHeight, clientWidth } = this.frame;
    const last = this.order.length - 1;
    const rows = [Math.max(0, Math.floor(scrollTop / height) - BEYOND), Math.min(last, Math.ceil((scrollTop + clientHeight) / height) + BEYOND)];
    const columns = [Math.max(0, Math.floor((scrollLeft - head) / width) - BEYOND), Math.min(last, Math.ceil((scrollLeft + clientWidth - head) / width) + BEYOND)];
    for (const [row, { home }] of this.rows) {
      if (row === this.held[0] || (rows[0] <= row && row <= rows[1])) continue;
      home.remove();
      this.rows.delete(row);
    }
    for (let row = rows[0]; row <= rows[1]; row += 1) this.fillRow(row, columns);
    if (this.held[0] <= last) this.fillRow(this.held[0], columns);
    this.fillFoot(columns);
  }

  /**
   * @param {number} row
   * @param {number[]} columns
   */
  fillRow(row, columns) {
    const { width, height, head } = /** @type {NonNullable<TableWindow['sizes']>} */ (this.sizes);
    let made = this.rows.get(row);
    if (!made) {
      const home = element('tr', { role: 'row', 'aria-rowindex': String(row + 1) }, this.title(this.order[row], 'row'));
      home.style.top = `${row * height}px`;
      home.style.height = `${height}px`;
      made = { home, cells: new Map() };
      this.rows.set(row, made);
      // In the order of rows, for a reader that goes through the page.
      const after = [...this.rows.keys()].filter((other) => row < other);
      const next = after.length ? this.rows.get(Math.min(...after)) : undefined;
      this.body.insertBefore(home, next?.home ?? null);
    }
    for (const [column, cell] of made.cells) {
      const held = row === this.held[0] && column === this.held[1];
      if (held || (columns[0] <= column && column <= columns[1])) continue;
      cell.home.remove();
      made.cells.delete(column);
    }
    const wanted = [];
    for (let column = columns[0]; column <= Math.min(columns[1], row); column += 1) wanted.push(column);
    if (row === this.held[0] && this.held[1] <= row) wanted.push(this.held[1]);
    for (const column of wanted) {
      if (made.cells.has(column)) continue;
      const cell = new TableCell(this.source, this.order[row], this.order[column], this.look);
      cell.home.setAttribute('aria-colindex', String(column + 2));
      cell.home.style.left = `${head + column * width}px`;
      cell.home.style.width = `${width}px`;
      made.cells.set(column, cell);
      made.home.append(cell.home);
    }
  }

  /** @param {number[]} columns */
  fillFoot(columns) {
    const { width, head } = /** @type {NonNullable<TableWindow['sizes']>} */ (this.sizes);
    const heads = /** @type {Map<number, HTMLElement>} */ (this.heads);
    for (const [column, home] of heads) {
      if (columns[0] <= column && column <= columns[1]) continue;
      home.remove();
      heads.delete(column);
    }
    for (let column = columns[0]; column <= columns[1]; column += 1) {
      if (heads.has(column)) continue;
      const home = this.title(this.order[column], 'col');
      home.setAttribute('aria-colindex', String(column + 2));
      home.style.left = `${head + column * width}px`;
      home.style.width = `${width}px`;
      heads.set(column, home);
      this.foot.append(home);
    }
  }

  /**
   * @param {number} profile
   * @param {'row' | 'col'} scope
   */
  title(profile, scope) {
    const { head, named } = /** @type {NonNullable<TableWindow['sizes']>} */ (this.sizes);
    const name = this.names[profile];
    const role = scope === 'row' ? 'rowheader' : 'columnheader';
    const made = element('th', { scope, role, title: name ? `${profile + 1} ${name}` : String(profile + 1), 'data-profile': String(profile) }, element('b', {}, String(profile + 1)));
    if (named && name) made.append(' ', element('span', {}, name));
    if (scope === 'row') made.style.width = `${head}px`;
    return made;
  }

  /**
   * The cell of two profiles, if it exists just now.
   * @param {number} one
   * @param {number} other
   */
  cellOf(one, other) {
    const [a, b] = [this.positions.get(one) ?? -1, this.positions.get(other) ?? -1];
    return this.rows.get(Math.max(a, b))?.cells.get(Math.min(a, b));
  }

  /** The cells that exist. */
  * cells() {
    for (const { cells } of this.rows.values()) yield* cells.values();
  }

  /**
   * The cell at a place of the order; made and scrolled to if it was out of sight.
   * @param {number} row
   * @param {number} column
   */
  reach(row, column) {
    this.held = [row, column];
    if (this.sizes) {
      const { width, height, head } = this.sizes;
      const { scrollTop, scrollLeft, clientHeight, clientWidth } = this.frame;
      const foot = this.foot.clientHeight;
      const [top, left] = [row * height, head + column * width];
      if (top < scrollTop) this.frame.scrollTop = top;
      else if (scrollTop + clientHeight - foot < top + height) this.frame.scrollTop = top + height + foot - clientHeight;
      if (left < scrollLeft + head) this.frame.scrollLeft = left - head;
      else if (scrollLeft + clientWidth < left + width) this.frame.scrollLeft = left + width - clientWidth;
    }
    this.fill();
    return this.rows.get(row)?.cells.get(column);
  }
}
