// @ts-check
/**
 * The sheets over the page and what is handed on, fetched when one of them is
 * first asked for, or when the page has nothing else to do: whoever comes to draw
 * need not wait for them.
 */
import { keySheet } from '../board/key-sheet.js';
import { stepList } from '../board/step-list.js';
import { noticeList } from './notice-list.js';
import { wordSheet } from './words.js';

export { Report } from '../keep/report.js';
export { ShareFlap } from '../keep/share-flap.js';
export { writeProof } from '../proof/proof-file.js';

/** @typedef {'keys' | 'steps' | 'words' | 'notices'} PaperName */

/** @type {Partial<Record<PaperName, import('./paper.js').Paper>>} */
const made = {};
const MAKERS = { keys: keySheet, steps: stepList, words: wordSheet, notices: noticeList };

/**
 * @param {PaperName} name
 * @param {import('./controller.js').Controller} controller
 */
export function paper(name, controller) {
  return (made[name] ??= MAKERS[name](controller));
}
