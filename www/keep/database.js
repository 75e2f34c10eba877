// @ts-check
/**
 * The browser's database, asked for one thing at a time. It may be refused.
 */

/**
 * @param {string} name of the database
 * @param {string} store the one that it holds
 * @param {IDBTransactionMode} mode
 * @param {(store: IDBObjectStore) => IDBRequest | undefined} ask gives the request whose answer is wanted
 * @returns {Promise<any>} when all that was asked is done and kept
 */
export async function withStore(name, store, mode, ask) {
  const opening = indexedDB.open(name, 1);
  opening.onupgradeneeded = () => opening.result.createObjectStore(store);
  const base = await new Promise((resolve, reject) => {
    opening.onsuccess = () => resolve(opening.result);
    opening.onerror = () => reject(opening.error);
  });
  try {
    const transaction = base.transaction(store, mode);
    const request = ask(transaction.objectStore(store));
    await new Promise((resolve, reject) => {
      transaction.oncomplete = resolve;
      transaction.onerror = transaction.onabort = () => reject(transaction.error);
    });
    return request?.result;
  } finally {
    base.close();
  }
}
