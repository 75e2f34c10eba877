// @ts-check
/**
 * Questions about one series, one after the other, to a worker that keeps the
 * counted series between them.
 */
import { Background, Stopped } from '../work/background.js';

export class Asking {
  /**
   * @param {import('../beside.js').Means} means
   * @param {(busy: boolean) => void} told whether something is being worked out
   */
  constructor(means, told) {
    this.background = new Background(means);
    this.told = told;
    /** What was asked last, done or not. @type {Promise<unknown>} */
    this.last = Promise.resolve();
    /** How often all was given up. */
    this.round = 0;
    this.waiting = 0;
  }

  /**
   * @param {import('./messages.js').Counted} series
   * @param {import('./messages.js').SeriesOrder} order
   * @returns {Promise<any>}
   */
  ask(series, order) {
    const { round } = this;
    this.count(1);
    const answer = this.last.then(() => {
      if (round !== this.round) throw new Stopped('The work was given up.');
      return this.background.ask('series', { ...series, order });
    }).finally(() => this.count(-1));
    this.last = answer.catch(() => {});
    return answer;
  }

  /** Gives up all that is not done. */
  stop() {
    this.round += 1;
    this.background.stop();
  }

  /** @param {number} change */
  count(change) {
    this.waiting += change;
    this.told(0 < this.waiting);
  }
}
