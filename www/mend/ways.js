// @ts-check
/**
 * Two ways out of a slip of the hand: a profile that has a part in every pair
 * at fault moves alone, or all move a little. And what moved, as a table.
 */
import { button, element } from '../page/dom.js';

/**
 * @typedef {object} Way
 * @property {string} words who may move
 * @property {import('../page/messages.js').MendWish} wish
 * @property {import('../page/messages.js').MendAnswer} answer
 */

/**
 * @param {Way[]} ways
 * @param {Way | undefined} tried what is on trial
 * @param {(way: Way) => void} attempt
 */
export function waysToMend(ways, tried, attempt) {
  if (ways.length < 2) return [];
  return [element('div', { class: 'ways', role: 'group', 'aria-label': 'Ways to mend' },
    ...ways.map((way) => {
      const text = `${way.words}: ${way.answer.sentences[0]}`;
      return way.answer.ending === 'mended' ? button(text, () => attempt(way), { 'aria-pressed': String(way === tried) }) : element('p', {}, text);
    }))];
}

/** @param {string[][]} moves */
export function movesTable(moves) {
  if (!moves.length) return [];
  const row = (/** @type {'th' | 'td'} */ cell, /** @type {string[]} */ texts) => element('tr', {}, ...texts.map((text) => element(cell, {}, text)));
  return [element('div', { class: 'what-moves' }, element('table', { 'aria-label': 'What moves' },
    element('thead', {}, row('th', ['Profile', 'Point', 'From x, y', 'To x, y', 'Distance'])), element('tbody', {}, ...moves.map((texts) => row('td', texts)))))];
}
