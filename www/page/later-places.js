// @ts-check
/**
 * The places after the pairs. Their modules are fetched when one of them is
 * first opened: whoever comes to draw need not wait for them.
 */
import { byId } from './dom.js';

/** The places, in the order of the work. */
export const HOMES = ['series-place', 'making-place', 'files-place'];

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
    for (const id of HOMES) {
      const home = /** @type {HTMLDetailsElement} */ (byId(id));
      home.addEventListener('toggle', () => { if (home.open) this.open(); });
    }
  }

  /** A place was opened. */
  async open() {
    try {
      const { Places } = await import('../series/places.js');
      this.places ??= new Places(this.controller, this.means);
      await this.places.open();
    } catch {
      this.controller.announcer.warn('This part of the page could not be fetched: reload the page when the network is there. Your work is kept.');
    }
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
