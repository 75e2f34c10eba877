// @ts-check
/**
 * The places after the pairs, in the order of the work: series, making, finish,
 * files. Made when the first of them is opened; then one series stands behind
 * them all, counted anew when the family or its stations change.
 */
import { Stopped } from '../work/background.js';
import { fileName, saveText } from '../keep/files.js';
import { byId } from '../page/dom.js';
import { HOMES } from '../page/later-places.js';
import { Asking } from './asking.js';
import { FilesView } from './files-view.js';
import { KeptSeries, sentence } from './kept-series.js';
import { LeftSeries } from './left-series.js';
import { leadOn } from './onward.js';
import { PiecePlaces } from './piece-places.js';
import { SeriesView } from './series-view.js';
import { ShownPiece } from './shown-piece.js';
import { OUTLINE_STEPS } from './sketch.js';
import { markWideFrames } from './wide-frames.js';

/** How long the drawing must have been still, in milliseconds. */
const STILL = 300;
/** Points of the piece's picture, along and across. */
const GRID = { steps: 120, rows: 60 };

export class Places {
  /**
   * @param {import('../page/controller.js').Controller} controller
   * @param {import('../beside.js').Means} means
   * @param {import('../page/later-places.js').LaterPlaces} later
   */
  constructor(controller, means, later) {
    this.controller = controller;
    this.means = means;
    this.later = later;
    /** The places that were opened. @type {SeriesView | undefined} */
    this.series = undefined;
    /** @type {FilesView | undefined} */
    this.files = undefined;
    this.asking = new Asking(means, (busy) => this.series?.busy(busy));
    /** The family and stations that are counted. @type {import('./messages.js').Counted | undefined} */
    this.counted = undefined;
    /** @type {import('./messages.js').Count | undefined} */
    this.count = undefined;
    /** The piece that is shown. @type {import('./messages.js').Piece | undefined} */
    this.piece = undefined;
    /** The arrangement of the piece that was shown last. @type {number[] | undefined} */
    this.before = undefined;
    this.code = '';
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.due = undefined;
    this.kept = new KeptSeries(this);
    this.left = new LeftSeries(this);
    this.grid = GRID;
    this.ofPiece = new PiecePlaces(this);
    this.shown = new ShownPiece(this);
    this.homes = HOMES.map((id) => /** @type {HTMLDetailsElement} */ (byId(id)));
    leadOn(this.homes);
    markWideFrames(/** @type {HTMLElement} */ (this.homes[0].parentElement));
  }

  /** A place was opened. */
  open() {
    this.series ??= new SeriesView(byId('series'), this);
    this.files ??= new FilesView(byId('files'), this);
    if (!this.count || this.code !== this.controller.board.shareCode()) this.follow();
    else this.remake();
  }

  /** The curves have changed. */
  drawn() {
    if (!this.homes.some((home) => home.open)) return;
    clearTimeout(this.due);
    this.due = setTimeout(() => (this.controller.board.isDragging() ? this.drawn() : this.follow()), STILL);
  }

  /** Another work stands on the board. */
  take() {
    this.left.make(this.controller.board.shareCode());
    this.kept.take();
    this.asking.stop();
    this.series?.form.forget();
    this.series?.steps.take();
    this.code = '';
    this.count = this.piece = this.before = undefined;
    this.drawn();
  }

  /**
   * @param {string} text of a series file
   * @param {string} name of the file
   */
  async takeFile(text, name) {
    this.kept.pending = '';
    if (await this.kept.read({ act: 'read', text }, name) !== 'set') return;
    this.piece = this.before = undefined;
    this.series?.steps.add();
    await this.recount(true);
  }

  /** Takes the family as it stands, and the series that came with it. */
  async follow() {
    const { family, board } = this.controller;
    const code = board.shareCode();
    if (!family || !this.series) return;
    // The board may be a step ahead of the family that is shown.
    if (code === this.code && family.profiles.length === this.series.form.names.length) return;
    this.left.comeBack(code);
    this.code = code;
    this.series.form.update(family);
    await this.recount(false);
  }

  /** The person has set stations, blend or rules. */
  set() {
    this.kept.touched = true;
    this.series?.steps.add();
    this.recount(true);
  }

  /**
   * The family, the stations or the rules have changed.
   * @param {boolean} worked whether the person set them
   */
  async recount(worked) {
    const { series } = this;
    if (!series) return;
    this.before = this.piece?.arrangement ?? this.before;
    this.asking.stop();
    this.count = this.piece = undefined;
    this.series?.sheet.show([]);
    this.files?.show(undefined);
    const { round } = this.asking;
    await this.kept.readPending();
    if (round !== this.asking.round) return;
    if (worked) this.kept.keep(true);
    else if (!series.steps.held.past.length) series.steps.begin(series.form.snapshot());
    if (!series.form.names.length) {
      series.showTrouble('There is no profile yet: draw some above.', true);
      return;
    }
    this.counted = { code: this.code, wish: series.form.wish() };
    try {
      const { count, sketch } = await this.asking.ask(this.counted, { act: 'count', steps: OUTLINE_STEPS });
      this.count = count;
      series.showCount(count, sketch);
      if (count.empty) this.ofPiece.showNone();
      else {
        await this.shown.openFirst(this.before);
        this.later.arrive(series.told, series.part);
      }
    } catch (error) {
      if (error instanceof Stopped) return;
      series.refuse(sentence(error));
      this.ofPiece.showNone();
    }
  }

  stop() {
    this.asking.stop();
    if (!this.count) this.series?.showTrouble('The count was given up: change the stations to begin again.');
  }

  /**
   * @param {number} seed
   * @param {number} wanted
   */
  async choose(seed, wanted) {
    const pieces = await this.askOf({ act: 'choose', seed: Math.max(0, Math.round(seed) || 0), wanted: Math.max(0, Math.round(wanted) || 0) });
    if (!pieces) return;
    this.controller.announcer.settle();
    this.series?.sheet.show(pieces);
    this.files?.zip.show();
  }

  /** Saves the series as a file. */
  async save() {
    const text = await this.kept.written('write');
    if (text) saveText(fileName(this.controller.family?.name ?? '', 'series.json'), text);
  }

  /** Checks and finishes the piece anew, where that is to be seen. */
  async remake() {
    if (this.piece) await this.ofPiece.follow(this.piece);
  }

  /**
   * Asks about the counted series; what is wrong is told.
   * @param {import('./messages.js').SeriesOrder} order
   * @param {boolean} [quiet] whether it is not told
   * @returns {Promise<any>} nothing when there is no answer
   */
  async askOf(order, quiet = false) {
    const { answer, error } = await this.tryOf(order);
    if (error && !quiet) this.controller.announcer.refuse(error);
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

  /** The theme has changed. */
  repaint() {
    this.series?.picture.paint();
    this.series?.sheet.rebuild();
    this.ofPiece.repaint();
  }
}
