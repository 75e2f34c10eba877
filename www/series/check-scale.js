// @ts-check
/**
 * How a check's values become shares of its limit, for colours that mean the
 * same on every piece: 0 at the limit, above it kept, below it not kept.
 */
import { NO_VALUE } from './map-skin.js';

/** Degrees from the limit at which the scale of an angle ends. */
const SPAN = 45;

/** Where the legend has figures. */
const MARKS = [-1, -0.5, 0, 0.5, 1];

/**
 * @typedef {object} Bound
 * @property {number} limitValue
 * @property {boolean} atLeast
 * @property {string} unit
 */

/**
 * An angle by the root of its distance to the limit; all else by its ratio to the limit.
 * @param {Bound} bound
 * @returns {(value: number) => number}
 */
export function shareOf({ limitValue: limit, atLeast, unit }) {
  const sign = atLeast ? 1 : -1;
  if (unit === '°') return (value) => (Number.isNaN(value) ? NO_VALUE : sign * Math.sign(value - limit) * Math.sqrt(Math.min(1, Math.abs(value - limit) / SPAN)));
  return (value) => {
    if (Number.isNaN(value)) return NO_VALUE;
    if (limit <= value) return sign * (1 - limit / value);
    return sign * Math.max(-1, value / limit - 1);
  };
}

/**
 * The figures of the legend, from worst to best.
 * @param {Bound} bound
 * @returns {string[]}
 */
export function labelsOf({ limitValue: limit, atLeast, unit }) {
  return MARKS.map((share) => {
    const way = atLeast ? share : -share;
    if (unit === '°') return `${way === 1 ? '≥ ' : way === -1 ? '≤ ' : ''}${figure(limit + Math.sign(way) * way * way * SPAN)}°`;
    const value = 0 < way ? limit / (1 - way) : limit * (1 + way);
    return Number.isFinite(value) ? `${figure(value)}${unit && ` ${unit}`}` : 'more';
  });
}

/** @param {number} value */
export function figure(value) {
  return String(Number(value.toPrecision(3)));
}
