// @ts-check
/**
 * The work on the board as it is kept and linked. What another family takes the
 * place of is set aside, never lost.
 */
import { copyLink, dropFragment, fragment, joined, seriesIn } from '../keep/link.js';

const STORAGE_WORDS = {
  refused: 'This browser keeps nothing for this page, so your work is gone when you leave it: save it to a file, or copy the link.',
  full: 'The browser’s storage for this page is full, so the last changes are not kept: save them to a file, or copy the link.',
};

export class Desk {
  /**
   * @param {import('./controller.js').Controller} controller
   * @param {import('../keep/keeper.js').Keeper} keeper
   */
  constructor(controller, keeper) {
    this.controller = controller;
    this.board = controller.board;
    this.places = controller.places;
    this.keeper = keeper;
    /** What is on the board, with its series, as last kept or opened. @type {string | null} */
    this.standing = null;
    /** Whether the board shows a link that has not been worked on. */
    this.visiting = false;
    /** The number of the work that was kept last, and whether there was anything of it. */
    this.work = 0;
    this.filled = false;
    this.warned = '';
    /** The notice that nothing is kept. @type {HTMLElement | undefined} */
    this.warning = undefined;
    /** Told when another family stands on the board, or the same one otherwise. @type {() => void} */
    this.onKept = () => {};
  }

  /** Puts on the board what the address says, else the kept work. */
  begin() {
    const kept = this.keeper.load();
    const code = fragment();
    if (code && this.tryBegin(code, '')) {
      this.visiting = code !== kept;
      this.places.take(seriesIn(code), 'lead');
    } else if (kept && this.tryBegin(kept, 'The work kept in this browser could not be read, and is set aside as it is. ')) this.places.take(seriesIn(kept), '');
    else if (kept) this.keeper.setAside(kept, 'A work that could not be read');
    this.standing = this.code();
    if (!this.visiting) this.keeper.hold(this.standing);
    this.keeper.onLost = (name) => this.controller.announcer.warn(`“${name}” could not be set aside, for the browser’s storage for this page is full: go back to it by Undo and save it to a file.`);
    this.look();
    window.addEventListener('hashchange', () => this.follow());
    document.addEventListener('visibilitychange', () => this.leave());
    this.controller.onHistory = () => this.keep();
    this.places.onGivenUp = () => {
      this.setAside(this.standing);
      this.controller.announcer.warn('The series could not be written anew for the profiles that were added, deleted or moved. As it was, it stands with its drawing among the earlier works, under Families.');
    };
  }

  /** What is kept and linked: the family, and the series where one was set. */
  code() {
    return joined(this.board.shareCode(), this.places.series.code);
  }

  /**
   * @param {string} code
   * @param {string} before said before what is wrong
   */
  tryBegin(code, before) {
    try {
      this.board.beginWithShareCode(code);
      if (code === this.keeper.known) {
        const { lines, numbers } = this.keeper.steps();
        this.board.resumeSteps(lines, numbers);
      }
      return true;
    } catch (error) {
      this.controller.announcer.refuse(`${before}${sentence(error)} Your own work is untouched.`);
      return false;
    }
  }

  /** The address was changed by hand or by a link: one step of the history. */
  follow() {
    const code = fragment();
    if (!code || code === this.standing) return;
    if (joined(this.board.shareCode(), seriesIn(code)) === code) {
      this.followSeries(code);
      return;
    }
    try {
      this.openOther(() => this.board.openShareCode(code, 'Open a link'), seriesIn(code), 'lead');
    } catch (error) {
      this.controller.announcer.refuse(`${sentence(error)} Your own work is untouched.`);
    }
  }

  /**
   * Another series, or another piece, of the family that is there: no step of the drawing.
   * @param {string} code
   */
  followSeries(code) {
    if (this.places.worked) this.setAside(this.code());
    this.places.take(seriesIn(code), 'lead');
    if (this.visiting) this.standing = code;
    else this.keep();
  }

  /**
   * One step back or again, of the series or of the drawing, whichever was done last.
   * @param {'back' | 'again'} by
   * @returns {string} what to tell
   */
  step(by) {
    const { board, places } = this;
    const series = places.turn(by);
    if (series) {
      series.go(by);
      return '';
    }
    const [work, { name, profiles }] = [board.work(), board.family()];
    if (by === 'back') board.undo();
    else board.redo();
    if (!profiles.length || work === board.work()) return '';
    return `${name ? `“${name}”` : 'The family'} was put away: it is among the earlier works, under Families, and ${by === 'back' ? 'Redo' : 'Undo'} brings it back.`;
  }

  /** After a step: keeps the work, and takes the link away that no longer says what stands here. */
  keep() {
    // It is written anew in a moment; till then what is kept fits together.
    if (this.places.series.isBehind) return;
    const code = this.code();
    const [work, filled] = [this.work, this.filled];
    this.look();
    if (code === this.standing) return;
    if (filled && work !== this.work) this.setAside(this.standing);
    // Pieces of a link may be looked at before it is worked on.
    if (this.visiting && !this.places.worked && this.standing?.startsWith(this.board.shareCode())) {
      this.onKept();
      return;
    }
    this.hold(code);
  }

  look() {
    this.work = this.board.work();
    this.filled = this.board.profileKeys().length > 0;
  }

  /** The page may be closed before the series is written anew: the drawing is kept without it, and both as they were. */
  leave() {
    if (document.visibilityState === 'visible' || !this.places.series.isBehind) return;
    this.setAside(this.standing);
    this.hold(this.board.shareCode());
  }

  /** @param {string} code that stands on the board from now on */
  hold(code) {
    if (this.visiting) this.setAside(this.keeper.known);
    this.visiting = false;
    this.standing = code;
    if (code !== fragment()) dropFragment();
    this.onKept();
    const { board } = this;
    this.keeper.holdSteps((from) => ({ lines: board.keptSteps(from), numbers: board.keptNumbers(from) }), this.places.stepsBefore, board.stepsDone());
    const save = () => this.keeper.save(/** @type {string} */ (this.standing), (other) => nameOf(other, this.controller.kernel));
    const outcome = save();
    if (outcome === 'full') this.keeper.makeRoom().catch(() => false).then((made) => this.tellKept(made ? save() : outcome));
    else this.tellKept(outcome);
  }

  /** @param {import('../keep/keeper.js').Outcome} outcome */
  tellKept(outcome) {
    if (outcome === this.warned) return;
    this.warned = outcome;
    if (this.warning) this.controller.announcer.take(this.warning);
    this.warning = outcome === 'kept' ? undefined : this.controller.announcer.warn(STORAGE_WORDS[outcome]);
  }

  /** @param {string | null} code */
  setAside(code) {
    if (code) this.keeper.setAside(code, nameOf(code, this.controller.kernel));
  }

  /**
   * Opens another family in place of this one, which is set aside with its series when the other is kept.
   * @param {() => void} open
   * @param {string} [series] of the other family
   * @param {'' | 'open' | 'lead'} [show] whether the series is to be seen, or gone to at once
   */
  openOther(open, series = '', show = '') {
    open();
    this.places.take(series, show);
    this.controller.act(() => {});
  }

  async copyLink() {
    await this.places.series.settled();
    this.controller.announcer.tell(await copyLink(this.code()));
  }
}

/** @param {unknown} error */
function sentence(error) {
  const text = error instanceof Error ? error.message : String(error);
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}

/**
 * @param {string} code
 * @param {import('./messages.js').Kernel} kernel
 */
function nameOf(code, kernel) {
  try {
    return kernel.nameOfShareCode(code);
  } catch {
    return 'A work that could not be read';
  }
}
