// @ts-check
/**
 * The places after the pairs. Their modules are fetched when one of them is
 * first opened: whoever comes to draw need not wait for them. What is kept and
 * linked of the series is known before, as text that only they can read.
 */
import { CarriedSeries } from './carried-series.js';
import { byId } from './dom.js';
import { UNFETCHED } from './messages.js';

/** The places, in the order of the work. */
export const HOMES = ['series-place', 'making-place', 'finish-place', 'files-place'];

export class LaterPlaces {
  /**
   * @param {import('./controller.js').Controller} controller
   * @param {import('../beside.js').Means} means
   */
  constructor(controller, means) {
    this.controller = controller;
    this.means = means;
    /** @type {import('../series/places.js').Places | undefined} */
    this.places = undefined;
    this.series = new CarriedSeries(controller.board);
    /** Told when the series cannot follow its profiles. @type {() => void} */
    this.onGivenUp = () => {};
    /** Whether the series was worked on since it was taken; to look at pieces is no work. */
    this.worked = false;
    /** How many steps of the drawing were done when the series was last worked on: undo after a reload goes no further back. */
    this.stepsBefore = 0;
    /** Whether the person is to be led to the piece that comes. */
    this.leading = false;
    for (const id of HOMES) {
      const home = /** @type {HTMLDetailsElement} */ (byId(id));
      home.addEventListener('toggle', () => { if (home.open) this.open(); });
    }
    byId('to-series').addEventListener('click', () => goTo(HOMES[0]));
  }

  /** A place was opened. */
  async open() {
    try {
      const { Places } = await import('../series/places.js');
      this.places ??= new Places(this.controller, this.means, this);
      await this.places.open();
    } catch {
      this.controller.announcer.warn(UNFETCHED);
      this.giveUp();
    }
  }

  /**
   * Another work stands on the board.
   * @param {string} series its code; empty for none
   * @param {'' | 'open' | 'lead'} show whether the series is to be seen, or gone to at once
   */
  take(series, show) {
    this.series.write(series);
    this.worked = false;
    this.leading = series !== '' && show === 'lead';
    this.places?.take();
    if (!series || !show) return;
    byId(HOMES[0]).open = true;
    if (this.leading) onceShown(() => goTo(HOMES[0]));
  }

  /**
   * The piece that was asked for stands there: leads to it, unless the person has gone elsewhere.
   * @param {HTMLElement} top what is seen first
   * @param {HTMLElement} piece
   */
  arrive(top, piece) {
    if (!this.leading) return;
    this.leading = false;
    const { activeElement } = document;
    if (activeElement !== document.body && activeElement?.parentElement !== byId(HOMES[0])) return;
    top.scrollIntoView();
    piece.focus({ preventScroll: true });
  }

  /**
   * A series file has arrived.
   * @param {string} text
   * @param {string} name of the file; empty when it had none
   */
  async takeFile(text, name) {
    byId(HOMES[0]).open = true;
    await this.open();
    await this.places?.takeFile(text, name);
  }

  /**
   * The series was set, or another piece of it is shown.
   * @param {string} series
   * @param {boolean} worked
   * @param {import('./carried-series.js').Family} [of] the family that it names profiles of, if not the one on the board
   */
  tell(series, worked, of) {
    this.series.write(series, of);
    this.worked ||= worked;
    if (worked) this.stepsBefore = this.controller.board.stepsDone();
    this.controller.onHistory();
  }

  /**
   * Steps of the series beside those of the drawing: what was done last is taken back first.
   * @param {'back' | 'again'} by
   */
  turn(by) {
    const steps = this.places?.series?.steps;
    return steps?.isTurn(by) ? steps : undefined;
  }

  /** A series that is behind and cannot be written anew: with this family it would name other profiles. */
  giveUp() {
    if (!this.series.isBehind) return;
    this.onGivenUp();
    this.tell('', false);
  }

  /** The curves have changed. */
  drawn() {
    this.series.follow();
    if (this.places) this.places.drawn();
    else if (this.series.isBehind) this.open();
  }

  /** What is known of making the shown piece, for paper. @returns {Node[]} */
  paper() {
    return this.places?.ofPiece.making?.paper() ?? [];
  }

  /** The theme has changed. */
  repaint() {
    this.places?.repaint();
  }
}

/**
 * Opens a place and leads there.
 * @param {string} id
 */
export function goTo(id) {
  const home = /** @type {HTMLDetailsElement} */ (byId(id));
  home.open = true;
  home.scrollIntoView();
  home.querySelector('summary')?.focus({ preventScroll: true });
}

/**
 * Leads to the line that goes on to the series, and says so.
 * @param {import('./announcer.js').Announcer} announcer
 */
export function leadOnward(announcer) {
  announcer.tell('A hood is on the sheet, and its pairs are judged. Go on with “Next: Series”, below the pairs.');
  onceShown(() => {
    const line = byId('to-series');
    line.scrollIntoView({ block: 'center' });
    line.focus({ preventScroll: true });
  });
}

/**
 * Acts when what has changed is shown: the page shows changes in the next frame.
 * @param {() => void} act
 */
function onceShown(act) {
  requestAnimationFrame(() => requestAnimationFrame(act));
}
