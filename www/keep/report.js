// @ts-check
/**
 * The report for paper: the table, what is the matter, the settings and the
 * link, on one page, and on another what is known of making the shown piece. It
 * is made when the browser prints and gone afterwards.
 */
import { byId, drawing, element } from '../page/dom.js';
import { VERDICTS } from '../page/messages.js';
import { MARGIN } from '../page/words.js';
import { linkTo } from './link.js';
import { qrPicture, tooLong } from './qr.js';

/** With more profiles than this the cells hold their sign alone. */
const MOST_WORDS = 12;
/** With more profiles than this the table is no longer to be read on one page. */
const MOST_ROWS = 40;
/** As many findings have room. */
const MOST_FINDINGS = 6;
/** A longer link is no longer typed by anybody, and takes the room of the rest. */
const MOST_LINK = 900;

/**
 * @typedef {object} CellReport
 * @property {number} first
 * @property {number} second
 * @property {string} label
 * @property {'clear' | 'faulty' | 'unproven'} verdict
 * @property {number | null | undefined} margin mm
 * @property {import('../page/messages.js').Saying[]} sayings
 */

export class Report {
  /**
   * @param {HTMLElement} place
   * @param {import('../loftkin_page.js').Board} board
   * @param {{code: () => string, making: () => Node[]}} more the code of the family and its series, and what is known of making the shown piece
   */
  constructor(place, board, { code, making }) {
    this.place = place;
    this.board = board;
    this.code = code;
    this.making = making;
    place.replaceChildren();
    place.hidden = true;
    place.toggleAttribute('data-ready', true);
    window.addEventListener('beforeprint', () => this.fill());
    window.addEventListener('afterprint', () => {
      place.hidden = true;
      place.replaceChildren();
    });
  }

  fill() {
    const family = /** @type {import('../page/messages.js').Family} */ (this.board.family());
    const cells = /** @type {CellReport[]} */ (this.board.cellReports());
    const whole = /** @type {import('../page/messages.js').AnyBlend | null} */ (this.board.anyBlend());
    this.place.replaceChildren(
      element('h1', {}, family.name || 'Family without a name'),
      element('p', {}, counts(cells)),
      element('p', {}, settings(family.settings)),
      this.profiles(family),
      table(family, cells),
      ...findings(cells),
      ...(whole ? [element('p', {}, element('b', {}, 'Any blend of the whole family: '), whole.anyBlend.what)] : []),
      this.link(),
      element('p', { class: 'small-print' }, `Judged by Loftkin on ${new Date().toLocaleDateString()}. Clear means proved for the ruled loft through like points of two profiles; a margin is ${MARGIN}. All lengths in mm.`),
      ...this.making(),
    );
    this.place.hidden = false;
  }

  /** @param {import('../page/messages.js').Family} family */
  profiles(family) {
    if (MOST_WORDS < family.profiles.length) return element('p', {}, `${family.profiles.length} profiles.`);
    return element('ul', { class: 'report-profiles' }, ...family.profiles.map((profile, index) => {
      const [curve] = this.board.cellPicture(index, index);
      const picture = drawing('svg', { viewBox: '0 0 56 36', class: 'picture', 'aria-hidden': 'true' }, drawing('path', { class: 'picture-ends', d: curve }));
      return element('li', {}, picture, `${[index + 1, profile.name].filter(Boolean).join(' ')}, ${profile.nodes} nodes`);
    }));
  }

  /** The link with the series, where a code holds that; else the family's alone, and why. */
  link() {
    const [whole, family] = [this.code(), this.board.shareCode()].map(linkTo);
    const both = qrPicture(whole);
    const picture = both ?? qrPicture(family);
    const link = both ? whole : family;
    const title = whole === family ? 'The whole family' : both ? 'The family, its series and the piece that is shown' : 'The family without its series';
    const scan = picture ? 'The link is too long to be printed: scan the code.' : `${tooLong(link)} Ask for the family file.`;
    const left = picture ? ` ${tooLong(whole, 'With its series the link')} Ask for the series file.` : ' Ask for the series file too.';
    return element('div', { class: 'report-link' }, ...(picture ? [picture] : []),
      element('p', {}, element('b', {}, `${title}: `), link.length <= MOST_LINK ? link : scan, link === whole ? '' : left));
  }
}

/** @param {CellReport[]} cells */
function counts(cells) {
  const pairs = cells.filter(({ first, second }) => first !== second);
  const told = VERDICTS.map((verdict) => `${pairs.filter((cell) => cell.verdict === verdict).length} ${verdict}`);
  return `${pairs.length} ${pairs.length === 1 ? 'pair' : 'pairs'}: ${told.join(', ')}.`;
}

/** @param {import('../page/messages.js').Settings} settings */
function settings({ pacing, placement, twistLimit, creaseLimit }) {
  const where = placement === 'ring' ? 'a ring around the axis x = 0' : 'a stack of parallel planes';
  return `Placed in ${where}, paced by ${pacing}; twist up to ${twistLimit} degrees, creases up to ${creaseLimit} degrees.`;
}

/**
 * @param {import('../page/messages.js').Family} family
 * @param {CellReport[]} cells
 */
function table(family, cells) {
  const size = family.profiles.length;
  if (size === 0) return element('p', {}, 'No profile is drawn yet.');
  if (MOST_ROWS < size) return element('p', {}, `A table of ${size} profiles does not fit on a page.`);
  const numbers = family.profiles.map((_, index) => String(index + 1));
  const rows = numbers.map((number, second) => element('tr', {},
    element('th', { scope: 'row' }, number),
    ...cells.filter((cell) => cell.second === second).map((cell) => element('td', {}, ...inCell(cell, size <= MOST_WORDS)))));
  const foot = element('tr', {}, element('td', {}), ...numbers.map((number) => element('th', { scope: 'col' }, number)));
  return element('table', { class: size <= MOST_WORDS ? 'report-table' : 'report-table dense' }, element('tbody', {}, ...rows, foot));
}

/**
 * A sign with its own shapes: not every browser draws a symbol from a part of the page that is not printed.
 * @param {string} verdict
 */
function sign(verdict) {
  const shapes = byId(`sign-${verdict}`).cloneNode(true).children;
  return drawing('svg', { class: `sign sign-${verdict}`, viewBox: '0 0 16 16', 'aria-hidden': 'true' }, ...shapes);
}

/**
 * @param {CellReport} cell
 * @param {boolean} wordy
 */
function inCell({ verdict, margin }, wordy) {
  if (!wordy) return [sign(verdict), element('span', { class: 'hidden' }, verdict)];
  const room = typeof margin === 'number' ? [element('span', { class: 'margin' }, `${(Math.floor(margin * 100) / 100).toFixed(2)} mm`)] : [];
  return [element('span', { class: 'word' }, sign(verdict), verdict), ...room];
}

/** @param {CellReport[]} cells */
function findings(cells) {
  const wrong = cells.filter(({ sayings }) => sayings.length);
  wrong.sort((one, other) => VERDICTS.indexOf(other.verdict) % 2 - VERDICTS.indexOf(one.verdict) % 2);
  if (!wrong.length) return [];
  const more = wrong.length - MOST_FINDINGS;
  return [
    element('h2', {}, 'What is not clear'),
    element('ul', { class: 'report-findings' }, ...wrong.slice(0, MOST_FINDINGS).map(({ label, sayings: [saying] }) => element('li', {},
      element('b', {}, `${label.charAt(0).toUpperCase()}${label.slice(1)}: `),
      [saying.what, saying.place && `Where: ${saying.place}.`, saying.right].filter(Boolean).join(' ')))),
    ...(0 < more ? [element('p', {}, `And ${more} more.`)] : []),
  ];
}
