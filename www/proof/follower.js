// @ts-check
/**
 * One answer about the whole family that follows the drawing. What is quick is
 * worked out in the page; what was not, beside it. Until the answer is there,
 * the last one stands and is marked as being redone.
 */
import { Background, Stopped } from '../work/background.js';

/** In the page it may take this part of the time. */
const SHARE = 0.3;
/** Of more profiles nothing is tried in the page that can be asked for beside it. */
const MOST_HERE = 12;

/**
 * @typedef {object} Way
 * @property {'tolerance' | 'sets'} [kind] what to ask for beside the page; nothing is, without one
 * @property {number} budget what it may take in the page, in milliseconds
 * @property {number} wait how long the drawing must have been still, in milliseconds
 * @property {() => any} here works it out in the page
 * @property {(answer: any, current: boolean) => void} show
 * @property {(redone: boolean) => void} mark
 */

export class Follower {
  /**
   * @param {import('../page/messages.js').Board} board
   * @param {import('../beside.js').Means} means
   * @param {(error: unknown) => void} refuse hears what went wrong
   * @param {Way} way
   */
  constructor(board, means, refuse, way) {
    this.board = board;
    this.refuse = refuse;
    this.way = way;
    this.background = new Background(means);
    /** How long it last took in the page, in milliseconds. */
    this.took = 0;
    /** @type {number | undefined} */
    this.size = undefined;
    this.due = 0;
    /** Whether the drawing has changed since the work in hand was begun. */
    this.again = false;
  }

  /**
   * The drawing has changed.
   * @param {number} size how many profiles there are
   */
  drawn(size) {
    if (size !== this.size) this.took = MOST_HERE < size ? Infinity : 0;
    this.size = size;
    this.way.mark(true);
    clearTimeout(this.later);
    const wait = Math.max(this.way.wait, this.board.isDragging() ? this.due - performance.now() : 0);
    if (0 < wait) this.later = setTimeout(() => this.go(), wait);
    else this.go();
  }

  /** Nothing is to be said any more. */
  rest() {
    clearTimeout(this.later);
    this.background.stop();
    this.size = undefined;
  }

  go() {
    if (this.way.kind && this.way.budget < this.took) this.askBeside(this.way.kind);
    else this.askHere();
  }

  askHere() {
    const start = performance.now();
    const answer = this.way.here();
    this.took = performance.now() - start;
    this.due = start + this.took / SHARE;
    this.way.show(answer, true);
    this.way.mark(false);
  }

  /**
   * One work at a time, and at its end the latest drawing.
   * @param {'tolerance' | 'sets'} kind
   */
  async askBeside(kind) {
    this.again = true;
    if (this.background.busy) return;
    try {
      while (this.again) {
        this.again = false;
        const code = this.board.shownCode();
        const answer = await this.background.ask(kind, { code });
        const current = code === this.board.shownCode();
        this.way.show(answer, current);
        this.way.mark(!current);
        this.again ||= !current;
      }
    } catch (error) {
      if (!(error instanceof Stopped)) this.refuse(error);
    }
  }
}
