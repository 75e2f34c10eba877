// @ts-check
/**
 * The places after the pairs, in the order of the work: series, making, finish,
 * files. Made when the first of them is opened; then one series stands behind
 * them all, counted anew when the family or its stations change.
 */
import { fileName, saveText } from '../keep/files.js';
import { byId } from '../page/dom.js';
import { HOMES } from '../page/later-places.js';
import { Counting } from './counting.js';
import { FilesView } from './files-view.js';
import { KeptSeries } from './kept-series.js';
import { LeftSeries } from './left-series.js';
import { leadOn } from './onward.js';
import { PiecePlaces } from './piece-places.js';
import { SeriesView } from './series-view.js';
import { ShownPiece } from './shown-piece.js';
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
    this.counting = new Counting(this);
    /** The piece that is shown. @type {import('./messages.js').Piece | undefined} */
    this.piece = undefined;
    /** The work that stands on the board, and its family as it was followed last. */
    this.work = controller.board.work();
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
    if (this.counting.count && this.hasFollowed()) this.remake();
    else this.follow();
  }

  /** Whether the family on the board is the one that was followed last, with the same profiles. */
  hasFollowed() {
    const { board } = this.controller;
    return board.shareCode() === this.code && board.profileKeys().join() === this.series?.form.keys.join();
  }

  /** The curves have changed. */
  drawn() {
    const { isBehind } = this.later.series;
    if (!isBehind && !this.homes.some((home) => home.open)) return;
    const dragging = this.controller.board.isDragging();
    clearTimeout(this.due);
    this.due = setTimeout(() => (dragging ? this.drawn() : this.follow()), isBehind && !dragging ? 0 : STILL);
  }

  /** Another work stands on the board. */
  take() {
    const { board } = this.controller;
    this.left.make(board.work());
    this.begin();
    this.drawn();
  }

  /** Begins with what came with the work on the board. */
  begin() {
    this.work = this.controller.board.work();
    this.code = '';
    this.kept.take();
    this.counting.forget();
    this.series?.form.forget();
    this.series?.steps.take();
    this.piece = this.shown.before = undefined;
    this.ofPiece.redo();
  }

  /**
   * @param {string} text of a series file
   * @param {string} name of the file
   */
  async takeFile(text, name) {
    this.kept.pending = undefined;
    const { form, steps } = /** @type {SeriesView} */ (this.series);
    if (await this.kept.read({ act: 'read', text }, { family: this.code, keys: form.keys }, name) !== 'set') return;
    this.piece = this.shown.before = undefined;
    steps.add();
    await this.counting.recount(true);
  }

  /** Takes the family as it stands, and the series that came with it. */
  async follow() {
    const { series, controller: { board } } = this;
    if (!series || this.hasFollowed()) return;
    if (board.work() !== this.work) this.left.comeBack(board.work());
    this.code = board.shareCode();
    series.form.update(board.family(), [...board.profileKeys()]);
    await this.counting.recount(false);
  }

  /** The person has set stations, blend or rules. */
  set() {
    this.kept.touched = true;
    this.series?.steps.add();
    this.counting.recount(true);
  }

  /**
   * @param {number} seed
   * @param {number} wanted
   */
  async choose(seed, wanted) {
    const pieces = await this.counting.askOf({ act: 'choose', seed: Math.max(0, Math.round(seed) || 0), wanted: Math.max(0, Math.round(wanted) || 0) });
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

  /** The theme has changed. */
  repaint() {
    this.series?.picture.paint();
    this.series?.sheet.rebuild();
    this.ofPiece.repaint();
  }
}
