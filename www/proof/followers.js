// @ts-check
/**
 * What follows the verdicts when the drawing is still: the margins of clear
 * pairs in the table.
 */

import { VERDICTS } from '../page/messages.js';
import { pairAt } from './table-order.js';

const CLEAR = VERDICTS.indexOf('clear');
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
    const { board, source } = this.table;
    const until = performance.now() + SLICE;
    while (this.index < source.margins.length && performance.now() < until) {
      const index = this.index;
      this.index += 1;
      if (source.states[2 * index] !== CLEAR || !Number.isNaN(source.margins[index])) continue;
      const [first, second] = pairAt(index);
      const margin = board.margin(first, second);
      if (margin !== undefined) this.table.setMargin(index, margin);
    }
    if (this.index < source.margins.length) this.timer = window.setTimeout(() => this.go(), 16);
  }
}
