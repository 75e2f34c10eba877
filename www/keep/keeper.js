// @ts-check
/**
 * Keeps the work in the browser: the family on the board, and earlier works
 * that another one took the place of. Storage may be refused or full; then it
 * says so and the work goes on.
 */

const WORK = 'loftkin.work';
const EARLIER = 'loftkin.earlier';
/** How many earlier works are kept; the oldest go first. */
const MOST_EARLIER = 24;

/**
 * @typedef {object} Earlier
 * @property {string} code the share code
 * @property {string} name what the list shows
 * @property {number} when milliseconds since 1970
 */

export class Keeper {
  constructor() {
    /** What this page last read or wrote, to know another page's work. @type {string | null} */
    this.known = null;
  }

  /** @returns {string | null} the share code of the kept work */
  load() {
    this.known = get(WORK);
    return this.known;
  }

  /**
   * Keeps a work. What another page of the same browser kept meanwhile is set aside.
   * @param {string} code
   * @param {(code: string) => string} nameOf
   * @returns {'kept' | 'refused' | 'full'}
   */
  save(code, nameOf) {
    const standing = get(WORK);
    if (standing && standing !== this.known && standing !== code) this.setAside(standing, nameOf(standing));
    const outcome = set(WORK, code);
    if (outcome === 'kept') this.known = code;
    return outcome;
  }

  /** @returns {Earlier[]} newest first */
  earlier() {
    try {
      const list = JSON.parse(get(EARLIER) ?? '[]');
      return Array.isArray(list) ? list.filter((entry) => typeof entry?.code === 'string') : [];
    } catch {
      return [];
    }
  }

  /**
   * @param {string} code
   * @param {string} name
   */
  setAside(code, name) {
    const others = this.earlier().filter((entry) => entry.code !== code);
    const list = [{ code, name, when: Date.now() }, ...others].slice(0, MOST_EARLIER);
    return set(EARLIER, JSON.stringify(list));
  }

  /** @param {string} code */
  forget(code) {
    set(EARLIER, JSON.stringify(this.earlier().filter((entry) => entry.code !== code)));
  }
}

/** @param {string} key */
function get(key) {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

/**
 * @param {string} key
 * @param {string} value
 * @returns {'kept' | 'refused' | 'full'}
 */
function set(key, value) {
  try {
    localStorage.setItem(key, value);
    return 'kept';
  } catch (error) {
    return error instanceof DOMException && error.name === 'QuotaExceededError' ? 'full' : 'refused';
  }
}
