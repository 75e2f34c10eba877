// @ts-check
/**
 * The sheets over the page, fetched when one of them is first opened: whoever
 * comes to draw need not wait for them.
 */
import { keySheet } from '../board/key-sheet.js';
import { stepList } from '../board/step-list.js';
import { wordSheet } from './words.js';

/** @typedef {'keys' | 'steps' | 'words'} PaperName */

/** @type {Partial<Record<PaperName, import('./paper.js').Paper>>} */
const made = {};
const MAKERS = { keys: keySheet, steps: stepList, words: wordSheet };

/**
 * @param {PaperName} name
 * @param {import('./controller.js').Controller} controller
 */
export function paper(name, controller) {
  return (made[name] ??= MAKERS[name](controller));
}
