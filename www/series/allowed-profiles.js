// @ts-check
/**
 * Which profiles may stand at one station: a button that says it, and below the
 * station's line a chip a profile. All pressed means any.
 */
import { button, element } from '../page/dom.js';

/** Longer words make the table of stations wider than it need be. */
const LONGEST = 13;

export class AllowedProfiles {
  /**
   * @param {number} station from 1
   * @param {{names: string[], keys: number[]}} profiles of the family
   * @param {number[] | null} allowed profiles by keys; null for any
   * @param {(allowed: number[] | null) => void} changed
   */
  constructor(station, { names, keys }, allowed, changed) {
    this.station = station;
    this.names = names;
    this.keys = keys;
    /** Those that were allowed last, while none is taken. */
    this.standing = allowed;
    this.allowed = this.chosen();
    this.changed = changed;
    this.opener = button('', () => this.open(this.line.hidden === true), { class: 'allowed', 'aria-expanded': 'false' });
    this.choice = element('div', { class: 'allowed-choice', role: 'group', 'aria-label': `Profiles that may stand at station ${station}` });
    this.cell = element('td', {}, this.choice);
    this.line = element('tr', { class: 'allowed-line' }, this.cell);
    this.line.hidden = true;
    this.line.addEventListener('keydown', (event) => {
      if (event.key !== 'Escape') return;
      this.open(false);
      this.opener.focus();
    });
    this.say();
  }

  /** @param {number} columns that the chips may take */
  span(columns) {
    this.cell.setAttribute('colspan', String(columns));
  }

  /** @param {boolean} open */
  open(open) {
    // Made when first asked for: stations times profiles may be thousands.
    if (open && !this.choice.childElementCount) this.fill();
    if (!open && !this.there().length) {
      this.allowed = this.chosen();
      this.say();
    }
    this.line.hidden = !open;
    this.opener.setAttribute('aria-expanded', String(open));
    // The chips stand below the line's other fields.
    if (open) this.chips?.[0]?.focus();
  }

  fill() {
    this.chips = this.names.map((name, place) => button(name, () => {
      if (!this.allowed.delete(this.keys[place])) this.allowed.add(this.keys[place]);
      this.take();
    }, { class: 'chip' }));
    this.choice.append(...this.chips,
      button('Any', () => { this.allowed = new Set(this.keys); this.take(); }),
      button('None yet', () => { this.allowed.clear(); this.take(); }, { title: 'Takes all out, to choose those that may stand here' }),
      button('All others', () => { this.turnRound(); this.take(); }, { title: 'Allows what is not allowed now, and the other way round' }));
    this.say();
  }

  /** What is allowed as a set of keys; those of deleted profiles stay in it, for they may come back. */
  chosen() {
    return new Set(this.standing ?? this.keys);
  }

  /** Those of the allowed profiles that the family has. */
  there() {
    return this.keys.filter((key) => this.allowed.has(key));
  }

  turnRound() {
    this.allowed = new Set(this.keys.filter((key) => !this.allowed.has(key)));
  }

  /** With none taken, what was allowed holds until one is. */
  take() {
    const there = this.there();
    if (there.length) this.standing = there.length === this.keys.length ? null : [...there, ...[...this.allowed].filter((key) => !this.keys.includes(key))];
    this.say();
    if (!there.length) return;
    this.changed(this.standing);
  }

  say() {
    const text = this.inWords();
    this.opener.textContent = text;
    this.opener.setAttribute('aria-label', `Profiles at station ${this.station}: ${text}`);
    this.chips?.forEach((chip, place) => chip.setAttribute('aria-pressed', String(this.allowed.has(this.keys[place]))));
  }

  inWords() {
    const there = this.there();
    if (there.length) return there.length === this.keys.length && !this.standing ? 'any' : numbersInWords(there.map((key) => this.keys.indexOf(key) + 1), this.keys.length);
    if (this.allowed.size) return 'none left';
    return this.keys.length ? 'none yet' : 'any';
  }
}

/**
 * "2", "1, 3-5", or how many of them when that would be long.
 * @param {number[]} numbers ascending
 * @param {number} count how many there are
 */
function numbersInWords(numbers, count) {
  /** @type {number[][]} */
  const runs = [];
  for (const number of numbers) {
    const run = runs.at(-1);
    if (run && run[run.length - 1] + 1 === number) run.push(number);
    else runs.push([number]);
  }
  const words = runs.flatMap((run) => (run.length < 3 ? run.map(String) : `${run[0]}-${run.at(-1)}`)).join(', ');
  return words.length <= LONGEST ? words : `${numbers.length} of ${count}`;
}
