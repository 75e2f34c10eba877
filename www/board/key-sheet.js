// @ts-check
/**
 * The sheet of keys and hands: everything that can be done on the board, to
 * read and to print.
 */
import { button, element } from '../page/dom.js';
import { Paper } from '../page/paper.js';
import { ACTS, EVERYWHERE } from './acts.js';
import { HANDS } from './hands.js';
import { keyInWords } from './keys.js';

export function keySheet() {
  return new Paper('key-sheet', 'Keys and hands', content);
}

function content() {
  const hands = element('dl', { class: 'hand-list' }, ...HANDS.flatMap(({ text, help, touch }) => [
    element('dt', {}, text), element('dd', {}, touch ? `${help} ${touch}` : help),
  ]));
  return [
    element('div', { class: 'actions' }, button('Print this sheet', print)),
    element('section', {},
      element('h3', {}, 'Hands: what mouse, pen and finger do'), hands,
      element('p', {}, 'The wheel zooms, with Shift it looks sideways; two fingers zoom and look elsewhere. The space bar or the middle button, held, looks elsewhere in every hand.'),
    ),
    element('p', {}, 'The keys below work while the board has the focus: press on it, or reach it with Tab. On a Mac, Command does what Ctrl does.'),
    element('div', { class: 'key-groups' }, ...ACTS.map(([title, acts]) => group(title, acts)), group('Everywhere on the page', EVERYWHERE)),
    element('p', {}, 'In the table of pairs the arrows, Home and End go from cell to cell, with Ctrl from corner to corner, and Page up and down by eight rows. In the loft the arrows turn it, plus and minus zoom, and 0 goes back; the wheel zooms it once it was pressed on, till Escape. Every figure of the board can be typed below it. A stroke by hand needs a pointer: with keys, place its nodes.'),
  ];
}

/**
 * @param {string} title
 * @param {{keys: string[], text: string}[]} acts
 */
function group(title, acts) {
  const rows = acts.map(({ keys, text }) => element('tr', {}, element('th', { scope: 'row' }, ...keycaps(keys)), element('td', {}, text)));
  return element('section', { class: 'key-group' }, element('h3', {}, title), element('table', {}, element('tbody', {}, ...rows)));
}

/** @param {string[]} keys */
function keycaps(keys) {
  const arrows = keys.filter((key) => key.includes('Arrow'));
  const shown = arrows.length ? [keys[0].startsWith('Ctrl') ? 'Ctrl + arrows' : 'arrows'] : keys.map(keyInWords);
  return shown.flatMap((key, index) => (index ? [' ', element('kbd', {}, key)] : [element('kbd', {}, key)]));
}

/** Prints the sheet alone: the style sheet hides all else while this is set. */
function print() {
  const root = document.documentElement;
  root.dataset.print = 'keys';
  window.addEventListener('afterprint', () => { delete root.dataset.print; }, { once: true });
  window.print();
}
