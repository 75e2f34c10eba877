// @ts-check
/**
 * The series as it is kept and linked beside its family: read when the places
 * are opened, written when a person has set something of it.
 */
import { Stopped } from '../work/background.js';
import { byKeys } from './profile-keys.js';

export class KeptSeries {
  /** @param {import('./places.js').Places} places */
  constructor(places) {
    this.places = places;
    /** What came with the work and is not read yet. @type {import('../page/carried-series.js').CarriedSeries['written'] | undefined} */
    this.pending = undefined;
    /** Whether there is anything to keep: stations that were set, a piece that was chosen. */
    this.touched = false;
    /** The number of the piece to begin with. @type {string | undefined} */
    this.wanted = undefined;
    this.take();
  }

  /** Another work stands on the board, with its series or without. */
  take() {
    const { written } = this.places.later.series;
    this.pending = written.code ? written : undefined;
    this.touched = written.code !== '';
    this.wanted = undefined;
  }

  /** Reads what came with the family; when that cannot be read it says so, and the series begins anew. */
  async readPending() {
    const { pending } = this;
    if (!pending) return;
    const outcome = await this.read({ act: 'decode', code: pending.code }, pending);
    // What was given up is read by whoever comes next.
    if (outcome === 'stopped') return;
    this.pending = undefined;
    if (outcome === 'set') return;
    this.touched = false;
    this.places.later.tell('', false);
  }

  /**
   * @param {import('./messages.js').SeriesOrder} order
   * @param {import('../page/carried-series.js').Family} of the family that it was written for
   * @param {string} [name] of the file that it is read from
   * @returns {Promise<'set' | 'stopped' | 'refused'>}
   */
  async read(order, of, name = '') {
    const { places } = this;
    try {
      const { wish, piece } = /** @type {import('./messages.js').SeriesDocument} */ (await this.ask(order));
      const arrangement = piece && of.family !== places.code ? await this.arrangementOf(of.family, wish, piece) : undefined;
      places.series?.form.set(byKeys(wish, of.keys));
      this.wanted = arrangement ? undefined : piece;
      if (arrangement) places.shown.before = arrangement.map((place) => of.keys[place]);
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
   * A piece by its number in another family than the one that stands there now.
   * @param {string} code of that family
   * @param {import('./messages.js').SeriesWish} wish
   * @param {string} number
   * @returns {Promise<number[]>} none when there is no such piece
   */
  async arrangementOf(code, wish, number) {
    try {
      return (await this.places.counting.asking.ask({ code, wish }, { act: 'piece', number })).arrangement;
    } catch (error) {
      if (error instanceof Stopped) throw error;
      return [];
    }
  }

  /**
   * Keeps the series as it stands.
   * @param {boolean} worked whether something of it was set, and not only looked at
   */
  async keep(worked) {
    const { code: family, series, later } = this.places;
    if (!this.touched || !series) return;
    const of = { family, keys: series.form.keys };
    const code = await this.written('encode');
    if (code) later.tell(code, worked, of);
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
      if (error instanceof Stopped) return undefined;
      this.places.controller.announcer.refuse(error);
      this.places.later.giveUp();
      return undefined;
    }
  }

  /** @param {import('./messages.js').SeriesOrder} order */
  ask(order) {
    const { series, counting } = this.places;
    if (!series) throw new Stopped('No place is opened.');
    return counting.asking.ask({ code: '', wish: series.form.wish() }, order);
  }
}

/** @param {unknown} error */
export function sentence(error) {
  const text = error instanceof Error ? error.message : String(error);
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}
