// @ts-check
/**
 * Two ways out of a slip of the hand: where one profile has a part in every
 * pair that is not clear, it may move alone, or all may move a little.
 */
import { button, element } from '../page/dom.js';

/**
 * @typedef {object} Way
 * @property {string} words who may move
 * @property {import('../page/messages.js').MendWish} wish
 * @property {import('../page/messages.js').MendAnswer} answer
 */

/**
 * The one profile that all pairs share which are not clear, if there are several.
 * @param {Uint8Array} cells verdict and reason of each
 * @returns {number | undefined}
 */
export function slipped(cells) {
  /** @type {number[][]} */
  const open = [];
  for (let second = 0, at = 0; at < cells.length; second += 1) {
    for (let first = 0; first <= second; first += 1, at += 2) if (cells[at] && first !== second) open.push([first, second]);
  }
  return open.length < 2 ? undefined : open[0].find((profile) => open.every((pair) => pair.includes(profile)));
}

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
