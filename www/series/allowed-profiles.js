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
   * @param {string[]} names of the profiles
   * @param {number[] | null} allowed profiles from 0; null for any
   * @param {(allowed: number[] | null) => void} changed
   */
  constructor(station, names, allowed, changed) {
    this.station = station;
    this.names = names;
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
    if (!open && !this.allowed.size) {
      this.allowed = this.chosen();
      this.say();
    }
    this.line.hidden = !open;
    this.opener.setAttribute('aria-expanded', String(open));
    // The chips stand below the line's other fields.
    if (open) this.chips?.[0]?.focus();
  }

  fill() {
    this.chips = this.names.map((name, profile) => button(name, () => {
      if (!this.allowed.delete(profile)) this.allowed.add(profile);
      this.take();
    }, { class: 'chip' }));
    this.choice.append(...this.chips,
      button('Any', () => { this.allowed = new Set(this.all()); this.take(); }),
      button('None yet', () => { this.allowed.clear(); this.take(); }, { title: 'Takes all out, to choose those that may stand here' }),
      button('All others', () => { this.turnRound(); this.take(); }, { title: 'Allows what is not allowed now, and the other way round' }));
    this.say();
  }

  all() {
    return this.names.map((_, profile) => profile);
  }

  /** What is allowed as a set of profiles. */
  chosen() {
    return new Set(this.standing ?? this.all());
  }

  turnRound() {
    this.allowed = new Set(this.all().filter((profile) => !this.allowed.has(profile)));
  }

  /** With none taken, what was allowed holds until one is. */
  take() {
    this.say();
    if (!this.allowed.size) return;
    const any = this.all().every((profile) => this.allowed.has(profile));
    this.standing = any ? null : [...this.allowed].sort((one, other) => one - other);
    this.changed(this.standing);
  }

  say() {
    const text = inWords([...this.allowed], this.names.length);
    this.opener.textContent = text;
    this.opener.setAttribute('aria-label', `Profiles at station ${this.station}: ${text}`);
    this.chips?.forEach((chip, profile) => chip.setAttribute('aria-pressed', String(this.allowed.has(profile))));
  }
}

/**
 * "any", "none yet", "2", "1, 3-5", or how many of them when that would be long.
 * @param {number[]} allowed profiles from 0
 * @param {number} count how many there are
 */
function inWords(allowed, count) {
  if (!allowed.length) return count ? 'none yet' : 'any';
  if (count <= allowed.filter((profile) => profile < count).length) return 'any';
  const numbers = allowed.map((profile) => profile + 1).sort((one, other) => one - other);
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
