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
 * @typedef {object} Blend a blend that meets itself
 * @property {number[]} profiles
 * @property {number[]} weights
 * @property {number} x mm
 * @property {number} y mm
 *
 * @typedef {object} AnyBlend
 * @property {'clear' | 'faulty' | 'unproven'} anyTwoVerdict
 * @property {string} anyTwo
 * @property {'clear' | 'faulty' | 'unproven'} verdict whether any blend is free
 * @property {Saying} anyBlend
 * @property {Blend} [blend]
 *
 * @typedef {object} Tolerance
 * @property {number} [mm]
 * @property {string} text
 *
 * @typedef {object} MendWish positions count from 0
 * @property {[number, number] | null} pair none for the whole family
 * @property {boolean} anyBlend
 * @property {number | null} margin mm; null for what a workshop can hold
 * @property {number[] | null} movable none for all profiles
 * @property {[number, number][]} pinned profile and node
 * @property {boolean} keepEnds
 * @property {boolean} keepEndTangents
 * @property {boolean} keepHeight
 * @property {boolean} keepWidth
 * @property {boolean} remediesFirst
 * @property {boolean} blameFirst
 *
 * @typedef {object} MendAnswer
 * @property {'alreadyClear' | 'mended' | 'nearest' | 'nothing'} ending
 * @property {string[]} sentences
 * @property {string[][]} moves profile, point, from, to, distance
 * @property {string} [blamed]
 * @property {number} margin mm
 * @property {string} [family] share code
 * @property {string} step
 *
 * @typedef {object} MendProgress
 * @property {number} round
 * @property {number} mostRounds
 * @property {string} text
 *
 * @typedef {object} MendTrial
 * @property {string} step
 * @property {boolean} proved
 *
 * @typedef {object} Proof
 * @property {string} [text] the file
 * @property {string[]} sentences
 *
 * @typedef {object} WhyItem
 * @property {'line' | 'arrow' | 'angle' | 'mark' | 'label'} kind
 * @property {string} part
 * @property {number[]} points x and y of each, in mm
 * @property {string} text
 *
 * @typedef {object} WhyPanel
 * @property {string} title
 * @property {string} text
 * @property {[number, number, number, number]} frame lowest x and y, highest x and y, in mm
 * @property {WhyItem[]} items
 *
 * @typedef {typeof import('../loftkin_page.js')} Kernel
 * @typedef {import('../loftkin_page.js').Board} Board
 */

/** The verdicts in the order of the first byte of a cell. */
export const VERDICTS = /** @type {const} */ (['clear', 'faulty', 'unproven']);

/** What a change bit of the board stands for. */
export const CHANGE = { drawing: 1, shape: 2, selection: 4, pair: 8, view: 16, history: 32 };

/** Said when what is fetched later does not come. */
export const UNFETCHED = 'This part of the page could not be fetched: reload the page when the network is there. Your work is kept.';
