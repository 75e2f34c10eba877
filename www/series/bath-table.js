// @ts-check
/**
 * The table for the bath, in the order of the work: height, volts, time, film,
 * its colour and what else that may be.
 */
import { element } from '../page/dom.js';

/**
 * @param {string} number
 * @param {import('./messages.js').BathRow[]} rows
 */
export function bathTable(number, rows) {
  const colour = (/** @type {import('./messages.js').BathRow} */ { colours, words }, /** @type {number} */ at) => {
    const swatch = element('span', { class: 'swatch', 'aria-hidden': 'true' });
    swatch.style.background = colours[at];
    return element('span', { class: 'seen' }, swatch, ` ${words[at]}`);
  };
  const aslant = (/** @type {import('./messages.js').BathRow} */ row) => colour({ ...row, colours: [row.aslant[0], '', ''], words: [row.aslant[1], '', ''] }, 0);
  return element('table', { class: 'making bath' }, element('caption', {}, `Table for the bath of piece ${number}, in the order of the work`),
    element('thead', {}, element('tr', {}, ...['Height, mm', 'Volts', 'Time, min:s', 'Film, nm', 'Colour', 'Aslant', 'May be'].map((title) => element('th', { scope: 'col' }, title)))),
    element('tbody', {}, ...rows.map((row) => element('tr', {},
      element('th', { scope: 'row' }, row.height.toFixed(2)), element('td', {}, row.volts.toFixed(1)), element('td', {}, row.time),
      element('td', {}, `${row.film.toFixed(0)} (${row.range.map((film) => film.toFixed(0)).join(' to ')})${row.isLinear === false ? ', not linear' : ''}`),
      element('td', {}, colour(row, 0)), element('td', {}, aslant(row)), element('td', {}, colour(row, 1), ' to ', colour(row, 2))))));
}
