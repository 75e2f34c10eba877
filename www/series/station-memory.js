// @ts-check
/**
 * What stations were set to, for each way in which they stand and for as many
 * as there ever were: another setting or number is tried and nothing is lost.
 * Places belong to their setting; scale, shift, turn and rules to the station.
 */

/** @typedef {import('./messages.js').StationWish} StationWish */

/** @type {StationWish} */
const AS_DRAWN = { at: 0, scale: 1, right: 0, up: 0, turn: 0, allowed: null };
/** Places are rounded so finely, against the error of many sums. */
const FINEST = 1e9;

export class StationMemory {
  constructor() {
    /** All but the places, beyond those that stand too. @type {StationWish[]} */
    this.stations = [];
    /** By setting: places, and how many of them stood when they were last seen. @type {Map<string, {at: number[], shown: number}>} */
    this.places = new Map();
  }

  forget() {
    this.stations = [];
    this.places.clear();
  }

  /**
   * @param {string} setting
   * @param {StationWish[]} stations
   */
  keep(setting, stations) {
    const key = keyOf(setting, stations.length);
    const before = this.places.get(key)?.at ?? [];
    const at = stations.map((station) => station.at);
    this.places.set(key, { at: [...at, ...before.slice(at.length)], shown: at.length });
    this.stations = [...stations.map((station) => ({ ...station })), ...this.stations.slice(stations.length)];
  }

  /**
   * So many stations as they last stood in this setting; those that never did go on as the last two do.
   * @param {string} setting
   * @param {number} count
   * @param {number} step from one to the next where none stood yet
   * @returns {StationWish[]}
   */
  recall(setting, count, step) {
    const { at: known, shown } = this.places.get(keyOf(setting, count)) ?? { at: [], shown: 0 };
    // What was cut off comes back only where it lies beyond what stands now.
    const falls = known.findIndex((at, index) => shown <= index && at <= known[index - 1]);
    const at = known.slice(0, falls < 0 ? count : Math.min(falls, count));
    const gap = 1 < at.length && at[at.length - 2] < at[at.length - 1] ? at[at.length - 1] - at[at.length - 2] : step;
    while (at.length < count) at.push(at.length ? rounded(at[at.length - 1] + gap) : 0);
    return this.dressed(at);
  }

  /**
   * Stations at the same distance.
   * @param {string} setting
   * @param {number} count
   * @param {number} step
   */
  even(setting, count, step) {
    const stations = this.dressed(Array.from({ length: count }, (_, index) => rounded(index * step)));
    this.places.delete(keyOf(setting, count));
    return stations;
  }

  /** @param {number[]} places */
  dressed(places) {
    return places.map((at, index) => ({ ...(this.stations[index] ?? AS_DRAWN), at }));
  }
}

/**
 * The distance of stations that are evenly spaced; none when they are not.
 * @param {StationWish[]} stations
 */
export function evenStep(stations) {
  const gaps = stations.slice(1).map(({ at }, index) => at - stations[index].at);
  return gaps.every((gap) => Math.abs(gap - gaps[0]) < 1e-6) ? gaps[0] : undefined;
}

/**
 * All round, every number of stations is spaced anew.
 * @param {string} setting
 * @param {number} count
 */
function keyOf(setting, count) {
  return setting === 'round' ? `${setting} ${count}` : setting;
}

/** @param {number} value */
function rounded(value) {
  return Math.round(value * FINEST) / FINEST;
}
