// @ts-check
/**
 * What was typed into a form, kept in this browser: limits of a workshop and the
 * calibration of a bath are not typed again for each piece. Storage may be
 * refused; then they hold until the page is left.
 */
import { readFigure } from '../page/figure.js';

/** @typedef {Record<string, HTMLInputElement | HTMLSelectElement>} Fields */

/** Where the workshop's fields are kept. */
export const WORKSHOP = 'loftkin.workshop';

/** What was kept since the page was opened. @type {Map<string, Record<string, string>>} */
const held = new Map();

/**
 * One field as it was last kept; nothing when it never was.
 * @param {string} key
 * @param {string} name
 */
export function kept(key, name) {
  const value = (held.get(key) ?? read(key))[name];
  return typeof value === 'string' ? value : undefined;
}

/**
 * Fills the fields as they were last kept: numbers into inputs, choices that there are into selects.
 * @param {string} key
 * @param {Fields} fields
 */
export function refill(key, fields) {
  const before = read(key);
  for (const [name, field] of Object.entries(fields)) {
    const value = before[name];
    if (typeof value !== 'string' || value === '') continue;
    if (field instanceof HTMLSelectElement ? [...field.options].some((option) => option.value === value) : Number.isFinite(readFigure(value))) field.value = value;
  }
}

/**
 * @param {string} key
 * @param {Fields} fields
 */
export function keep(key, fields) {
  const values = Object.fromEntries(Object.entries(fields).map(([name, field]) => [name, field.value]));
  held.set(key, values);
  try {
    localStorage.setItem(key, JSON.stringify(values));
  } catch {
    // They hold until the page is left.
  }
}

/**
 * @param {string} key
 * @returns {Record<string, unknown>}
 */
function read(key) {
  try {
    return JSON.parse(localStorage.getItem(key) ?? '{}') ?? {};
  } catch {
    return {};
  }
}
