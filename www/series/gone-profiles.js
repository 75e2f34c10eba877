// @ts-check
/**
 * What stations allow and the drawing lacks, said above them: profiles that
 * were deleted, which undo brings back.
 */
import { element } from '../page/dom.js';

/** As many have room in a sentence. */
const MOST_NAMED = 4;

export class GoneProfiles {
  constructor() {
    /** What is said; empty for nothing. */
    this.text = '';
    this.place = element('p', { class: 'caution-text' });
    this.place.hidden = true;
    /** The names of all profiles that were ever there, by key. @type {Map<number, string>} */
    this.names = new Map();
  }

  /**
   * @param {import('../page/messages.js').Profile[]} profiles of the family
   * @param {number[]} keys
   */
  know(profiles, keys) {
    for (const [place, { name }] of profiles.entries()) this.names.set(keys[place], [place + 1, name && `“${name}”`].filter(Boolean).join(' '));
  }

  /**
   * @param {import('./messages.js').StationWish[]} stations
   * @param {number[]} keys of the family's profiles
   */
  show(stations, keys) {
    this.text = inWords(stations, keys, this.names);
    this.place.textContent = this.text;
    this.place.hidden = !this.text;
  }
}

/**
 * What stations allow and the family lacks, in words; empty for nothing.
 * @param {import('./messages.js').StationWish[]} stations
 * @param {number[]} keys of the family's profiles
 * @param {Map<number, string>} names of all profiles that ever were there, by key
 */
function inWords(stations, keys, names) {
  /** @type {Map<number, number[]>} */
  const gone = new Map();
  for (const [index, { allowed }] of stations.entries()) for (const key of allowed ?? []) if (!keys.includes(key)) gone.set(key, [...(gone.get(key) ?? []), index + 1]);
  if (!gone.size) return '';
  const each = [...gone].map(([key, at]) => `profile ${names.get(key) ?? -key} (allowed at ${at.length === 1 ? 'station' : 'stations'} ${listed(at)})`);
  const bare = stations.flatMap(({ allowed }, index) => (allowed?.some((key) => keys.includes(key)) === false ? [index + 1] : []));
  const left = bare.length ? ` Nothing is left at ${bare.length === 1 ? 'station' : 'stations'} ${listed(bare)}: choose what may stand there.` : '';
  return `Not in the drawing now: ${listed(each.slice(0, MOST_NAMED))}${MOST_NAMED < each.length ? `, and ${each.length - MOST_NAMED} more` : ''}. Undo in the drawing brings back what was deleted.${left}`;
}

/** @param {(string | number)[]} parts */
function listed(parts) {
  return parts.length < 2 ? parts.join('') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
}
