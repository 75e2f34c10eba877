// @ts-check
/**
 * Keeps the reference picture and its place in this browser between visits.
 * Where storage is refused it is simply gone when the page is left.
 */

/** @typedef {{blob: Blob, place: number[]}} Kept x, y and width in mm, and strength */

const [NAME, STORE, KEY] = ['loftkin', 'reference', 'picture'];

/** @returns {Promise<Kept | undefined>} */
export function keptPicture() {
  return withStore('readonly', (store) => store.get(KEY)).catch(() => undefined);
}

/** @param {Kept} kept */
export function keepPicture(kept) {
  withStore('readwrite', (store) => store.put(kept, KEY)).catch(() => {});
}

export function forgetPicture() {
  withStore('readwrite', (store) => store.delete(KEY)).catch(() => {});
}

/**
 * @param {IDBTransactionMode} mode
 * @param {(store: IDBObjectStore) => IDBRequest} ask
 * @returns {Promise<any>}
 */
async function withStore(mode, ask) {
  const opening = indexedDB.open(NAME, 1);
  opening.onupgradeneeded = () => opening.result.createObjectStore(STORE);
  const base = await outcome(opening);
  try {
    return await outcome(ask(base.transaction(STORE, mode).objectStore(STORE)));
  } finally {
    base.close();
  }
}

/**
 * @param {IDBRequest} request
 * @returns {Promise<any>}
 */
function outcome(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}
