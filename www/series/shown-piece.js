// @ts-check
/**
 * Which piece is shown: by number or by arrangement, and the first one after a
 * count.
 */

export class ShownPiece {
  /** @param {import('./places.js').Places} places */
  constructor(places) {
    this.places = places;
    /** The profiles of the piece that was shown last, by keys. @type {number[] | undefined} */
    this.before = undefined;
  }

  /**
   * Shows the piece that was wanted, else the one that was shown, if it is one still, else the first: then
   * the one that was shown comes back when it is a piece again.
   */
  async openFirst() {
    const { before, places: { kept, series } } = this;
    const { wanted } = kept;
    kept.wanted = undefined;
    if (wanted && await this.show({ act: 'piece', number: wanted })) return;
    const arrangement = before?.map((key) => series?.form.keys.indexOf(key) ?? -1) ?? [];
    if (!wanted && before && !arrangement.includes(-1) && await this.show({ act: 'pieceOf', arrangement }, true)) return;
    await this.show({ act: 'piece', number: '1' }, false, before);
  }

  /** @param {string} number */
  openNumber(number) {
    this.places.kept.touched = true;
    return this.wished({ act: 'piece', number });
  }

  /** @param {number[]} arrangement */
  openArrangement(arrangement) {
    this.places.kept.touched = true;
    return this.wished({ act: 'pieceOf', arrangement });
  }

  /**
   * Shows a piece that the person asks for: with it, what was refused before is answered.
   * @param {import('./messages.js').SeriesOrder} order
   */
  async wished(order) {
    const there = await this.show(order);
    if (there) this.places.controller.announcer.settle();
    return there;
  }

  /**
   * @param {import('./messages.js').SeriesOrder} order
   * @param {boolean} [quiet] whether nothing is said when there is no such piece
   * @param {number[]} [before] the profiles of the piece that it stands for
   * @returns {Promise<boolean>} whether there is
   */
  async show(order, quiet = false, before = undefined) {
    const { places } = this;
    const keys = places.series?.form.keys ?? [];
    const piece = await places.counting.askOf(order, quiet);
    // What is written in the fields goes back to what is shown.
    if (!piece && places.piece) places.series?.showPiece(places.piece);
    if (!piece) return false;
    places.piece = piece;
    this.before = before ?? piece.arrangement.map((/** @type {number} */ place) => keys[place]);
    places.series?.showPiece(piece);
    places.files?.show(piece.number);
    places.kept.keep(false);
    const picture = await places.counting.askOf({ act: 'picture', number: piece.number, ...places.grid });
    if (places.piece !== piece) return true;
    places.series?.picture.show(picture);
    places.ofPiece.show(picture);
    await places.remake();
    return true;
  }
}
