// @ts-check
/**
 * The series that goes with the work on the board, as text that only its places
 * can read. It names profiles and pieces by their numbers in the family that it
 * was written for: once profiles are added, deleted or moved it is behind, and is
 * not handed on before it is written anew. Each work that stood here has its own.
 */

/**
 * @typedef {object} Family
 * @property {string} family its share code
 * @property {number[]} keys of its profiles, in their order
 */

export class CarriedSeries {
  /** @param {import('./messages.js').Board} board */
  constructor(board) {
    this.board = board;
    this.work = board.work();
    /** What was written last, and for which family. @type {{code: string} & Family} */
    this.written = { code: '', family: '', keys: [] };
    /** The same of the works that stood here before. @type {Map<number, typeof this.written>} */
    this.works = new Map();
    /** Told when it is written. @type {(() => void)[]} */
    this.waiting = [];
  }

  /** Whether profiles were added, deleted or moved since it was written. */
  get isBehind() {
    return this.written.code !== '' && this.written.keys.join() !== this.board.profileKeys().join();
  }

  /** What can be handed on; empty for none, and while it is behind. */
  get code() {
    return this.isBehind ? '' : this.written.code;
  }

  /** Waits while it is behind. */
  async settled() {
    while (this.isBehind) await new Promise((resolve) => this.waiting.push(() => resolve(undefined)));
  }

  /** A step of the history may have led to another work. */
  follow() {
    const work = this.board.work();
    if (work === this.work) return;
    this.works.set(this.work, this.written);
    this.work = work;
    this.written = this.works.get(work) ?? { code: '', family: '', keys: [] };
  }

  /**
   * @param {string} code empty for no series
   * @param {Family} [of] as it stands on the board when not told
   */
  write(code, of = { family: this.board.shareCode(), keys: [...this.board.profileKeys()] }) {
    this.follow();
    this.written = { code, ...of };
    for (const tell of this.waiting.splice(0)) tell();
  }
}
