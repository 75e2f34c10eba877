// @ts-check
/**
 * A part of the page that a button of the head opens below it and closes
 * again. One is open at a time; Escape closes it.
 */

/** @type {Flap | null} */
let standing = null;

export class Flap {
  /**
   * @param {HTMLElement} place
   * @param {HTMLButtonElement} opener
   * @param {() => void} fill makes what is in it, each time it opens
   */
  constructor(place, opener, fill) {
    this.place = place;
    this.opener = opener;
    this.fill = fill;
    opener.addEventListener('click', () => this.show(place.hidden === true));
    place.addEventListener('keydown', (event) => {
      if (event.key === 'Escape') this.show(false);
    });
  }

  /** @param {boolean} open */
  show(open) {
    if (open && standing !== this) standing?.close();
    if (open) {
      standing = this;
      this.fill();
      this.place.hidden = false;
      this.opener.setAttribute('aria-expanded', 'true');
      this.place.scrollIntoView({ block: 'nearest' });
      /** @type {HTMLElement | null} */ (this.place.querySelector('button, input'))?.focus();
    } else {
      this.close();
      this.opener.focus();
    }
  }

  close() {
    this.place.hidden = true;
    this.opener.setAttribute('aria-expanded', 'false');
    if (standing === this) standing = null;
  }
}
