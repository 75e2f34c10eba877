// @ts-check
/**
 * The menu of families: begin anew, open, save, examples, earlier works.
 * It shows what it is told and reports what is asked.
 */
import { button, element } from '../page/dom.js';

/**
 * @typedef {object} Wishes
 * @property {() => void} beginAnew
 * @property {() => void} openFile
 * @property {() => void} saveFile
 * @property {(index: number) => void} openExample
 * @property {(code: string) => void} openEarlier
 * @property {(code: string) => void} forgetEarlier
 */

export class FamilyMenu {
  /**
   * @param {HTMLElement} menu
   * @param {HTMLButtonElement} opener
   * @param {string[]} examples
   * @param {Wishes} wishes
   * @param {() => import('./keeper.js').Earlier[]} earlier
   */
  constructor(menu, opener, examples, wishes, earlier) {
    this.menu = menu;
    this.opener = opener;
    this.examples = examples;
    this.wishes = wishes;
    this.earlier = earlier;
    opener.addEventListener('click', () => this.show(menu.hidden === true));
    menu.addEventListener('keydown', (event) => {
      if (event.key === 'Escape') this.show(false);
    });
  }

  /** @param {boolean} open */
  show(open) {
    this.menu.hidden = !open;
    this.opener.setAttribute('aria-expanded', String(open));
    if (open) {
      this.fill();
      /** @type {HTMLElement | null} */ (this.menu.querySelector('button'))?.focus();
    } else {
      this.opener.focus();
    }
  }

  fill() {
    const { wishes } = this;
    const item = (/** @type {string} */ text, /** @type {() => void} */ act) =>
      element('li', {}, button(text, () => { this.show(false); act(); }));
    const own = group('This family', [
      item('Begin anew', wishes.beginAnew),
      item('Open a file…', wishes.openFile),
      item('Save to a file', wishes.saveFile),
    ]);
    const examples = group('Examples', this.examples.map((name, index) => item(name, () => wishes.openExample(index))));
    const earlier = group('Earlier works', this.earlier().map((entry) => {
      const row = item(`${entry.name}, ${new Date(entry.when).toLocaleString()}`, () => wishes.openEarlier(entry.code));
      row.append(button('Forget', () => { wishes.forgetEarlier(entry.code); this.fill(); }, { class: 'quiet', 'aria-label': `Forget ${entry.name}` }));
      return row;
    }));
    this.menu.replaceChildren(own, examples, earlier);
  }
}

/**
 * @param {string} title
 * @param {Node[]} items
 */
function group(title, items) {
  const list = items.length ? element('ul', {}, ...items) : element('p', {}, 'None yet.');
  return element('div', { class: 'menu-group' }, element('h2', {}, title), list);
}
