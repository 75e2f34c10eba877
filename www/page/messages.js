// @ts-check
/**
 * The shapes of what the kernel sends, for the type checker only.
 *
 * @typedef {object} Profile
 * @property {string} name
 * @property {boolean} closed
 * @property {boolean} exact
 * @property {number} nodes
 *
 * @typedef {object} Settings
 * @property {string} pacing "parameter" or "node"
 * @property {string} placement "stack" or "ring"
 * @property {number} twistLimit degrees
 * @property {number} creaseLimit degrees
 *
 * @typedef {object} Family
 * @property {string} name
 * @property {Profile[]} profiles
 * @property {Settings} settings
 * @property {boolean} closing
 *
 * @typedef {object} Saying
 * @property {string} what
 * @property {string} place
 * @property {string} right
 *
 * @typedef {object} Finding
 * @property {number} first
 * @property {number} second
 * @property {string} label
 * @property {'clear' | 'faulty' | 'unproven'} verdict
 * @property {Saying[]} sayings
 * @property {{contact: boolean, text: string, across: number, from: number, to: number}[]} regions
 * @property {string[]} notes
 * @property {{order: string, effect: string}[]} hints
 * @property {[number, number, number][]} places x and y in mm, and the fraction across
 *
 * @typedef {object} Whole
 * @property {'clear' | 'faulty' | 'unproven'} verdict whether any blend is free
 * @property {Saying} anyBlend
 * @property {string[]} notes
 *
 * @typedef {typeof import('../loftkin_page.js')} Kernel
 * @typedef {import('../loftkin_page.js').Board} Board
 */

/** The verdicts in the order of the first byte of a cell. */
export const VERDICTS = /** @type {const} */ (['clear', 'faulty', 'unproven']);

/** What a change bit of the board stands for. */
export const CHANGE = { drawing: 1, shape: 2, selection: 4, pair: 8, view: 16, history: 32 };
