// @ts-check
/**
 * Which piece is shown: by number or by arrangement, and the first one after a
 * count.
 */

export class ShownPiece {
  /** @param {import('./places.js').Places} places */
  constructor(places) {
    this.places = places;
  }

  /**
   * Shows the piece that was wanted, else the one that was shown, if it is one still, else the first.
   * @param {number[] | undefined} before the arrangement that was shown
   */
  async openFirst(before) {
    const { kept } = this.places;
    const { wanted } = kept;
    kept.wanted = undefined;
    if (wanted && await this.show({ act: 'piece', number: wanted })) return;
    if (!wanted && before && await this.show({ act: 'pieceOf', arrangement: before }, true)) return;
    await this.show({ act: 'piece', number: '1' });
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
   * @returns {Promise<boolean>} whether there is
   */
  async show(order, quiet = false) {
    const { places } = this;
    const piece = await places.askOf(order, quiet);
    // What is written in the fields goes back to what is shown.
    if (!piece && places.piece) places.series?.showPiece(places.piece);
    if (!piece) return false;
    places.piece = piece;
    places.series?.showPiece(piece);
    places.files?.show(piece.number);
    places.kept.keep(false);
    const picture = await places.askOf({ act: 'picture', number: piece.number, ...places.grid });
    if (places.piece !== piece) return true;
    places.series?.picture.show(picture);
    places.ofPiece.show(picture);
    await places.remake();
    return true;
  }
}
