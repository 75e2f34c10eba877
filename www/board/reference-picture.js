// @ts-check
/**
 * A picture under the curves, to draw after. It is shown from the person's own
 * disk and kept in this browser only; where it stands is the board's to say.
 */
import { element } from '../page/dom.js';
import { forgetPicture, keepPicture, keptPicture } from './picture-store.js';

/** Kinds of pictures that browsers show. */
export const KINDS = ['image/png', 'image/jpeg', 'image/webp', 'image/gif', 'image/avif', 'image/bmp'];
/** The largest file in bytes, and the most pixels: beyond them a phone gives up. */
const LARGEST = 30_000_000;
const MOST_PIXELS = 50_000_000;

export class ReferencePicture {
  /**
   * @param {HTMLElement} sheet
   * @param {import('../page/controller.js').Controller} controller
   */
  constructor(sheet, controller) {
    this.controller = controller;
    this.board = controller.board;
    this.image = /** @type {HTMLImageElement} */ (element('img', { class: 'reference', alt: '' }));
    this.image.hidden = true;
    sheet.prepend(element('div', { class: 'under' }, this.image));
    /** @type {Blob | null} */
    this.blob = null;
    this.standing = '';
    /** Whether it was said that the picture is not kept. */
    this.refused = false;
  }

  /** Lays the picture of the last visit, if there is one. */
  async restore() {
    const kept = await keptPicture();
    if (!kept || this.blob) return;
    try {
      await this.show(kept.blob, 'the kept picture', kept.place);
    } catch {
      // What cannot be shown any more is not worth a word at the start.
      forgetPicture();
    }
  }

  /**
   * Lays a picture under the curves, or says why not.
   * @param {Blob} blob
   * @param {string} name
   */
  async lay(blob, name) {
    try {
      await this.show(blob, `“${name}”`);
      this.controller.announcer.settle();
    } catch (error) {
      this.controller.announcer.refuse(error);
    }
  }

  /**
   * @param {Blob} blob
   * @param {string} name
   * @param {import('./picture-store.js').Kept['place']} [place] where it was
   */
  async show(blob, name, place) {
    const kind = await kindOf(blob);
    if (!kind && /\.(png|jpe?g|webp|gif|avif|bmp)”$/i.test(name)) throw new Error(`${name} is a damaged picture, or none at all: it does not begin as its kind of file does. Save or export it anew`);
    if (!kind) throw new Error(`${name} is no picture that can be laid under the curves: give a PNG, JPEG, WebP, GIF, AVIF or BMP file. A drawing of curves is opened from “Families”`);
    if (LARGEST < blob.size) throw new Error(`${name} has ${Math.ceil(blob.size / 1e6)} MB: give a picture of ${LARGEST / 1e6} MB at most`);
    const url = URL.createObjectURL(new Blob([blob], { type: kind }));
    try {
      const { width, height } = await sizeOf(url, name);
      if (MOST_PIXELS < width * height) throw new Error(`${name} has ${width} by ${height} pixels: give a picture of ${MOST_PIXELS / 1e6} million pixels at most`);
      this.controller.act(() => {
        this.board.layReference(width, height);
        if (place) this.board.placeReference(...place);
      });
    } catch (error) {
      URL.revokeObjectURL(url);
      throw error;
    }
    URL.revokeObjectURL(this.image.src);
    this.image.src = url;
    this.blob = blob;
  }

  remove() {
    this.board.removeReference();
    URL.revokeObjectURL(this.image.src);
    this.image.removeAttribute('src');
    this.blob = null;
    forgetPicture();
  }

  /** Puts the picture where the board has it. */
  paint() {
    const laid = this.board.reference();
    this.image.hidden = laid.length === 0;
    if (!laid.length) return;
    const [x, y, width, height, strength] = laid;
    const [left, top] = this.board.toScreen(x, y + height);
    const [right, bottom] = this.board.toScreen(x + width, y);
    const { style } = this.image;
    style.width = `${right - left}px`;
    style.height = `${bottom - top}px`;
    style.transform = `translate(${left}px, ${top}px)`;
    style.opacity = String(strength);
    this.keep([x, y, width, strength]);
  }

  /** @param {import('./picture-store.js').Kept['place']} place */
  keep(place) {
    const standing = place.join();
    if (standing === this.standing || !this.blob) return;
    this.standing = standing;
    clearTimeout(this.later);
    const { blob } = this;
    this.later = setTimeout(() => { if (this.blob === blob) this.store({ blob, place }); }, 500);
  }

  /** @param {import('./picture-store.js').Kept} kept */
  async store(kept) {
    if (await keepPicture(kept) || this.refused) return;
    this.refused = true;
    this.controller.announcer.tell('This browser does not keep the picture under the curves: it is gone when the page is left. Have its file at hand to lay it again.');
  }
}

/**
 * The kind of a picture by its first bytes: a name can be wrong.
 * @param {Blob} blob
 */
async function kindOf(blob) {
  const head = new Uint8Array(await blob.slice(0, 16).arrayBuffer());
  const text = String.fromCharCode(...head);
  if (text.startsWith('\x89PNG\r\n')) return 'image/png';
  if (text.startsWith('\xff\xd8\xff')) return 'image/jpeg';
  if (text.startsWith('RIFF') && text.slice(8, 12) === 'WEBP') return 'image/webp';
  if (text.startsWith('GIF8')) return 'image/gif';
  if (['ftypavif', 'ftypavis'].includes(text.slice(4, 12))) return 'image/avif';
  return text.startsWith('BM') ? 'image/bmp' : '';
}

/**
 * @param {string} url
 * @param {string} name
 * @returns {Promise<{width: number, height: number}>} in pixels
 */
function sizeOf(url, name) {
  const image = new Image();
  return new Promise((resolve, reject) => {
    image.onload = () => resolve({ width: image.naturalWidth, height: image.naturalHeight });
    image.onerror = () => reject(new Error(`${name} begins like a picture but cannot be read as one: it may be damaged or cut off`));
    image.src = url;
  });
}
