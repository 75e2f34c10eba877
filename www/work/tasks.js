// @ts-check
/**
 * The works that may take longer than a frame. The same in a worker and, where
 * a browser gives the page none, in the page.
 */

/**
 * @typedef {import('../page/messages.js').Kernel} Kernel
 * @typedef {'mend' | 'proof' | 'whole'} Kind
 * @typedef {{code: string, wish?: import('../page/messages.js').MendWish}} Asked the family's share code, and what is wished
 */

/**
 * @param {Kernel} kernel
 * @param {Kind} kind
 * @param {Asked} asked
 * @param {(told: any) => void} tell hears how far a mend has come
 * @returns {any}
 */
export function perform(kernel, kind, asked, tell) {
  switch (kind) {
    case 'mend': return kernel.mendFamily(asked.code, asked.wish, tell);
    case 'proof': return kernel.proofOf(asked.code);
    case 'whole': {
      const start = performance.now();
      const whole = kernel.wholeFamilyOf(asked.code);
      return { whole, took: performance.now() - start };
    }
  }
}
