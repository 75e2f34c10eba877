// @ts-check
/**
 * From a pressed key to its name, in one spelling for the board and the sheet
 * of keys.
 */

/** What stands under the board in one breath; the whole is on the key sheet. */
export const KEYS_HELP =
  'Keys: arrows move the chosen nodes, Page Up and Page Down choose them, I inserts, C makes a corner, Delete deletes. '
  + 'The question mark opens the sheet of all keys.';

/**
 * The shortest word about keys, on the sheet while it has the keyboard.
 * @param {boolean} steering whether the arrows move the crosshair
 */
export function keysHint(steering) {
  return steering
    ? 'Arrows move the crosshair, N sets a node, Enter ends the profile, ? lists all keys'
    : 'Page Down chooses a node, arrows move it, N sets a new one, ? lists all keys';
}

/**
 * "a", "Shift+m", "Ctrl+ArrowLeft", "?": Shift is told with letters and named
 * keys only, for other characters contain it.
 * @param {KeyboardEvent} event
 */
export function keyName(event) {
  if (event.altKey) return '';
  const command = event.ctrlKey || event.metaKey ? 'Ctrl+' : '';
  const letter = /^[a-z]$/i.test(event.key);
  const shift = event.shiftKey && (letter || 1 < event.key.length) ? 'Shift+' : '';
  return `${command}${shift}${letter ? event.key.toLowerCase() : event.key}`;
}

/** @type {Record<string, string>} */
const WORDS = { ArrowLeft: '←', ArrowRight: '→', ArrowUp: '↑', ArrowDown: '↓', PageUp: 'Page Up', PageDown: 'Page Down', Escape: 'Esc' };

/**
 * A key as people read it.
 * @param {string} key
 */
export function keyInWords(key) {
  return key.split(/\+(?=.)/).map((part) => WORDS[part] ?? (part.length === 1 ? part.toUpperCase() : part)).join(' + ');
}
