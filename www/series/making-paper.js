// @ts-check
/**
 * What is told of making a piece, for paper: each check with all that it was
 * worked out from, the cautions, the sharp edges, the stretch and the measures.
 */
import { element } from '../page/dom.js';
import { measures, skinTable } from './making-tables.js';

/**
 * @param {string} number
 * @param {import('./messages.js').Making} making
 */
export function makingPaper(number, { figures, checks, skins, sharp, edges, sides, cautions }) {
  return element('section', { class: 'report-making' },
    element('h2', {}, `Making of piece ${number}`),
    ...cautions.map((caution) => element('p', { class: 'report-caution' }, caution)),
    element('table', { class: 'report-checks' },
      element('thead', {}, element('tr', {}, ...['Check', 'Worst', 'Limit', 'Kept', 'Worked out from'].map((title) => element('th', { scope: 'col' }, title)))),
      element('tbody', {}, ...checks.map(row))),
    ...(sides ? [element('p', {}, sides)] : []),
    element('p', {}, sharp ? `Sharp edges: ${sharp}; they count in cutter, bend, pressure and room.` : 'Sharp edges: none.'),
    ...(edges.length ? [element('ul', {}, ...edges.map((text) => element('li', {}, text)))] : []),
    skinTable(skins), measures(number, figures));
}

/** @param {import('./messages.js').Check} check */
function row({ what, worst, limit, kept, side, place, basis, inputs, beside }) {
  const from = [side, place && `worst ${place}`, basis].filter(Boolean).join('; ');
  return element('tr', {}, element('th', { scope: 'row' }, what), ...[worst, limit, kept].map((text) => element('td', {}, text)),
    element('td', {}, [`${from}.`, `${inputs}.`, ...beside].join(' ')));
}
