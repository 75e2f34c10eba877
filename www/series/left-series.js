// @ts-check
/**
 * The series of works that another work took the place of, by the family's
 * code: when a step of the drawing leads back to one, its series is there again
 * with its piece and its own steps. Kept until the page is left.
 */

/**
 * @typedef {object} Left
 * @property {import('./messages.js').SeriesWish} wish
 * @property {number[] | undefined} shown the arrangement of the piece
 * @property {import('./series-steps.js').SeriesSteps['held']} steps
 * @property {import('./station-memory.js').StationMemory} memory
 * @property {string} pending what came with the family and was not read
 * @property {boolean} touched
 */

export class LeftSeries {
  /** @param {import('./places.js').Places} places */
  constructor(places) {
    this.places = places;
    /** @type {Map<string, Left>} */
    this.left = new Map();
  }

  /**
   * Another work is opened, with its own series.
   * @param {string} code of its family
   */
  make(code) {
    if (code !== this.places.code) this.leave();
    this.left.delete(code);
  }

  /** The work that was counted last is left. */
  leave() {
    const { series, code, kept } = this.places;
    if (!series || !code || !series.form.stations.length) return;
    this.left.set(code, {
      wish: series.form.snapshot(), shown: this.places.piece?.arrangement ?? this.places.before,
      steps: series.steps.held, memory: series.form.memory, pending: kept.pending, touched: kept.touched,
    });
  }

  /**
   * Sets the series of a work that was left before, if this is one.
   * @param {string} code
   */
  comeBack(code) {
    const { places } = this;
    const left = this.left.get(code);
    if (!left || !places.series) return;
    this.leave();
    // From here on it may be set anew.
    this.left.delete(code);
    places.series.form.forget();
    places.series.form.memory = left.memory;
    places.series.form.set(left.wish);
    places.series.steps.take(left.steps);
    places.piece = undefined;
    places.before = left.shown;
    places.kept.pending = left.pending;
    places.kept.touched = left.touched;
    places.kept.wanted = undefined;
    if (!left.touched) places.later.tell('', false);
  }
}
