// @ts-check
/**
 * The finding of the chosen pair in words: what, where, what would be right,
 * and remedies to try. It shows what it is told and reports what is asked.
 */
import { button, element, sign } from '../page/dom.js';
import { whyPictures } from './why-view.js';

export class FindingView {
  /**
   * @param {HTMLElement} place
   * @param {import('../page/controller.js').Controller} controller
   */
  constructor(place, controller) {
    this.place = place;
    this.controller = controller;
    this.board = controller.board;
    this.shown = '';
    /** Which sayings' pictures are open. @type {Set<number>} */
    this.opened = new Set();
  }

  /**
   * The verdict has changed, and its finding is worked out: what stands here is of before.
   */
  redo() {
    this.place.toggleAttribute('data-redone', true);
  }

  /** @param {import('../page/messages.js').Finding | null} finding */
  update(finding) {
    this.place.toggleAttribute('data-redone', false);
    const trial = this.board.onTrial();
    const trying = Boolean(trial) || this.board.mendOnTrial() !== null;
    const key = JSON.stringify([finding, trial, trying]);
    if (key === this.shown) return;
    this.shown = key;
    const keepFocus = this.place.contains(document.activeElement);
    this.place.replaceChildren(...(trial ? [this.trial(trial)] : []), ...(finding ? this.words(finding, trying) : [element('p', { class: 'quiet-text' }, 'Sketch two profiles: every pair of them is judged here.')]));
    if (keepFocus) /** @type {HTMLElement | null} */ (this.place.querySelector('button'))?.focus();
  }

  /**
   * @param {import('../page/messages.js').Finding} finding
   * @param {boolean} trying
   */
  words(finding, trying) {
    const title = finding.label.charAt(0).toUpperCase() + finding.label.slice(1);
    const verdict = element('span', { class: 'hidden' }, `: ${finding.verdict}`);
    const parts = [
      element('h2', {}, sign(finding.verdict), element('span', {}, title), verdict, element('span', { class: 'redone' }, 'being redone')),
      ...finding.sayings.map((saying, index) => element('div', { class: 'saying' },
        element('p', { class: 'what' }, saying.what),
        ...(saying.place ? [element('p', { class: 'where' }, `Where: ${saying.place}.`)] : []),
        ...(saying.right ? [element('p', {}, saying.right), ...this.limits(saying.right)] : []),
        ...(finding.verdict === 'clear' ? [] : [this.why(index)]))),
    ];
    if (finding.regions.length) {
      parts.push(element('h3', {}, finding.regions.length === 1 ? 'Faulty region' : `${finding.regions.length} faulty regions`));
      parts.push(element('ol', { class: 'regions' }, ...finding.regions.map((region, index) => element('li', {},
        element('span', {}, region.text), ' ', button('Show this place', () => this.controller.act(() => this.board.showRegion(index)), { class: 'quiet' })))));
    }
    parts.push(...finding.notes.map((note) => element('p', { class: 'note' }, note)));
    if (finding.hints.length && !trying) {
      parts.push(element('h3', {}, 'Changes that are proved to mend it'));
      parts.push(element('ul', { class: 'hints' }, ...finding.hints.map((hint, index) => element('li', {},
        button(`Try: ${hint.order}`, () => this.controller.act(() => this.board.tryHint(index))), element('span', {}, hint.effect)))));
    }
    const alone = finding.first === finding.second;
    // No pair of a profile that meets itself is judged: all are mended with it.
    const mend = () => button(alone ? 'Mend all pairs' : 'Mend this pair', () => this.controller.mendView.lookFor(alone ? 'all' : 'pair'));
    parts.push(element('div', { class: 'actions' },
      ...(finding.verdict !== 'clear' && !trying && !this.isOnly() ? [mend()] : []),
      button('What the words mean', () => this.controller.openPaper('words'), { class: 'quiet' })));
    return parts;
  }

  /** Whether there is one profile alone: without a pair there is no mend. */
  isOnly() {
    return (this.controller.family?.profiles.length ?? 0) < 2;
  }

  /**
   * The way to a limit that the advice names.
   * @param {string} advice
   */
  limits(advice) {
    return (/** @type {const} */ (['twist', 'crease'])).filter((limit) => advice.includes(`${limit} limit`))
      .map((limit) => button(`Go to the ${limit} limit`, () => this.controller.settingsForm.reach(`${limit}Limit`), { class: 'quiet to-limit' }));
  }

  /**
   * What opens the pictures that explain a saying; they are drawn when opened,
   * and stay open while the drawing changes.
   * @param {number} index of the saying
   */
  why(index) {
    const home = /** @type {HTMLDetailsElement} */ (element('details', { class: 'why' }, element('summary', {}, 'Why')));
    const show = () => {
      const panels = /** @type {import('../page/messages.js').WhyPanel[]} */ (this.board.why(index));
      home.querySelector('.why-panels')?.remove();
      home.append(panels.length ? whyPictures(panels) : element('p', { class: 'quiet-text why-panels' }, 'There is nothing to picture here: what is said above is all.'));
    };
    if (this.opened.has(index)) {
      home.open = true;
      show();
    }
    home.addEventListener('toggle', () => {
      if (home.open === this.opened.has(index)) return;
      if (home.open) {
        this.opened.add(index);
        show();
      } else this.opened.delete(index);
    });
    return home;
  }

  /** @param {string} order */
  trial(order) {
    return element('div', { class: 'trial', role: 'group', 'aria-label': 'On trial' },
      element('p', {}, `On trial: ${order}. Board and table show it; nothing is changed yet.`),
      button('Keep it', () => this.controller.act(() => this.board.keepTrial()), { class: 'strong' }),
      button('Go back', () => this.controller.act(() => this.board.dropTrial())));
  }
}
