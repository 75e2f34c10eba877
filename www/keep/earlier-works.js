// @ts-check
/**
 * Earlier works in the browser's database, each by its share code, until their
 * owner removes them.
 */
import { withStore } from './database.js';

/** @typedef {import('./keeper.js').Earlier} Earlier */

const [NAME, STORE] = ['loftkin-works', 'works'];

/** @returns {Promise<Earlier[]>} */
export function storedWorks() {
  return withStore(NAME, STORE, 'readonly', (store) => store.getAll());
}

/** @param {Earlier[]} works */
export function storeWorks(works) {
  return withStore(NAME, STORE, 'readwrite', (store) => {
    for (const work of works) store.put(work, work.code);
    return undefined;
  });
}

/** @param {string} code */
export function removeWork(code) {
  return withStore(NAME, STORE, 'readwrite', (store) => store.delete(code));
}
