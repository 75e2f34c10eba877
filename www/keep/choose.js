// @ts-check
/**
 * Asks for one of a few choices in a dialog over the page.
 */
import { button, element } from '../page/dom.js';

/**
 * @template Choice
 * @param {HTMLDialogElement} dialog
 * @param {string} title
 * @param {string} says
 * @param {[string, Choice][]} choices what the buttons say, and what each stands for
 * @returns {Promise<Choice | undefined>} nothing when none is taken
 */
export function choose(dialog, title, says, choices) {
  return new Promise((resolve) => {
    const take = (/** @type {Choice | undefined} */ choice) => () => {
      resolve(choice);
      dialog.close();
    };
    dialog.replaceChildren(
      element('h2', { id: 'arrival-title' }, title), element('p', {}, says),
      element('div', { class: 'actions' }, ...choices.map(([text, choice]) => button(text, take(choice))), button('Leave it', take(undefined))),
    );
    // It may have been closed for a question that is open again by now.
    dialog.onclose = () => { if (!dialog.open) resolve(undefined); };
    if (!dialog.open) dialog.showModal();
  });
}
