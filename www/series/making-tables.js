// @ts-check
/**
 * What is told of making a piece: its measures, the checks with their help, the
 * stretch of its skins, its sharp edges.
 */
import { element, sign } from '../page/dom.js';

/** What a check's row is made of. */
const TITLES = ['Check', 'Worst', 'Limit', 'Kept'];

/**
 * @param {string} number
 * @param {import('./messages.js').Making['figures']} figures
 */
export function measures(number, figures) {
  return frame('Measures', element('table', { class: 'making' }, element('caption', {}, `Measures of piece ${number}`),
    element('tbody', {}, ...figures.map(({ what, figure, note }) => element('tr', {}, element('th', { scope: 'row' }, what), element('td', {}, figure), element('td', { class: 'quiet-text' }, note))))));
}

/**
 * @param {string} number
 * @param {import('./messages.js').Check[]} checks
 * @param {string} shown the check whose map is shown
 * @param {Set<string>} open those whose help is open
 * @param {(kind: import('./messages.js').CheckKind) => void} choose
 */
export function checkTable(number, checks, shown, open, choose) {
  return frame('Checks', element('table', { class: 'making checks' }, element('caption', {}, `Making checks of piece ${number}: design estimates`),
    element('thead', {}, element('tr', {}, ...TITLES.map((title) => element('th', { scope: 'col' }, title)))),
    element('tbody', {}, ...checks.flatMap((check) => rows(check, check.kind === shown, open.has(check.kind), choose)))));
}

/**
 * @param {import('./messages.js').Check} check
 * @param {boolean} shown
 * @param {boolean} open
 * @param {(kind: import('./messages.js').CheckKind) => void} choose
 */
function rows(check, shown, open, choose) {
  const { kind, what, worst, limit, side, passes, kept, basis, place, inputs, formula, source, caution, beside } = check;
  const sentences = [formula, `Source: ${source}.`, ...beside, caution].filter(Boolean);
  const first = element('tr', { class: 'check', 'data-kind': kind },
    element('th', { scope: 'row' }, element('button', { type: 'button', class: 'check-name', 'aria-pressed': String(shown), title: 'Show it on the piece', click: () => choose(kind) }, what)),
    element('td', {}, worst), element('td', {}, limit), element('td', { class: 'kept' }, sign(passes ? 'clear' : kept === 'not kept' ? 'faulty' : 'unproven'), ` ${kept}`));
  const second = element('tr', { class: 'check-help' }, element('td', { colspan: '4' },
    element('p', { class: 'quiet-text check-basis' }, [side, place && `worst ${place}`, basis].filter(Boolean).join('; '), `. ${inputs}.`),
    element('details', { 'data-kind': kind, open }, element('summary', {}, 'formula, source, caution', element('span', { class: 'hidden' }, ` of ${what}`)), ...sentences.map((text) => element('p', {}, text)))));
  return [first, second];
}

/** @param {import('./messages.js').Making['skins']} skins */
export function skinTable(skins) {
  if (!skins.length) return element('p', { class: 'quiet-text' }, 'Stretch from flat: none, for no one sheet is formed to this piece.');
  return frame('Stretch', element('table', { class: 'making' }, element('caption', {}, 'Stretch of the sheet from flat: clamped about the larger opening, the far one covered'),
    element('thead', {}, element('tr', {}, ...['Skin', 'Area', 'Larger than flat by', 'Mean gauge left'].map((title) => element('th', { scope: 'col' }, title)))),
    element('tbody', {}, ...skins.map(({ what, area, stretch, mean }) => element('tr', {}, element('th', { scope: 'row' }, what), ...[area, stretch, mean].map((text) => element('td', {}, text)))))));
}

/**
 * @param {number} sharp how many there are
 * @param {string[]} edges
 */
export function edgeList(sharp, edges) {
  return element('details', { class: 'edges' }, element('summary', {}, sharp ? `Sharp edges: ${sharp}; they count in cutter, bend, pressure and room` : 'Sharp edges: none; sides of mould and sheet'),
    element('ul', { class: 'quiet-text' }, ...edges.map((text) => element('li', {}, text))));
}

/**
 * @param {string} name
 * @param {HTMLElement} table
 */
function frame(name, table) {
  return element('div', { class: 'making-frame', tabindex: '0', role: 'group', 'aria-label': name }, table);
}
