// @ts-check
/**
 * What follows the verdicts when the drawing is still: the margins of clear
 * pairs in the table.
 */

/** How long the drawing must have been still, in milliseconds. */
const STILL = 350;
/** How long one go may take, in milliseconds. */
const SLICE = 8;

export class Followers {
  /** @param {import('./pair-table.js').PairTable} table */
  constructor(table) {
    this.table = table;
    /** @type {number | undefined} */
    this.timer = undefined;
    this.index = 0;
  }

  /** The drawing has changed: wait, then begin anew. */
  restart() {
    clearTimeout(this.timer);
    this.index = 0;
    this.timer = window.setTimeout(() => this.go(), STILL);
  }

  go() {
    const { cells, board } = this.table;
    const until = performance.now() + SLICE;
    while (this.index < cells.length && performance.now() < until) {
      const cell = cells[this.index];
      this.index += 1;
      if (!cell.parts || cell.home.dataset.verdict !== 'clear' || cell.parts.margin.textContent) continue;
      const margin = board.margin(Number(cell.home.dataset.first), Number(cell.home.dataset.second));
      if (margin !== undefined) cell.parts.margin.textContent = `${shown(margin)} mm`;
    }
    if (this.index < cells.length) this.timer = window.setTimeout(() => this.go(), 16);
  }
}

/** @param {number} mm rounded down, for a margin must not be promised */
function shown(mm) {
  return mm < 0.01 ? '< 0.01' : (Math.floor(mm * 100) / 100).toFixed(2);
}
