// @ts-check
/**
 * The works that may take longer than a frame. The same in a worker and, where
 * a browser gives the page none, in the page.
 */
import { performSeries } from './series-task.js';

/**
 * @typedef {import('../beside.js').WorkKernel} WorkKernel
 * @typedef {'mend' | 'nodes' | 'proof' | 'tolerance' | 'sets' | 'series' | 'file'} Kind
 * @typedef {{code: string, wish?: import('../page/messages.js').MendWish, pair?: [number, number]}} Asked the family's share code, and what is wished of which pair
 * @typedef {import('./series-task.js').SeriesAsked} SeriesAsked
 * @typedef {{name: string, bytes: Uint8Array, kind: '' | 'open' | 'closed'}} FileAsked a file, and which of its profiles are taken where it mixes both
 */

/**
 * @param {WorkKernel} kernel
 * @param {Kind} kind
 * @param {Asked | SeriesAsked | FileAsked} asked
 * @param {(told: any) => void} tell hears how far a mend has come
 * @returns {any}
 */
export function perform(kernel, kind, asked, tell) {
  if (kind === 'series') return performSeries(kernel, /** @type {SeriesAsked} */ (asked));
  if (kind === 'file') {
    const { name, bytes, kind: taken } = /** @type {FileAsked} */ (asked);
    return kernel.readFile(name, bytes, taken);
  }
  return performWork(kernel, kind, /** @type {Asked} */ (asked), tell);
}

/**
 * @param {WorkKernel} kernel
 * @param {Exclude<Kind, 'series' | 'file'>} kind
 * @param {Asked} asked
 * @param {(told: any) => void} tell
 */
function performWork(kernel, kind, asked, tell) {
  switch (kind) {
    case 'mend': return kernel.mendFamily(asked.code, asked.wish, tell);
    case 'nodes': return kernel.nodesOf(asked.code, ...(asked.pair ?? [0, 0]));
    case 'proof': return kernel.proofOf(asked.code);
    case 'tolerance': return kernel.toleranceOf(asked.code);
    case 'sets': return kernel.setsOf(asked.code);
  }
}
