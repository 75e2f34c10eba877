// @ts-check
/**
 * The line at the end of each place that leads to the next one, in the order of
 * the work; after the last, the link.
 */
import { button, byId, element } from '../page/dom.js';
import { goTo } from '../page/later-places.js';

/** What a place is for, by its id. @type {Record<string, string>} */
const WORDS = {
  'making-place': 'Next: Making, whether this piece can be made',
  'finish-place': 'Next: Finish, the colour along its height',
  'files-place': 'Next: Files, this piece for the shop',
};

/** @param {HTMLDetailsElement[]} homes the places, in order */
export function leadOn(homes) {
  homes.forEach((home, at) => {
    const next = homes[at + 1];
    const line = next
      ? button(WORDS[next.id], () => goTo(next.id), { class: 'quiet' })
      : button('Last: copy the link, which holds the curves, the stations and the piece', () => byId('copy-link').click(), { class: 'quiet' });
    home.append(element('p', { class: 'onward' }, line, next ? '' : ' Limits of Making and the stops of Finish stay in this browser.'));
  });
}
