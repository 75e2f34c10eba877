// @ts-check
/**
 * Keeps the reference picture and its place in this browser between visits.
 */
import { withStore } from '../keep/database.js';

/**
 * @typedef {{blob: Blob, place: [x: number, y: number, width: number, strength: number]}} Kept x, y and width in mm, and strength
 */

const [NAME, STORE, KEY] = ['loftkin', 'reference', 'picture'];

/** @returns {Promise<Kept | undefined>} */
export async function keptPicture() {
  const kept = await withStore(NAME, STORE, 'readonly', (store) => store.get(KEY)).catch(() => undefined);
  return kept && { place: kept.place, blob: kept.blob ?? new Blob([kept.bytes]) };
}

/**
 * @param {Kept} kept
 * @returns {Promise<boolean>} whether it is kept
 */
export async function keepPicture({ blob, place }) {
  try {
    // As bytes: a private window of WebKit keeps no blob.
    const bytes = await blob.arrayBuffer();
    await withStore(NAME, STORE, 'readwrite', (store) => store.put({ bytes, place }, KEY));
    return true;
  } catch {
    return false;
  }
}

export function forgetPicture() {
  withStore(NAME, STORE, 'readwrite', (store) => store.delete(KEY)).catch(() => {});
}
