// @ts-check
/**
 * The menu of families: begin anew, open, add, examples, earlier works.
 * It shows what it is told and reports what is asked.
 */
import { button, element } from '../page/dom.js';
import { Flap } from '../page/flap.js';

/**
 * @typedef {object} Wishes
 * @property {() => void} beginAnew
 * @property {() => void} openFile
 * @property {() => void} addFile
 * @property {(index: number) => void} openExample
 * @property {(code: string) => void} openEarlier
 * @property {(code: string) => Promise<void>} forgetEarlier
 */

export class FamilyMenu {
  /**
   * @param {HTMLElement} menu
   * @param {HTMLButtonElement} opener
   * @param {string[]} examples
   * @param {Wishes} wishes
   * @param {() => Promise<import('./keeper.js').Earlier[]>} earlier
   */
  constructor(menu, opener, examples, wishes, earlier) {
    this.menu = menu;
    this.examples = examples;
    this.wishes = wishes;
    this.earlier = earlier;
    this.flap = new Flap(menu, opener, () => this.fill());
  }

  open() {
    this.flap.show(true);
  }

  fill() {
    const { wishes } = this;
    const item = (/** @type {string} */ text, /** @type {() => void} */ act) =>
      element('li', {}, button(text, () => { this.flap.show(false); act(); }));
    const own = group('This family', [
      item('Begin anew', wishes.beginAnew),
      item('Open a file…', wishes.openFile),
      item('Add the profiles of a file…', wishes.addFile),
    ]);
    const examples = group('Examples', this.examples.map((name, index) => item(name, () => wishes.openExample(index))));
    const earlier = element('div', { class: 'earlier' });
    this.fillEarlier(earlier, item);
    const hint = element('p', {}, 'A family file, a series file, an SVG drawing, a list of points or a link can also be dropped or pasted on the page.');
    own.append(hint);
    this.menu.replaceChildren(own, examples, earlier);
  }

  /**
   * @param {HTMLElement} place
   * @param {(text: string, act: () => void) => HTMLElement} item
   * @param {number} [focused] which of them gets the focus
   */
  async fillEarlier(place, item, focused = -1) {
    const { wishes } = this;
    const rows = (await this.earlier()).map((entry, index) => {
      const row = item(`${entry.name}, ${new Date(entry.when).toLocaleString()}`, () => wishes.openEarlier(entry.code));
      row.append(button('Forget', async () => {
        await wishes.forgetEarlier(entry.code);
        this.fillEarlier(place, item, index);
      }, { class: 'quiet', 'aria-label': `Forget ${entry.name}` }));
      return row;
    });
    place.replaceChildren(group(`Earlier works${rows.length ? `: ${rows.length}, kept in this browser until you forget them` : ''}`, rows, 'None yet: what another family takes the place of will stand here.'));
    if (0 <= focused) (rows[Math.min(focused, rows.length - 1)]?.querySelector('button') ?? this.flap.opener).focus({ preventScroll: true });
  }
}

/**
 * @param {string} title
 * @param {Node[]} items
 * @param {string} [none] what stands there without items
 */
function group(title, items, none = '') {
  const list = items.length ? element('ul', {}, ...items) : element('p', {}, none);
  return element('div', { class: 'menu-group' }, element('h2', {}, title), list);
}
