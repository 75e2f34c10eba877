// @ts-check
/**
 * What the page has said since it was opened, the newest first.
 */
import { element } from './dom.js';
import { Paper } from './paper.js';

/** @param {import('./controller.js').Controller} controller */
export function noticeList({ announcer }) {
  return new Paper('notice-list', 'Notices', () => (announcer.past.length
    ? [element('dl', { class: 'hand-list' }, ...announcer.past.flatMap(({ text, when }) => [element('dt', {}, when.toLocaleTimeString()), element('dd', {}, text)]))]
    : [element('p', {}, 'Nothing was said yet.')]));
}
