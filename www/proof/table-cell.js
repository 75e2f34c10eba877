// @ts-check
/**
 * One cell of the table of pairs: its sign, its sections, its margin, as large
 * as there is room for.
 */
import { drawing, element, sign } from '../page/dom.js';
import { VERDICTS } from '../page/messages.js';
import { placeOf } from './table-order.js';

/** The lower ends of the classes of margin, in mm; the first begins at nothing. */
export const MARGIN_CLASSES = [0, 0.1, 0.3, 1, 3, 10];
/** The word of the kernel for a pair that is not judged before one of its profiles is mended. */
const HELD = 'held up';

/**
 * What the cells are made from.
 * @typedef {object} Source
 * @property {import('../loftkin_page.js').Board} board
 * @property {string[]} reasons the words of the second byte of a cell
 * @property {Uint8Array} states verdict and reason of each pair
 * @property {Float64Array} margins in mm, of each pair; not a number where unknown
 *
 * @typedef {object} Look
 * @property {'sections' | 'margins' | 'signs'} view
 * @property {'full' | 'compact' | 'tiny'} level how much there is room for
 * @property {boolean} dimClear whether clear cells stand back
 */

export class TableCell {
  /**
   * @param {Source} source
   * @param {number} one a profile
   * @param {number} other a profile
   * @param {Look} look
   */
  constructor(source, one, other, look) {
    this.source = source;
    this.first = Math.min(one, other);
    this.second = Math.max(one, other);
    this.index = placeOf(one, other);
    this.look = look;
    this.state = -1;
    const alone = one === other ? ' alone' : '';
    this.home = element('td', {
      role: 'gridcell', tabindex: '-1', 'aria-selected': 'false', class: `cell ${look.level} ${look.view}${alone}`,
      'data-first': String(this.first), 'data-second': String(this.second),
    });
    // Tiny cells may be thousands: the style sheet draws their sign.
    if (look.level !== 'tiny') this.build();
    this.update(true);
  }

  build() {
    this.spoken = element('span', { class: 'hidden' });
    this.word = element('span', { class: 'word' });
    this.figure = element('span', { class: 'margin' });
    this.home.append(this.spoken);
    if (this.look.view === 'sections') {
      this.inner = drawing('path', { class: 'picture-inner' });
      this.ends = drawing('path', { class: 'picture-ends' });
      this.home.append(drawing('svg', { viewBox: '0 0 56 36', class: 'picture', 'aria-hidden': 'true' }, this.inner, this.ends));
    }
    this.home.append(this.word, this.figure);
  }

  /** @param {boolean} curves whether its curves may have changed */
  update(curves) {
    const { states } = this.source;
    const state = (holder(this, states) * 256 + states[2 * this.index]) * 256 + states[2 * this.index + 1];
    if (state !== this.state) {
      this.state = state;
      this.dress(states[2 * this.index], states[2 * this.index + 1]);
    }
    if (curves && this.inner && this.ends) {
      const [ends, inner] = this.source.board.cellPicture(this.first, this.second);
      this.ends.setAttribute('d', ends);
      this.inner.setAttribute('d', inner);
    }
    this.showMargin();
  }

  /**
   * @param {number} verdict
   * @param {number} reason
   */
  dress(verdict, reason) {
    const name = VERDICTS[verdict];
    this.home.dataset.verdict = name;
    this.home.classList.toggle('dim', this.look.dimClear && verdict === 0);
    const { before, word, by } = spoken(this, this.source);
    if (!this.spoken || !this.word) {
      this.home.setAttribute('aria-label', before + word + by);
      return;
    }
    this.spoken.textContent = this.look.level === 'full' ? before : before + word + by;
    const marks = this.look.level === 'full' ? [sign(name), element('span', {}, word), ...(by ? [element('span', { class: 'hidden' }, by)] : [])] : [sign(name)];
    this.word.replaceChildren(...marks);
  }

  showMargin() {
    const margin = this.source.margins[this.index];
    const known = Number.isFinite(margin);
    if (this.look.view === 'margins') {
      if (known) this.home.dataset.heat = String(marginClass(margin));
      else delete this.home.dataset.heat;
    }
    if (!this.figure) return;
    const full = this.look.level === 'full';
    if (full) this.figure.textContent = known ? `${marginFigure(margin, 10)} mm` : '';
    else if (this.look.view === 'margins') this.figure.textContent = known ? marginFigure(margin) : '';
  }
}

/**
 * What a screen reader says of a cell: whose it is, its word, and what holds it up.
 * @param {{first: number, second: number, index: number}} cell
 * @param {Source} source
 */
export function spoken({ first, second, index }, { states, reasons }) {
  const [name, word] = [VERDICTS[states[2 * index]], reasons[states[2 * index + 1]]];
  const whom = first === second ? `Profile ${first + 1} alone` : `Profiles ${first + 1} and ${second + 1}`;
  const by = word === HELD ? ` by profile ${holder({ first, second }, states)}` : '';
  return { before: word === name ? `${whom}: ` : `${whom}: ${name}, `, word, by };
}

/**
 * The number of the profile, of the two of a cell, that is not clear by itself; 0 where both are.
 * @param {{first: number, second: number}} cell
 * @param {Uint8Array} states
 */
function holder({ first, second }, states) {
  const isOpen = (/** @type {number} */ profile) => states[profile * (profile + 3)] !== 0;
  return first === second ? 0 : 1 + ([first, second].find(isOpen) ?? -1);
}

/**
 * @param {number} mm rounded down, for a margin must not be promised
 * @param {number} [short] from how many on one decimal has room, in mm
 */
export function marginFigure(mm, short = 100) {
  if (mm < 0.01) return '< 0.01';
  if (100 <= mm) return String(Math.floor(mm));
  return mm < short ? (Math.floor(mm * 100) / 100).toFixed(2) : (Math.floor(mm * 10) / 10).toFixed(1);
}

/** @param {number} mm */
function marginClass(mm) {
  return MARGIN_CLASSES.findLastIndex((least) => least <= mm);
}
