// @ts-check
/**
 * A zip of several pieces, made in a worker of its own one piece after the
 * other, so that pieces can be looked at meanwhile. What is made is handed to
 * the browser at once: neither the worker nor the page holds more than a piece.
 */
import { Background, Stopped } from '../work/background.js';

/** Bytes: beyond it browsers may lose what they are given. */
const MOST = 1e9;
/** Milliseconds of work before the time left is told. */
const SETTLED = 3000;

/**
 * @typedef {object} Progress
 * @property {number} done pieces
 * @property {number} all
 * @property {string} left the time left, in words; empty while it cannot be told
 */

export class Zip {
  /** @param {import('../beside.js').Means} means */
  constructor(means) {
    this.background = new Background(means);
    /** Pieces that are made, and whether no more are to be. */
    this.done = 0;
    this.stopping = false;
  }

  /**
   * @param {import('./messages.js').Counted} series
   * @param {string[]} numbers of pieces
   * @param {{kinds: import('./messages.js').FileKind[], tolerance: number}} files
   * @param {(progress: Progress) => void} tell
   * @returns {Promise<{content: Blob, problems: string[], done: number}>} fewer pieces are done when it was stopped
   */
  async make(series, numbers, files, tell) {
    const begun = performance.now();
    /** @type {Blob[]} */
    const parts = [];
    /** @type {string[]} */
    const problems = [];
    let size = 0;
    const take = (/** @type {Uint8Array<ArrayBuffer>} */ bytes) => {
      parts.push(new Blob([bytes]));
      size += bytes.length;
    };
    const ask = (/** @type {import('./messages.js').SeriesOrder} */ order) => this.background.ask('series', { ...series, order });
    try {
      await ask({ act: 'pack', ...files });
      for (const [done, number] of numbers.entries()) {
        if (this.stopping) break;
        tell({ done, all: numbers.length, left: left(performance.now() - begun, done, numbers.length) });
        const made = await ask({ act: 'packPiece', number });
        take(made.bytes);
        problems.push(...made.problems);
        this.done = done + 1;
        refuseTooMuch((size / (done + 1)) * numbers.length, numbers.length);
      }
      if (!this.done) throw new Stopped('No piece is made.');
      take(await ask({ act: 'packed', wanted: numbers.length }));
      return { content: new Blob(parts, { type: 'application/zip' }), problems, done: this.done };
    } finally {
      this.background.stop();
      // What the worker holds goes with it.
      this.background.end();
    }
  }

  /** What was made before counts no more. */
  reset() {
    [this.done, this.stopping] = [0, false];
  }

  /** Stops after the piece that is being made; at once where none is done, and when asked again. */
  stop() {
    if (this.stopping || !this.done) this.background.stop();
    this.stopping = true;
  }
}

/**
 * @param {number} bytes that the whole comes to, by what is made
 * @param {number} count pieces
 */
function refuseTooMuch(bytes, count) {
  if (bytes <= MOST) return;
  const fit = Math.max(1, Math.floor((0.9 * count * MOST) / bytes));
  throw new Error(`these ${count.toLocaleString('en')} pieces would come to about ${(bytes / 1e9).toFixed(1)} GB, and a page can hand out 1 GB at once: choose about ${fit.toLocaleString('en')} pieces, a coarser tolerance or fewer formats; for long runs there is the command loftkin make`);
}

/**
 * @param {number} elapsed milliseconds
 * @param {number} done
 * @param {number} all
 */
function left(elapsed, done, all) {
  if (elapsed < SETTLED || !done) return '';
  const minutes = Math.round((elapsed / done) * (all - done) / 60_000);
  if (minutes < 1) return 'less than a minute left';
  return minutes === 1 ? 'about a minute left' : `about ${minutes} minutes left`;
}
