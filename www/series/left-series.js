// @ts-check
/**
 * The series of works that another work took the place of: when a step of the
 * drawing leads back to one, its series is there again with its piece and its
 * own steps. Kept until the page is left.
 */

/**
 * @typedef {object} Left
 * @property {import('./messages.js').SeriesWish} wish
 * @property {number[] | undefined} shown the profiles of the piece, by keys
 * @property {import('./series-steps.js').SeriesSteps['held']} steps
 * @property {import('./station-memory.js').StationMemory} memory
 * @property {import('./kept-series.js').KeptSeries['pending']} pending what came with the family and was not read
 * @property {boolean} touched
 */

export class LeftSeries {
  /** @param {import('./places.js').Places} places */
  constructor(places) {
    this.places = places;
    /** By the number of the work. @type {Map<number, Left>} */
    this.left = new Map();
  }

  /**
   * Another work is opened, with its own series.
   * @param {number} work
   */
  make(work) {
    if (work !== this.places.work) this.leave();
    this.left.delete(work);
  }

  /** The work that was counted last is left. */
  leave() {
    const { series, work, kept, shown } = this.places;
    if (!series || !series.form.stations.length) return;
    this.left.set(work, {
      wish: series.form.snapshot(), shown: shown.before,
      steps: series.steps.held, memory: series.form.memory, pending: kept.pending, touched: kept.touched,
    });
  }

  /**
   * A step of the drawing has led to another work: sets its series as it was left, else what is kept of it.
   * @param {number} work
   */
  comeBack(work) {
    const { places } = this;
    this.leave();
    places.begin();
    const left = this.left.get(work);
    if (!left || !places.series) return;
    // From here on it may be set anew.
    this.left.delete(work);
    places.series.form.memory = left.memory;
    places.series.form.set(left.wish);
    places.series.steps.take(left.steps);
    places.shown.before = left.shown;
    places.kept.pending = left.pending;
    places.kept.touched = left.touched;
  }
}
