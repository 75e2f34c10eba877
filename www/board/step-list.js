// @ts-check
/**
 * All steps of the history by name: press on one to go to where it is done.
 */
import { button, element } from '../page/dom.js';
import { Paper } from '../page/paper.js';

/** More steps than this are not listed: the oldest are reached by Undo. */
const MOST_LISTED = 400;

/** @param {import('../page/controller.js').Controller} controller */
export function stepList(controller) {
  const { board } = controller;
  const paper = new Paper('step-list', 'Steps', () => {
    const steps = board.steps();
    const done = board.stepsDone();
    const first = Math.max(0, steps.length - MOST_LISTED);
    const item = (/** @type {number} */ count) => {
      const text = count === 0 ? 'As it was opened' : steps[count - 1];
      const current = count === done;
      const undone = done < count;
      const go = button(undone ? `${text} (undone)` : text, () => {
        controller.act(() => board.goToStep(count));
        paper.fill();
        paper.dialog?.querySelector('[aria-current]')?.scrollIntoView({ block: 'nearest' });
        /** @type {HTMLElement | null | undefined} */ (paper.dialog?.querySelector('[aria-current]'))?.focus();
      }, { class: undone ? 'step undone' : 'step', ...(current ? { 'aria-current': 'step' } : {}) });
      return element('li', {}, go);
    };
    const counts = Array.from({ length: steps.length - first + 1 }, (_, index) => first + index).reverse();
    const help = 1 < counts.length ? 'The newest step stands first. Press on a step to see the family as it was then; a change made there drops the steps above it.' : 'There is no step yet: what you draw and change will be listed here.';
    return [element('p', { class: 'help' }, help), element('ol', { class: 'steps' }, ...counts.map(item))];
  });
  return paper;
}
