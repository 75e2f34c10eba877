// @ts-check
/**
 * Which profiles the table of pairs shows, and in what order. It works on the
 * verdicts alone and touches no element.
 */
import { VERDICTS } from '../page/messages.js';

const [, FAULTY, UNPROVEN] = VERDICTS.map((_, index) => index);

/**
 * Where a pair stands in the list of all: (1,1), (2,1), (2,2), (3,1), ...
 * @param {number} one
 * @param {number} other
 */
export function placeOf(one, other) {
  const [first, second] = one < other ? [one, other] : [other, one];
  return (second * (second + 1)) / 2 + first;
}

/**
 * The pair at a place in that list.
 * @param {number} index
 * @returns {[number, number]}
 */
export function pairAt(index) {
  const second = Math.floor((Math.sqrt(8 * index + 1) - 1) / 2);
  return [index - (second * (second + 1)) / 2, second];
}

/**
 * How many pairs of each profile are faulty, and unproven; itself counts too.
 * @param {Uint8Array} cells verdict and reason of each pair
 * @param {number} size
 */
export function troubles(cells, size) {
  const counts = Array.from({ length: size }, () => ({ faulty: 0, unproven: 0 }));
  for (let second = 0, index = 0; second < size; second += 1) {
    for (let first = 0; first <= second; first += 1, index += 1) {
      const verdict = cells[2 * index];
      if (verdict !== FAULTY && verdict !== UNPROVEN) continue;
      const kind = verdict === FAULTY ? 'faulty' : 'unproven';
      counts[first][kind] += 1;
      if (first !== second) counts[second][kind] += 1;
    }
  }
  return counts;
}

/**
 * The profiles to show, in order.
 * @param {Uint8Array} cells
 * @param {number} size
 * @param {{byTrouble: boolean, onlyTrouble: boolean}} choice
 * @returns {number[]}
 */
export function arranged(cells, size, { byTrouble, onlyTrouble }) {
  const all = Array.from({ length: size }, (_, index) => index);
  if (!byTrouble && !onlyTrouble) return all;
  const counts = troubles(cells, size);
  const left = onlyTrouble ? all.filter((index) => 0 < counts[index].faulty + counts[index].unproven) : all;
  if (byTrouble) left.sort((one, other) => counts[other].faulty - counts[one].faulty || counts[other].unproven - counts[one].unproven || one - other);
  return left;
}

/**
 * The next pair that is not clear after the chosen one, round and round.
 * @param {Uint8Array} cells
 * @param {number} after place of the chosen pair, or -1
 * @returns {[number, number] | undefined}
 */
export function nextTrouble(cells, after) {
  const count = cells.length / 2;
  for (let step = 1; step <= count; step += 1) {
    const index = (after + step) % count;
    if (cells[2 * index] !== 0) return pairAt(index);
  }
  return undefined;
}
