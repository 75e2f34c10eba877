// @ts-check
/**
 * The places after the pairs, in the order of the work: series, making, files.
 * Made when the first of them is opened; then one series stands behind
 * them all, counted anew when the family or its stations change.
 */
import { Stopped } from '../work/background.js';
import { byId } from '../page/dom.js';
import { HOMES } from '../page/later-places.js';
import { Asking } from './asking.js';
import { FilesView } from './files-view.js';
import { MakingView } from './making-view.js';
import { SeriesView } from './series-view.js';
import { OUTLINE_STEPS } from './sketch.js';

/** How long the drawing must have been still, in milliseconds. */
const STILL = 300;
/** Points of the piece's picture, along and across. */
const STEPS = 120;
const ROWS = 60;

export class Places {
  /**
   * @param {import('../page/controller.js').Controller} controller
   * @param {import('../beside.js').Means} means
   */
  constructor(controller, means) {
    this.controller = controller;
    this.means = means;
    /** The places that were opened. @type {SeriesView | undefined} */
    this.series = undefined;
    /** @type {MakingView | undefined} */
    this.making = undefined;
    /** @type {FilesView | undefined} */
    this.files = undefined;
    this.asking = new Asking(means, (busy) => this.series?.busy(busy));
    /** The family and stations that are counted. @type {import('./messages.js').Counted | undefined} */
    this.counted = undefined;
    /** @type {import('./messages.js').Count | undefined} */
    this.count = undefined;
    /** The piece that is shown. @type {import('./messages.js').Piece | undefined} */
    this.piece = undefined;
    this.code = '';
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.due = undefined;
    this.homes = HOMES.map((id) => /** @type {HTMLDetailsElement} */ (byId(id)));
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

  /** Takes the family as it stands. */
  follow() {
    const { family, board } = this.controller;
    const code = board.shareCode();
    if (!family || !this.series || code === this.code) return;
    this.code = code;
    const begun = this.series.form.stations.length > 0;
    this.series.form.update(family);
    if (begun) this.recount();
  }

  /** The family, the stations or the rules have changed. */
  async recount() {
    const { series } = this;
    if (!series) return;
    this.asking.stop();
    this.count = this.piece = undefined;
    this.series?.sheet.show([]);
    this.files?.show(undefined);
    if (!series.form.names.length) {
      series.showTrouble('There is no profile yet: draw some above.');
      return;
    }
    this.counted = { code: this.code, wish: series.form.wish() };
    try {
      const { count, sketch } = await this.asking.ask(this.counted, { act: 'count', steps: OUTLINE_STEPS });
      this.count = count;
      series.showCount(count, sketch);
      if (count.empty) this.making?.showTrouble('There is no piece to make: see Series.');
      else await this.openNumber('1');
    } catch (error) {
      if (error instanceof Stopped) return;
      series.showTrouble(sentence(error));
      this.making?.showTrouble('There is no piece to make: see Series.');
    }
  }

  stop() {
    this.asking.stop();
    if (!this.count) this.series?.showTrouble('The count was given up: change the stations to begin again.');
  }

  /** @param {string} number */
  openNumber(number) {
    return this.show({ act: 'piece', number });
  }

  /** @param {number[]} arrangement */
  openArrangement(arrangement) {
    return this.show({ act: 'pieceOf', arrangement });
  }

  /** @param {import('./messages.js').SeriesOrder} order */
  async show(order) {
    const piece = await this.askOf(order);
    // What is written in the fields goes back to what is shown.
    if (!piece && this.piece) this.series?.showPiece(this.piece);
    if (!piece) return;
    this.piece = piece;
    this.series?.showPiece(piece);
    this.files?.show(piece.number);
    const picture = await this.askOf({ act: 'picture', number: piece.number, steps: STEPS, rows: ROWS });
    if (picture && this.piece === piece) this.series?.picture.show(picture);
    await this.remake();
  }

  /**
   * @param {number} seed
   * @param {number} wanted
   */
  async choose(seed, wanted) {
    const pieces = await this.askOf({ act: 'choose', seed: Math.max(0, Math.round(seed) || 0), wanted: Math.max(0, Math.round(wanted) || 0) });
    if (!pieces) return;
    this.series?.sheet.show(pieces);
    this.files?.zip.show();
  }

  /** Measures and checks the piece anew, if that is to be seen. */
  async remake() {
    const { piece } = this;
    if (!this.homes[1].open || !piece) return;
    if (!this.making) {
      const begun = await this.askOf({ act: 'begin' });
      if (!begun) return;
      this.making ??= new MakingView(byId('making'), this, begun.shop, begun.materials);
    }
    const making = await this.askOf({ act: 'making', number: piece.number, shop: this.making.shop() });
    if (making && this.piece === piece) this.making.show(piece.number, making);
  }

  /**
   * Asks about the counted series; what is wrong is told.
   * @param {import('./messages.js').SeriesOrder} order
   * @returns {Promise<any>} nothing when there is no answer
   */
  async askOf(order) {
    if (!this.counted) return undefined;
    try {
      return await this.asking.ask(this.counted, order);
    } catch (error) {
      if (!(error instanceof Stopped)) this.controller.announcer.refuse(error);
      return undefined;
    }
  }

  /** The theme has changed. */
  repaint() {
    this.series?.picture.paint();
    this.series?.sheet.rebuild();
  }
}

/** @param {unknown} error */
function sentence(error) {
  const text = error instanceof Error ? error.message : String(error);
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}
