// @ts-check
/**
 * Plays through the sections, to and fro, until it is stopped. Where motion is
 * to be reduced it goes on by one step a press instead.
 */
import { button } from '../page/dom.js';

/** How long it takes from one profile to the other, in milliseconds. */
const WHOLE = 4000;
/** How far a single step goes, across. */
const STEP = 0.05;

export class Player {
  /**
   * @param {HTMLInputElement} range the slider, whose use stops the play
   * @param {(across: number) => void} show
   */
  constructor(range, show) {
    this.range = range;
    this.show = show;
    this.way = 1;
    this.playing = false;
    this.calm = matchMedia('(prefers-reduced-motion: reduce)');
    this.button = button('Play', () => this.press(), { 'aria-controls': 'across' });
    this.calm.addEventListener('change', () => this.stop());
    range.addEventListener('pointerdown', () => this.stop());
    range.addEventListener('keydown', () => this.stop());
    this.stop();
  }

  press() {
    if (this.calm.matches) {
      this.go(STEP);
      return;
    }
    if (this.playing) {
      this.stop();
      return;
    }
    this.playing = true;
    this.button.textContent = 'Stop';
    let before = performance.now();
    const next = (/** @type {number} */ now) => {
      if (!this.playing) return;
      // Stops when what it plays is no longer to be seen.
      if (!this.range.getClientRects().length || this.range.disabled) {
        this.stop();
        return;
      }
      this.go((now - before) / WHOLE);
      before = now;
      requestAnimationFrame(next);
    };
    requestAnimationFrame(next);
  }

  stop() {
    this.playing = false;
    this.button.textContent = this.calm.matches ? 'Step' : 'Play';
  }

  /** @param {number} by how far across */
  go(by) {
    const at = this.range.valueAsNumber + this.way * Math.max(0, by);
    if (at <= 0 || 1 <= at) this.way = at <= 0 ? 1 : -1;
    this.show(Math.max(0, Math.min(1, at)));
  }
}
