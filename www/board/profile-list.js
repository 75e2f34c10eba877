// @ts-check
/**
 * The profiles of the family under the board: choose one, name it, and what
 * can be done with it as a whole.
 */
import { button, element } from '../page/dom.js';

export class ProfileList {
  /**
   * @param {HTMLElement} place
   * @param {import('../page/controller.js').Controller} controller
   */
  constructor(place, controller) {
    const { board } = controller;
    this.board = board;
    this.controller = controller;
    this.list = element('div', { class: 'chips', role: 'group', 'aria-label': 'Profiles' });
    this.name = /** @type {HTMLInputElement} */ (element('input', {
      type: 'text', maxlength: '80', autocomplete: 'off',
      change: () => controller.act(() => board.rename(board.active(), this.name.value)),
    }));
    const does = (/** @type {string} */ text, /** @type {() => string | void} */ act) => button(text, () => controller.act(act));
    this.seam = does('Seam at the chosen node', () => board.moveSeam());
    this.exact = does('Turn into nodes', () => board.pathToNodes());
    this.actions = element('div', { class: 'actions' },
      element('label', { class: 'naming' }, element('span', {}, 'Name'), this.name),
      does('Reverse', () => board.reverse()),
      this.seam,
      does('Mirror', () => board.mirror(false)),
      does('Mirror top to bottom', () => board.mirror(true)),
      this.exact,
      does('Copy', () => board.copyProfile()),
      does('Earlier', () => board.reorder(false)),
      does('Later', () => board.reorder(true)),
      does('Delete profile', () => board.deleteProfile()),
    );
    place.append(this.list, this.actions);
  }

  /** @param {import('../page/messages.js').Family} family */
  update(family) {
    const active = this.board.active();
    this.actions.hidden = active === undefined;
    const focused = this.list.contains(document.activeElement);
    this.list.replaceChildren(...family.profiles.map((profile, index) => {
      const text = profile.name ? `${index + 1} ${profile.name}` : String(index + 1);
      const label = `Profile ${text}, ${profile.nodes} nodes${profile.exact ? ', an exact path' : ''}`;
      return button(text, () => this.controller.act(() => this.board.activate(index)), {
        class: 'chip', 'aria-pressed': String(index === active), 'aria-label': label,
      });
    }));
    if (active === undefined) return;
    if (focused) /** @type {HTMLElement} */ (this.list.children[active]).focus();
    const profile = family.profiles[active];
    if (document.activeElement !== this.name) this.name.value = profile.name;
    this.name.placeholder = `Profile ${active + 1}`;
    this.seam.hidden = !profile.closed;
    this.exact.hidden = !profile.exact;
  }
}
