// @ts-check
/**
 * Profiles by what stays: the key that the board gives each of them while the
 * page is open. The worker, links and files name profiles by their place in the
 * family, from 0; what a person set is held by keys, so that it follows its
 * profiles when some are added, deleted or moved, and is there again on undo.
 */

/** @typedef {import('./messages.js').SeriesWish} SeriesWish */

/**
 * A series that names profiles by place, by keys.
 * @param {SeriesWish} wish
 * @param {number[]} keys of the family's profiles
 * @returns {SeriesWish}
 */
export function byKeys(wish, keys) {
  // A place beyond the family has no profile: no key is below 0.
  return withAllowed(wish, (allowed) => allowed.map((place) => keys[place] ?? -1 - place));
}

/**
 * The same by place. Those that are not there are left out; with none left the list is empty, which is refused, and
 * where none was ever there, they stand as they were named, for a better word on it.
 * @param {SeriesWish} wish
 * @param {number[]} keys of the family's profiles
 * @returns {SeriesWish}
 */
export function byPlace(wish, keys) {
  return withAllowed(wish, (allowed) => {
    const there = allowed.map((key) => keys.indexOf(key)).filter((place) => 0 <= place).sort((one, other) => one - other);
    return there.length ? there : allowed.filter((key) => key < 0).map((key) => -1 - key);
  });
}

/**
 * @param {SeriesWish} wish
 * @param {(allowed: number[]) => number[]} change
 */
function withAllowed(wish, change) {
  return { ...wish, stations: wish.stations.map((station) => ({ ...station, allowed: station.allowed && change(station.allowed) })) };
}
