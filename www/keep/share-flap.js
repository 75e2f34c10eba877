// @ts-check
/**
 * What a person can hand on: the link, the same as a QR code, files, a
 * printed report. It shows what it is told and reports what is asked.
 */
import { button, element } from '../page/dom.js';
import { Flap } from '../page/flap.js';
import { caution, held } from './link.js';
import { qrPicture, tooLong } from './qr.js';

/**
 * @typedef {object} Wishes
 * @property {() => void} copyLink
 * @property {() => void} saveFile
 * @property {() => void} saveDrawing
 * @property {() => void} print
 */

export class ShareFlap {
  /**
   * @param {HTMLElement} place
   * @param {HTMLButtonElement} opener
   * @param {() => string} link of the family on the board and its series
   * @param {Wishes} wishes
   */
  constructor(place, opener, link, wishes) {
    this.place = place;
    this.link = link;
    this.wishes = wishes;
    this.flap = new Flap(place, opener, () => this.fill());
  }

  /** The family has changed: the link that is shown is of before. */
  update() {
    if (this.place.hidden || this.link() === this.shown) return;
    const focused = [...this.place.querySelectorAll('button, input')].findIndex((part) => part === document.activeElement);
    this.fill();
    /** @type {HTMLElement | undefined} */ ([...this.place.querySelectorAll('button, input')][focused])?.focus();
  }

  fill() {
    const link = this.link();
    this.shown = link;
    const { copyLink, saveFile, saveDrawing, print } = this.wishes;
    const field = /** @type {HTMLInputElement} */ (element('input', { type: 'text', readonly: true, value: link, 'aria-label': 'The link', focus: () => field.select() }));
    const item = (/** @type {string} */ text, /** @type {() => void} */ act) => element('li', {}, button(text, act));
    this.place.replaceChildren(
      element('div', { class: 'menu-group' },
        element('h2', {}, 'Link'),
        element('p', {}, `It holds ${held(link)}. It has ${link.length.toLocaleString('en')} characters, and whoever opens it sees the same verdicts. ${caution(link)}`),
        element('p', { class: 'link-row' }, field, button('Copy the link', copyLink))),
      element('div', { class: 'menu-group' },
        element('h2', {}, 'QR code'),
        qrPicture(link) ?? element('p', {}, `${tooLong(link)} Copy the link, or save a file.`)),
      element('div', { class: 'menu-group' },
        element('h2', {}, 'Files and paper'),
        element('ul', {}, item('Save the family file', saveFile), item('Save the profiles as SVG', saveDrawing), item('Print the report', print))),
    );
  }
}
