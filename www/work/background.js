// @ts-check
/**
 * Work beside the page: one worker, which is started when it is first needed
 * and ended when its work is no longer wanted. Where the browser gives the page
 * no worker, the work is done in the page, which then stands still for it.
 */
import { perform } from './tasks.js';

/** The work was given up. */
export class Stopped extends Error {}

/**
 * @typedef {object} Work
 * @property {number} id
 * @property {import('./tasks.js').Kind} kind
 * @property {import('./tasks.js').Asked | import('./tasks.js').SeriesAsked | import('./tasks.js').FileAsked} asked
 * @property {(told: any) => void} tell
 * @property {(answer: any) => void} resolve
 * @property {(reason: unknown) => void} reject
 */

export class Background {
  /** @param {import('../beside.js').Means} means */
  constructor(means) {
    this.means = means;
    this.last = 0;
    /** Whether the browser gives no worker. */
    this.refused = false;
    /** @type {Worker | undefined} */
    this.worker = undefined;
    /** @type {Work | undefined} */
    this.work = undefined;
  }

  /** Whether it is at work. */
  get busy() {
    return this.work !== undefined;
  }

  /**
   * Takes a work up; one that is still going on is given up.
   * @param {import('./tasks.js').Kind} kind
   * @param {import('./tasks.js').Asked | import('./tasks.js').SeriesAsked | import('./tasks.js').FileAsked} asked
   * @param {(told: any) => void} [tell] hears how far it has come
   * @returns {Promise<any>}
   */
  ask(kind, asked, tell = () => {}) {
    this.stop();
    return new Promise((resolve, reject) => {
      this.last += 1;
      this.work = { id: this.last, kind, asked, tell, resolve, reject };
      this.begin(this.work);
    });
  }

  /** Gives the work up: the worker is ended, whatever it is doing. */
  stop() {
    const { work } = this;
    if (!work) return;
    this.end();
    this.work = undefined;
    work.reject(new Stopped('The work was given up.'));
  }

  /** Ends the worker. */
  end() {
    this.worker?.terminate();
    this.worker = undefined;
  }

  /** @param {Work} work */
  async begin(work) {
    try {
      const module = await this.means.compiled();
      if (this.work !== work) return;
      const worker = this.readyWorker(module);
      if (worker) worker.postMessage({ id: work.id, kind: work.kind, asked: work.asked });
      else await this.doHere(work);
    } catch (error) {
      this.hear({ id: work.id, failed: error instanceof Error ? error.message : String(error) });
    }
  }

  /**
   * @param {WebAssembly.Module} module
   * @returns {Worker | undefined}
   */
  readyWorker(module) {
    if (this.worker || this.refused) return this.worker;
    try {
      const worker = this.means.hire();
      worker.postMessage({ module });
      worker.addEventListener('message', ({ data }) => this.hear(data));
      worker.addEventListener('error', (event) => {
        event.preventDefault();
        this.refuse();
      });
      this.worker = worker;
    } catch {
      this.refused = true;
    }
    return this.worker;
  }

  /** The worker could not be started: do its work here, now and later. */
  refuse() {
    this.end();
    this.refused = true;
    if (this.work) this.begin(this.work);
  }

  /** @param {{id: number, told?: any, answer?: any, failed?: string, broken?: boolean}} data */
  hear(data) {
    const { work } = this;
    if (!work || data.id !== work.id) return;
    if (data.told) {
      work.tell(data.told);
      return;
    }
    this.work = undefined;
    if (data.broken) this.end();
    if (data.failed === undefined) work.resolve(data.answer);
    else work.reject(new Error(data.failed));
  }

  /** @param {Work} work */
  async doHere(work) {
    const kernel = await this.means.here();
    // The page stands still for a work: between two it shows how far it is, and hears a Stop.
    await new Promise((resolve) => setTimeout(resolve));
    if (this.work === work) this.hear({ id: work.id, answer: perform(kernel, work.kind, work.asked, work.tell) });
  }
}
