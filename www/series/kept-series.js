// @ts-check
/**
 * The series as it is kept and linked beside its family: read when the places
 * are opened, written when a person has set something of it.
 */
import { Stopped } from '../work/background.js';

export class KeptSeries {
  /** @param {import('./places.js').Places} places */
  constructor(places) {
    this.places = places;
    /** What came with the family and is not read yet. */
    this.pending = '';
    /** Whether there is anything to keep: stations that were set, a piece that was chosen. */
    this.touched = false;
    /** The number of the piece to begin with. @type {string | undefined} */
    this.wanted = undefined;
    this.take();
  }

  /** Another work stands on the board, with its series or without. */
  take() {
    this.pending = this.places.later.series;
    this.touched = this.pending !== '';
    this.wanted = undefined;
  }

  /** Reads what came with the family; when that cannot be read it says so, and the series begins anew. */
  async readPending() {
    const code = this.pending;
    if (!code) return;
    const outcome = await this.read({ act: 'decode', code });
    // What was given up is read by whoever comes next.
    if (outcome === 'stopped') return;
    this.pending = '';
    if (outcome === 'set') return;
    this.touched = false;
    this.places.later.tell('', false);
  }

  /**
   * @param {import('./messages.js').SeriesOrder} order
   * @param {string} [name] of the file that it is read from
   * @returns {Promise<'set' | 'stopped' | 'refused'>}
   */
  async read(order, name = '') {
    const { places } = this;
    try {
      const { wish, piece } = /** @type {import('./messages.js').SeriesDocument} */ (await this.ask(order));
      places.series?.form.set(wish);
      this.wanted = piece;
      this.touched = true;
      if (name) places.controller.announcer.settle();
      return 'set';
    } catch (error) {
      if (error instanceof Stopped) return 'stopped';
      places.controller.announcer.refuse(name ? `“${name}”: ${error instanceof Error ? error.message : error}` : sentence(error));
      return 'refused';
    }
  }

  /**
   * Keeps the series as it stands.
   * @param {boolean} worked whether something of it was set, and not only looked at
   */
  async keep(worked) {
    if (!this.touched) return;
    const code = await this.written('encode');
    if (code) this.places.later.tell(code, worked);
  }

  /**
   * The series as a link or a file has it.
   * @param {'encode' | 'write'} act
   * @returns {Promise<string | undefined>}
   */
  async written(act) {
    try {
      return await this.ask({ act, piece: this.places.piece?.number ?? this.wanted });
    } catch (error) {
      if (!(error instanceof Stopped)) this.places.controller.announcer.refuse(error);
      return undefined;
    }
  }

  /** @param {import('./messages.js').SeriesOrder} order */
  ask(order) {
    const { series, asking } = this.places;
    if (!series) throw new Stopped('No place is opened.');
    return asking.ask({ code: '', wish: series.form.wish() }, order);
  }
}

/** @param {unknown} error */
export function sentence(error) {
  const text = error instanceof Error ? error.message : String(error);
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}
