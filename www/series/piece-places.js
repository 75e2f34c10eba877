// @ts-check
/**
 * The places that take the piece that is shown: Making and Finish. Each is made
 * when it is first opened, and works only while it is open.
 */
import { byId } from '../page/dom.js';
import { FinishView } from './finish-view.js';
import { MakingView } from './making-view.js';

export class PiecePlaces {
  /** @param {import('./places.js').Places} places */
  constructor(places) {
    this.places = places;
    /** @type {MakingView | undefined} */
    this.making = undefined;
    /** @type {FinishView | undefined} */
    this.finish = undefined;
    /** Of the piece that is shown. @type {import('./messages.js').Picture | undefined} */
    this.picture = undefined;
  }

  /** @param {import('./messages.js').Picture | undefined} picture */
  show(picture) {
    this.picture = picture;
    this.making?.picture.show(picture);
    this.finish?.picture.show(picture);
  }

  /** Another piece is on its way: what is shown is of the one before. */
  redo() {
    this.making?.redo();
    this.finish?.redo();
  }

  /** There is no piece. */
  showNone() {
    this.picture = undefined;
    this.making?.showTrouble('There is no piece to make: see Series.');
    this.finish?.showTrouble('There is no piece to finish: see Series.');
  }

  /**
   * Works out anew what is to be seen.
   * @param {import('./messages.js').Piece} piece
   */
  async follow(piece) {
    if (isOpen('finish-place')) {
      if (!this.finish) {
        this.finish = new FinishView(byId('finish'), this.places);
        this.finish.picture.show(this.picture);
      }
      await this.finish.follow(piece.number);
    }
    if (!isOpen('making-place') || this.places.piece !== piece) return;
    const begun = this.making ? undefined : await this.places.counting.askOf({ act: 'begin' });
    if (!this.making && begun) {
      this.making = new MakingView(byId('making'), this.places, begun);
      this.making.picture.show(this.picture);
    }
    await this.making?.follow(piece.number);
  }

  /** The theme has changed. */
  repaint() {
    this.making?.repaint();
    this.finish?.repaint();
  }
}

/** @param {string} id */
function isOpen(id) {
  return /** @type {HTMLDetailsElement} */ (byId(id)).open;
}
