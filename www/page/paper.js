// @ts-check
/**
 * A sheet over the page, with a heading and a way to close it: made when it is
 * first opened, filled anew each time.
 */
import { button, element } from './dom.js';

export class Paper {
  /**
   * @param {string} id
   * @param {string} title
   * @param {() => (Node | string)[]} content
   */
  constructor(id, title, content) {
    this.id = id;
    this.title = title;
    this.content = content;
    /** @type {HTMLDialogElement | null} */
    this.dialog = null;
  }

  open() {
    if (!this.dialog) this.dialog = this.make();
    this.fill();
    if (!this.dialog.open) this.dialog.showModal();
  }

  close() {
    this.dialog?.close();
  }

  fill() {
    this.body?.replaceChildren(...this.content());
  }

  make() {
    this.body = element('div', { class: 'paper-body' });
    const heading = `${this.id}-title`;
    const close = button('Close', () => this.close());
    const head = element('div', { class: 'paper-head' }, element('h2', { id: heading }, this.title), close);
    const dialog = /** @type {HTMLDialogElement} */ (element('dialog', { id: this.id, class: 'paper', 'aria-labelledby': heading }, head, this.body));
    // A press beside the sheet lands on the dialog itself.
    dialog.addEventListener('click', (event) => { if (event.target === dialog) this.close(); });
    document.body.append(dialog);
    return dialog;
  }
}
