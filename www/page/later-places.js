// @ts-check
/**
 * The places after the pairs. Their modules are fetched when one of them is
 * first opened: whoever comes to draw need not wait for them. What is kept and
 * linked of the series is known before, as text that only they can read.
 */
import { byId } from './dom.js';

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
    /** The code of the series; empty while nobody has set one. */
    this.series = '';
    /** Whether the series was worked on since it was taken; to look at pieces is no work. */
    this.worked = false;
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
      this.controller.announcer.warn('This part of the page could not be fetched: reload the page when the network is there. Your work is kept.');
    }
  }

  /**
   * Another work stands on the board.
   * @param {string} series its code; empty for none
   * @param {boolean} show whether the series is to be seen
   */
  take(series, show) {
    this.series = series;
    this.worked = false;
    this.places?.take();
    if (series && show) byId(HOMES[0]).open = true;
  }

  /**
   * A series file has arrived.
   * @param {string} text
   */
  async takeFile(text) {
    byId(HOMES[0]).open = true;
    await this.open();
    await this.places?.takeFile(text);
  }

  /**
   * The series was set, or another piece of it is shown.
   * @param {string} series
   * @param {boolean} worked
   */
  tell(series, worked) {
    this.series = series;
    this.worked ||= worked;
    this.controller.onHistory();
  }

  /** The curves have changed. */
  drawn() {
    this.places?.drawn();
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
