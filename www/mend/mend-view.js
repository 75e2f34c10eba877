// @ts-check
/**
 * The mend: what is to be clear, the search with its progress, and what it
 * came to, on trial until it is kept or dropped.
 */
import { button, element, holdPlace } from '../page/dom.js';
import { Background, Stopped } from '../work/background.js';
import { Limits } from './limits.js';
import { movesTable, waysToMend } from './ways.js';

/** Said when the drawing changes under the search. */
const OVERTAKEN = 'The family has changed, so the search for a mend is given up: look again.';

export class MendView {
  /**
   * @param {HTMLElement} place
   * @param {import('../page/controller.js').Controller} controller
   * @param {import('../beside.js').Means} means
   */
  constructor(place, controller, means) {
    this.place = place;
    this.controller = controller;
    this.board = controller.board;
    this.background = new Background(means);
    this.limits = new Limits(controller);
    /** The family that was last asked for, as its share code. */
    this.code = '';
    /** The choices that are shown. @type {string} */
    this.choices = '';
    /** @type {string[]} what the last search came to */
    this.outcome = [];
    /** @type {string[][]} what it moves */
    this.moves = [];
    /** @type {import('./ways.js').Way[]} what may be tried */
    this.ways = [];
    /** @type {import('./ways.js').Way | undefined} what was tried last */
    this.tried = undefined;
    this.shown = '';
    this.target = /** @type {HTMLSelectElement} */ (element('select', { id: 'mend-target', change: () => this.refresh() }));
    this.start = button('Look for a mend', () => this.look(), { class: 'strong' });
    this.nodes = button('How far may nodes move?', () => this.askNodes());
    this.result = element('div', { class: 'mend-result' });
    this.progress = element('progress', { max: '1', value: '0', 'aria-label': 'Rounds' });
    this.text = element('p', { class: 'where' });
    this.work = element('div', { class: 'mend-work' }, this.progress, this.text, button('Stop', () => this.stop()));
    this.work.hidden = true;
    place.append(
      element('h2', {}, 'Mend'),
      element('p', {}, 'Moves nodes as little as can be, until what you ask for is proved. Nothing is changed before you keep it.'),
      element('div', { class: 'actions' }, element('label', { class: 'hidden', for: 'mend-target' }, 'What is to be clear'), this.target, this.start, this.nodes),
      this.limits.details, this.work, this.result,
    );
  }

  /**
   * Something has changed: the family, the choice, a trial, a pin.
   * @param {import('../page/messages.js').Family} family
   */
  update(family) {
    this.place.hidden = family.profiles.length < 2;
    const [first, second] = this.board.pair();
    const named = first !== undefined && first !== second ? [first, second] : null;
    const choices = [...(named ? [['pair', `Profiles ${named[0] + 1} and ${named[1] + 1}`]] : []), ['all', 'All pairs'], ['blend', 'Any blend of the family']];
    const key = choices.join();
    if (key !== this.choices) {
      const before = this.target.value;
      this.choices = key;
      this.target.replaceChildren(...choices.map(([value, text]) => element('option', { value }, text)));
      this.target.value = before;
      if (this.target.selectedIndex < 0) this.target.selectedIndex = 0;
    }
    this.nodes.hidden = !named;
    this.limits.update(family);
    this.showResult();
  }

  /** The curves have changed. */
  drawn() {
    if (!this.code || this.board.isStill(this.code)) return;
    this.code = '';
    this.choices = '';
    if (this.background.busy) {
      this.background.stop();
      if (!this.ways.length) this.controller.announcer.tell(OVERTAKEN);
    }
    this.refresh();
  }

  refresh() {
    this.outcome = [];
    this.moves = [];
    this.ways = [];
    this.showResult();
  }

  /**
   * Looks for a mend of this at once, as asked for elsewhere on the page.
   * @param {'pair' | 'all' | 'blend'} target
   */
  lookFor(target) {
    this.target.value = target;
    this.place.scrollIntoView({ block: 'nearest' });
    this.look();
  }

  async look() {
    const { board, controller } = this;
    controller.act(() => board.dropTrial());
    const pair = Array.from(board.pair());
    const target = this.target.value;
    const wish = { ...this.limits.wish(), blameFirst: true, pair: target === 'pair' ? /** @type {[number, number]} */ (pair) : null, anyBlend: target === 'blend' };
    await this.working(async () => {
      const way = await this.search('Any profile may move', wish);
      const { blamed, margin } = way.answer;
      if (blamed) way.words = blamed;
      this.attempt(way);
      if (blamed) {
        this.ways = [way];
        const other = await this.search('Any profile may move', { ...wish, blameFirst: false, margin });
        if (other.answer.family !== way.answer.family) this.ways = [way, other];
        controller.announcer.announce(`${other.words}: ${other.answer.sentences[0]}`);
      }
    });
  }

  /** Tells how far the nodes of the chosen pair may move. */
  async askNodes() {
    const [first, second] = this.board.pair();
    await this.working(async () => {
      this.progress.removeAttribute('value');
      this.text.textContent = 'Looking…';
      this.outcome = await this.background.ask('nodes', { code: this.code, pair: [first, second] });
      this.controller.announcer.announce(this.outcome[0]);
    });
  }

  /**
   * Shows that there is work to wait for, until it is done.
   * @param {() => Promise<void>} work
   */
  async working(work) {
    this.code = this.board.shareCode();
    this.refresh();
    this.work.hidden = false;
    this.start.disabled = true;
    this.nodes.disabled = true;
    try {
      await work();
    } catch (error) {
      if (!(error instanceof Stopped)) this.controller.announcer.refuse(error);
    } finally {
      if (!this.background.busy) {
        const focused = this.work.contains(document.activeElement);
        this.work.hidden = true;
        this.start.disabled = false;
        this.nodes.disabled = false;
        this.showResult();
        if (focused) (this.result.querySelector('button') ?? this.start).focus();
      }
    }
  }

  /**
   * @param {string} words
   * @param {import('../page/messages.js').MendWish} wish
   * @returns {Promise<import('./ways.js').Way>}
   */
  async search(words, wish) {
    this.progress.removeAttribute('value');
    this.text.textContent = this.ways.length ? `${words}: looking…` : 'Looking…';
    return { words, wish, answer: await this.background.ask('mend', { code: this.code, wish }, (told) => this.tell(told)) };
  }

  /**
   * Puts a way on trial.
   * @param {import('./ways.js').Way} way
   */
  attempt(way) {
    this.tried = way;
    this.outcome = way.answer.sentences;
    holdPlace(this.place);
    this.moves = way.answer.moves;
    this.controller.act(() => {
      this.board.tryMend(this.code, { ...way.wish, margin: way.answer.margin }, way.answer);
      this.controller.announcer.announce(way.answer.sentences[0]);
    });
  }

  /** @param {import('../page/messages.js').MendProgress} told */
  tell({ round, mostRounds, text }) {
    this.progress.setAttribute('max', String(mostRounds));
    this.progress.setAttribute('value', String(round));
    this.text.textContent = `${text}.`;
  }

  stop() {
    this.background.stop();
    if (!this.ways.length) this.outcome = ['Stopped: nothing is changed.'];
  }

  showResult() {
    const trial = /** @type {import('../page/messages.js').MendTrial | null} */ (this.board.mendOnTrial());
    const key = JSON.stringify([trial, this.outcome, this.ways.length]);
    if (key === this.shown) return;
    this.shown = key;
    const focused = this.result.contains(document.activeElement);
    const ways = waysToMend(this.ways, trial ? this.tried : undefined, (way) => this.attempt(way));
    this.result.replaceChildren(...(trial ? [this.trial(trial)] : []), ...ways, ...this.sentences(), ...movesTable(this.moves));
    if (focused) /** @type {HTMLElement} */ (this.result.querySelector('[aria-pressed=true]') ?? this.start).focus();
  }

  sentences() {
    const [first, ...rest] = this.outcome;
    if (!first) return [];
    // Where there are two ways, their buttons say it.
    return [...(1 < this.ways.length ? [] : [element('p', { class: 'what' }, first)]), ...(rest.length ? [element('ul', { class: 'moves' }, ...rest.map((text) => element('li', {}, text)))] : [])];
  }

  /** @param {import('../page/messages.js').MendTrial} trial */
  trial({ step, proved }) {
    const { board, controller } = this;
    const says = proved
      ? `On trial: ${step}. It is proved. The board shows it dashed and haloed, the table its verdicts; nothing is changed yet.`
      : `On trial: ${step}. It is not proved to be what you asked for. The board shows it dashed and haloed, the table its verdicts; nothing is changed yet.`;
    return element('div', { class: 'trial', role: 'group', 'aria-label': 'Mend on trial' },
      element('p', {}, says),
      button('Keep it', () => controller.act(() => board.keepTrial()), { class: 'strong' }),
      button('Go back', () => controller.act(() => board.dropTrial())));
  }
}
