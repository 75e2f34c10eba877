// @ts-check
/**
 * The series as it is counted for the family and the stations: what all places
 * ask about.
 */
import { Stopped } from '../work/background.js';
import { Asking } from './asking.js';
import { sentence } from './kept-series.js';
import { OUTLINE_STEPS } from './sketch.js';

export class Counting {
  /** @param {import('./places.js').Places} places */
  constructor(places) {
    this.places = places;
    this.asking = new Asking(places.means, (busy) => places.series?.busy(busy));
    /** The family and stations that are counted. @type {import('./messages.js').Counted | undefined} */
    this.counted = undefined;
    /** @type {import('./messages.js').Count | undefined} */
    this.count = undefined;
    /** What was told last of profiles that are gone. */
    this.told = '';
  }

  /** Gives up what is asked and what was counted. */
  forget() {
    this.asking.stop();
    this.count = undefined;
  }

  /**
   * The family, the stations or the rules have changed.
   * @param {boolean} worked whether the person set them
   */
  async recount(worked) {
    const { places } = this;
    const { series, kept } = places;
    if (!series) return;
    this.forget();
    places.piece = undefined;
    series.sheet.show([]);
    series.dim(true);
    places.ofPiece.redo();
    places.files?.show(undefined);
    const { round } = this.asking;
    await kept.readPending();
    if (round !== this.asking.round) return;
    if (!worked) this.tellGone(series.form.gone.text);
    // What is kept and linked waits for it when profiles stand elsewhere.
    if (worked || places.later.series.isBehind) kept.keep(worked);
    if (!worked && !series.steps.held.past.length) series.steps.begin(series.form.snapshot());
    if (!series.form.names.length) {
      series.showTrouble('There is no profile yet: draw some above.', true);
      places.ofPiece.showNone();
      return;
    }
    this.counted = { code: places.code, wish: series.form.wish() };
    try {
      const { count, sketch } = await this.asking.ask(this.counted, { act: 'count', steps: OUTLINE_STEPS });
      this.count = count;
      series.showCount(count, sketch);
      if (count.empty) places.ofPiece.showNone();
      else {
        await places.shown.openFirst();
        places.later.arrive(series.told, series.part);
      }
    } catch (error) {
      if (error instanceof Stopped) return;
      series.refuse(sentence(error));
      places.ofPiece.showNone();
    }
  }

  /**
   * Whoever works at the drawing does not see the stations.
   * @param {string} gone what they allow and the drawing lacks, in words
   */
  tellGone(gone) {
    if (gone && gone !== this.told) this.places.controller.announcer.tell(`Series: ${gone}`);
    this.told = gone;
  }

  /** The person gives up what is being worked out. */
  stop() {
    const { series, kept, later } = this.places;
    this.asking.stop();
    if (later.series.isBehind) kept.keep(false);
    if (this.count) return;
    series?.showTrouble('The count was given up: change the stations to begin again.');
    this.places.ofPiece.showNone();
  }

  /**
   * Asks about the counted series; what is wrong is told.
   * @param {import('./messages.js').SeriesOrder} order
   * @param {boolean} [quiet] whether it is not told
   * @returns {Promise<any>} nothing when there is no answer
   */
  async askOf(order, quiet = false) {
    const { answer, error } = await this.tryOf(order);
    if (error && !quiet) this.places.controller.announcer.refuse(error);
    return answer;
  }

  /**
   * The same where what is wrong is shown in its place.
   * @param {import('./messages.js').SeriesOrder} order
   * @returns {Promise<{answer?: any, error?: unknown}>} neither when it was given up
   */
  async tryOf(order) {
    if (!this.counted) return {};
    try {
      return { answer: await this.asking.ask(this.counted, order) };
    } catch (error) {
      return error instanceof Stopped ? {} : { error };
    }
  }
}
