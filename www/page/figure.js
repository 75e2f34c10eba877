// @ts-check
/**
 * Figures as people type them: comma and point are decimal marks alike, and
 * thousands take none. crate/exchange/src/number.rs reads the same for the
 * command; crate/exchange/tests/numbers.json holds both to one table.
 *
 * A field for figures is one for text: what a browser makes of a comma in a
 * field for numbers depends on its language, and some drop it.
 */
import { element } from './dom.js';

const SIZE = '[+−\\-]?(\\d+[.,]?\\d*|[.,]\\d+)';
const FIGURE = new RegExp(`^${SIZE}$`);
const EXPONENT = new RegExp(`^${SIZE}e[+−\\-]?\\d+$`, 'i');
const MARKS = /^[+−-]?[\d.,]*\d[\d.,]*$/;
/** The most characters of a quotation, and digits of a figure. */
const MOST = 40;

/**
 * @param {string} text
 * @returns {number} not a number when {@link wrongIn} says why
 */
export function readFigure(text) {
  return wrongIn(text) ? NaN : Number(text.trim().replace(',', '.').replace('−', '-'));
}

/**
 * Why a text is no figure, and what would be right.
 * @param {string} text
 * @returns {string} empty when it is one
 */
export function wrongIn(text) {
  const typed = text.trim();
  if (!typed) return 'no number is given: give one, as 112.5 or 112,5';
  if (FIGURE.test(typed)) return typed.replace(/^[+−-]/, '').length <= MOST ? '' : `“${quoted(typed)}” has too many digits: give ${MOST} at most`;
  if (EXPONENT.test(typed)) return `“${quoted(typed)}” has an exponent: write all digits, as 2500 or 0,0025`;
  if (MARKS.test(typed)) return `“${quoted(typed)}” has a second decimal mark: write thousands without one, as 1234,5`;
  return `“${quoted(typed)}” is no number: give digits with at most one decimal mark, as 112.5 or 112,5`;
}

/**
 * Cut, and with escapes for what cannot be seen.
 * @param {string} text
 */
function quoted(text) {
  let [seen, count] = ['', 0];
  for (const letter of text) {
    const shown = /(?! )[\p{C}\p{Z}]/u.test(letter) ? (letter === '\t' ? '\\t' : `\\u{${letter.codePointAt(0)?.toString(16)}}`) : letter;
    count += [...shown].length;
    if (MOST < count) return `${seen}…`;
    seen += shown;
  }
  return seen;
}

/**
 * A field for a figure. What is typed there and is none is refused in words
 * before anything takes it; arrows step it.
 * @param {Record<string, string | boolean | ((event: any) => void)>} attributes its `step` is that of the arrows;
 *   without a sign a phone shows digits only, for on some the keys of digits have no minus
 * @returns {HTMLInputElement}
 */
export function figureField({ step = '1', signed = false, ...attributes } = {}) {
  return /** @type {HTMLInputElement} */ (element('input', { type: 'text', autocomplete: 'off', pattern: `\\s*${SIZE}\\s*`, 'data-figure': String(step), ...(signed ? {} : { inputmode: 'decimal' }), ...attributes }));
}

/**
 * The figure in a field: not a number when it is empty or holds none.
 * @param {HTMLInputElement} field
 */
export function figureOf(field) {
  return readFigure(field.value);
}

/** What each field held when it was entered, or took last. @type {WeakMap<HTMLInputElement, string>} */
const held = new WeakMap();

/**
 * Watches over all fields for figures, before what else listens to them. What
 * is refused gives way to what the field held, so that no later reading of the
 * field finds something else than the page goes by; the refusal quotes it.
 * @param {(words: string) => void} refuse
 */
export function watchFigures(refuse) {
  document.addEventListener('focusin', (event) => {
    const field = fieldOf(event);
    if (field) held.set(field, field.value);
  });
  document.addEventListener('change', (event) => {
    const field = fieldOf(event);
    const words = field?.value && wrongIn(field.value);
    if (!field) return;
    // After all that listens has taken it, and perhaps put another in its place.
    setTimeout(() => held.set(field, field.value));
    if (!words) return;
    event.stopImmediatePropagation();
    field.value = held.get(field) ?? field.value;
    refuse(`${field.getAttribute('aria-label') ?? field.labels?.[0]?.textContent?.trim()}: ${words}`);
  }, true);
  document.addEventListener('keydown', (event) => {
    const field = fieldOf(event);
    const way = { ArrowUp: 1, ArrowDown: -1 }[event.key];
    if (!field || !way || !Number.isFinite(figureOf(field))) return;
    event.preventDefault();
    field.value = String(Math.round((figureOf(field) + way * Number(field.dataset.figure)) * 1e6) / 1e6);
    field.dispatchEvent(new Event('change', { bubbles: true }));
  }, true);
}

/** @param {Event} event */
function fieldOf({ target }) {
  return target instanceof HTMLInputElement && target.dataset.figure && !target.disabled ? target : undefined;
}
