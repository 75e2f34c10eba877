// @ts-check
/**
 * Keeps the work in the browser: the family on the board, for each tab its own,
 * and earlier works that another one took the place of, until their owner
 * removes them. Storage may be refused or full; then it says so and the work
 * goes on.
 */

/** In the tab's own storage the steps that led to its work. */
const STEPS = 'loftkin.steps';
/** Characters, of the some five million that a browser keeps for a tab. */
const LONGEST_STEPS = 1 << 19;
/** In the tab's own storage its work; in the storage of all tabs the one that was kept last, and by which tab. */
const WORK = 'loftkin.work';
const OWNER = 'loftkin.owner';
/** Works that were set aside a moment ago; when there are more of them than here, they move to the database. */
const EARLIER = 'loftkin.earlier';
const MOST_HERE = 24;

/**
 * @typedef {object} Earlier
 * @property {string} code the share code
 * @property {string} name what the list shows
 * @property {number} when milliseconds since 1970
 * @property {string} [tab] the tab whose latest work it was when another tab kept its own
 *
 * @typedef {object} Steps as the board gives and takes them
 * @property {string} lines
 * @property {Uint32Array} numbers
 *
 * @typedef {'kept' | 'refused' | 'full'} Outcome
 */

export class Keeper {
  constructor() {
    /** What this page last read or wrote, to know another page's work. @type {string | null} */
    this.known = null;
    /** Names this page while it is there. */
    this.tab = Math.random().toString(36).slice(2);
    /** Told of a work that could not be set aside. @type {(name: string) => void} */
    this.onLost = () => {};
    // From here on the work is nobody's: the next page may go on with it.
    window.addEventListener('pagehide', () => { if (get(OWNER) === this.tab) drop(OWNER); });
  }

  /** @returns {string | null} the share code of the kept work: this tab's own, else the one that was kept last */
  load() {
    this.known = get(WORK, 'sessionStorage') ?? get(WORK);
    return this.known;
  }

  /** @returns {Steps} that led to this tab's own work */
  steps() {
    const [numbers, ...lines] = (get(STEPS, 'sessionStorage') ?? '').split('\n');
    return { lines: lines.join('\n'), numbers: Uint32Array.from(numbers.split(','), Number) };
  }

  /**
   * Keeps the steps that led to this tab's work, the last of them where all are too long; without room for them undo begins
   * anew when the page is loaded again.
   * @param {(from: number) => Steps} steps after so many
   * @param {number} from
   * @param {number} done how many steps are done
   */
  holdSteps(steps, from, done) {
    let kept = steps(from);
    for (let first = from; LONGEST_STEPS < kept.lines.length && first < done; kept = steps(first)) first += Math.ceil((done - first) / 2);
    const text = LONGEST_STEPS < kept.lines.length ? '' : `${kept.numbers}\n${kept.lines}`;
    if (set(STEPS, text, 'sessionStorage') !== 'kept') set(STEPS, '', 'sessionStorage');
  }

  /** @param {string} code that this tab begins with */
  hold(code) {
    set(WORK, code, 'sessionStorage');
  }

  /**
   * Keeps a work. What another page of the same browser kept meanwhile is set aside.
   * @param {string} code
   * @param {(code: string) => string} nameOf
   * @returns {Outcome}
   */
  save(code, nameOf) {
    const [standing, owner] = [get(WORK), get(OWNER)];
    const foreign = standing !== this.known || (owner !== null && owner !== this.tab);
    if (standing && standing !== code && foreign) this.setAside(standing, nameOf(standing), owner ?? undefined);
    this.hold(code);
    const outcome = set(WORK, code);
    if (outcome !== 'kept') return outcome;
    this.known = code;
    if (owner === this.tab) return outcome;
    set(OWNER, this.tab);
    // What another tab set aside of this one is older than what is kept now.
    const older = this.earlier();
    if (older.some(({ tab }) => tab === this.tab)) put(older.filter(({ tab }) => tab !== this.tab));
    return outcome;
  }

  /** @returns {Earlier[]} those that have not moved to the database, newest first */
  earlier() {
    try {
      const list = JSON.parse(get(EARLIER) ?? '[]');
      return Array.isArray(list) ? list.filter((entry) => typeof entry?.code === 'string') : [];
    } catch {
      return [];
    }
  }

  /** @returns {Promise<Earlier[]>} all, newest first */
  async allEarlier() {
    const stored = await works().then(({ storedWorks }) => storedWorks()).catch(() => []);
    const here = this.earlier();
    const codes = new Set(here.map(({ code }) => code));
    return [...here, ...stored.filter(({ code }) => !codes.has(code))].sort((one, other) => other.when - one.when);
  }

  /**
   * @param {string} code
   * @param {string} name
   * @param {string} [tab] whose latest work it is
   */
  setAside(code, name, tab) {
    const others = this.earlier().filter((entry) => entry.code !== code && !(tab && entry.tab === tab));
    const entry = { code, name, when: Date.now(), ...(tab && { tab }) };
    const outcome = put([entry, ...others]);
    if (outcome !== 'kept') this.makeRoom([entry]).catch(() => this.onLost(name));
    else if (MOST_HERE <= others.length) this.makeRoom().catch(() => {});
  }

  /**
   * Moves the earlier works to the database, which holds far more.
   * @param {Earlier[]} [more] that are to go there too
   * @returns {Promise<boolean>} whether that made room here
   */
  async makeRoom(more = []) {
    const here = this.earlier();
    const moving = [...here, ...more];
    if (!moving.length) return false;
    await (await works()).storeWorks(moving);
    const moved = new Set(moving.map(({ code }) => code));
    put(this.earlier().filter(({ code }) => !moved.has(code)));
    return here.length > 0;
  }

  /** @param {string} code */
  async forget(code) {
    put(this.earlier().filter((entry) => entry.code !== code));
    await works().then(({ removeWork }) => removeWork(code)).catch(() => {});
  }
}

function works() {
  return import('./earlier-works.js');
}

/** @param {Earlier[]} list */
function put(list) {
  return set(EARLIER, JSON.stringify(list));
}

/**
 * @param {string} key
 * @param {'localStorage' | 'sessionStorage'} [where]
 * @returns {string | null}
 */
function get(key, where = 'localStorage') {
  try {
    return window[where].getItem(key);
  } catch {
    return null;
  }
}

/** @param {string} key */
function drop(key) {
  try {
    localStorage.removeItem(key);
  } catch {
    // Where nothing can be removed nothing was kept.
  }
}

/**
 * @param {string} key
 * @param {string} value
 * @param {'localStorage' | 'sessionStorage'} [where]
 * @returns {Outcome}
 */
function set(key, value, where = 'localStorage') {
  try {
    window[where].setItem(key, value);
    return 'kept';
  } catch (error) {
    return error instanceof DOMException && error.name === 'QuotaExceededError' ? 'full' : 'refused';
  }
}
