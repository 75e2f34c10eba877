// @ts-check
/**
 * Everything that keys do on the board, in the order of the key sheet: one
 * table that the board obeys and the sheet prints.
 */
import { chosenInWords } from './in-words.js';

/**
 * @typedef {object} Desk what an act may use
 * @property {import('../loftkin_page.js').Board} board
 * @property {(text: string) => void} say tells screen readers
 * @property {(name: 'figures' | 'copies' | 'picture' | 'name' | 'steps' | 'keys') => void} open leads to a form or a sheet
 *
 * @typedef {object} Act
 * @property {string[]} keys as `keyName` gives them
 * @property {string} text what they do
 * @property {(desk: Desk, key: string) => string | void | undefined} act
 * @property {(desk: Desk) => boolean} [when] where keys have several meanings, which is meant
 */

/** An arrow moves a node this many mm, unless nodes keep to the grid. */
const NUDGE = 0.1;
/** An arrow moves the drawing this many pixels. */
const PAN = 40;
const ZOOM = 1.25;
/** The number of the hand that places nodes, and of the one for the picture. */
const [PLACE, PICTURE] = [1, 5];

const ARROWS = ['ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown'];

/** @type {Record<string, [number, number]>} */
const WAYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

/**
 * The way an arrow points, ten times as far with Shift.
 * @param {string} key
 * @returns {[number, number]}
 */
function way(key) {
  const [x, y] = WAYS[key.slice(key.lastIndexOf('+') + 1)];
  const times = key.includes('Shift+') ? 10 : 1;
  return [x * times, y * times];
}

const withShift = (/** @type {string[]} */ keys) => [...keys, ...keys.map((key) => `Shift+${key}`)];

/** @param {Desk} desk */
const sketching = ({ board }) => 0 < board.sketchNodes();
/** @param {Desk} desk */
const placing = ({ board }) => board.hand() === PLACE;
/** @param {Desk} desk */
const steering = (desk) => placing(desk) && (sketching(desk) || !anyChosen(desk));
/** @param {Desk} desk */
const onPicture = ({ board }) => board.hand() === PICTURE && 0 < board.reference().length;
/** @param {Desk} desk */
const anyChosen = ({ board }) => board.hand() !== PICTURE && 0 < board.chosenNodes().length;

/**
 * @param {number} which of siblings, tangents, bend
 * @returns {(desk: Desk) => void}
 */
const toggleLook = (which) => ({ board }) => {
  const looks = [...board.looks()].map(Boolean);
  looks[which] = !looks[which];
  board.setLooks(looks[0], looks[1], looks[2]);
};

/** @type {[string, Act[]][]} */
export const ACTS = [
  ['Hands', [
    { keys: ['1'], text: 'Move', act: ({ board }) => board.setHand(0) },
    { keys: ['2'], text: 'Choose', act: ({ board }) => board.setHand(3) },
    { keys: ['3'], text: 'Scale', act: ({ board }) => board.setHand(4) },
    { keys: ['4'], text: 'Place nodes', act: ({ board }) => board.setHand(PLACE) },
    { keys: ['5'], text: 'Draw freely', act: ({ board }) => board.setHand(2) },
    { keys: ['6'], text: 'Picture, once one is laid under the curves', act: ({ board }) => { if (board.reference().length) board.setHand(PICTURE); } },
  ]],
  ['A new profile', [
    { keys: withShift(ARROWS), when: steering, text: 'In the hand “Place nodes”, when no node is chosen: move the crosshair by a step of the grid, with Shift by ten', act: moveCursor },
    { keys: ['n'], text: 'Set a node at the crosshair; on the last node: end the profile', act: setNode },
    { keys: ['Enter'], when: sketching, text: 'End the profile in hand', act: ({ board }) => board.endSketch() },
    { keys: ['Delete', 'Backspace'], when: sketching, text: 'Take the last node back', act: ({ board }) => board.sketchBack() },
    { keys: ['Escape'], when: sketching, text: 'Give the profile in hand up; undo brings it back', act: ({ board }) => board.dropSketch() },
  ]],
  ['Choosing', [
    { keys: ['Escape'], when: ({ board }) => board.isDragging(), text: 'While dragging: all is as before', act: ({ board }) => board.abandon() },
    { keys: ['PageDown', 'PageUp'], text: 'Choose the next or the previous node', act: (desk, key) => choose(desk, key === 'PageDown', false) },
    { keys: ['Shift+PageDown', 'Shift+PageUp'], text: 'Choose it beside the others', act: (desk, key) => choose(desk, key === 'Shift+PageDown', true) },
    { keys: ['Ctrl+a'], text: 'Choose all nodes of the profile', act: (desk) => { desk.board.chooseAll(); desk.say(chosenInWords(desk.board)); } },
    { keys: ['Escape'], text: 'Choose none', act: ({ board }) => board.chooseNone() },
    { keys: ['.', ','], text: 'Go to the next or the previous profile', act: (desk, key) => { desk.board.activateNext(key === '.'); desk.say(`Profile ${(desk.board.active() ?? 0) + 1}`); } },
  ]],
  ['Chosen nodes', [
    { keys: withShift(ARROWS), when: anyChosen, text: 'Move them by 0.1 mm, or by a step of the grid they keep to; with Shift ten times as far', act: nudge },
    { keys: ['i'], text: 'Insert a node after the chosen one', act: (desk) => { desk.board.insertAfter(); desk.say(chosenInWords(desk.board)); } },
    { keys: ['c'], text: 'Corner or smooth', act: (desk) => { desk.board.toggleCorner(); desk.say(chosenInWords(desk.board)); } },
    { keys: ['Delete', 'Backspace'], text: 'Delete them', act: ({ board }) => board.deleteNodes() },
    { keys: ['s'], text: 'Move the seam of a closed profile to the chosen node', act: ({ board }) => board.moveSeam() },
  ]],
  ['The profile', [
    { keys: ['r'], text: 'Reverse', act: ({ board }) => board.reverse() },
    { keys: ['m'], text: 'Mirror left to right', act: ({ board }) => board.mirror(false) },
    { keys: ['Shift+m'], text: 'Mirror top to bottom', act: ({ board }) => board.mirror(true) },
    { keys: ['d'], text: 'Copy', act: ({ board }) => board.copyProfile() },
    { keys: ['v'], text: 'Copy and vary, by figures', act: ({ open }) => open('copies') },
    { keys: ['e'], text: 'Scale, turn and shift, by figures', act: ({ open }) => open('figures') },
    { keys: ['q', 'w'], text: 'Earlier or later in the family', act: ({ board }, key) => board.reorder(key === 'w') },
    { keys: ['F2'], text: 'Name it', act: ({ open }) => open('name') },
    { keys: ['Shift+Delete'], text: 'Delete the whole profile', act: ({ board }) => board.deleteProfile() },
  ]],
  ['The sheet', [
    { keys: withShift(ARROWS), when: onPicture, text: 'In the hand “Picture”: move the picture by 0.1 mm, with Shift by 1 mm', act: movePicture },
    { keys: withShift(ARROWS), text: 'Look elsewhere, when no node is chosen', act: pan },
    { keys: ARROWS.map((key) => `Ctrl+${key}`), text: 'Look elsewhere', act: pan },
    { keys: ['+', '='], text: 'Zoom in', act: ({ board }) => board.zoom(ZOOM) },
    { keys: ['-'], text: 'Zoom out', act: ({ board }) => board.zoom(1 / ZOOM) },
    { keys: ['0'], text: 'Show all', act: ({ board }) => board.fit() },
    { keys: ['g'], text: 'Keep nodes to the grid, or not', act: ({ board }) => board.setSnapping(!board.snapping()) },
    { keys: ['o'], text: 'Show the other profiles, or not', act: toggleLook(0) },
    { keys: ['t'], text: 'Show tangents, or not', act: toggleLook(1) },
    { keys: ['b'], text: 'Show how the profile bends, or not', act: toggleLook(2) },
    { keys: ['p'], text: 'Lay a picture under the curves', act: ({ open }) => open('picture') },
  ]],
  ['Steps and help', [
    { keys: ['h'], text: 'List of the steps', act: ({ open }) => open('steps') },
    { keys: ['?', 'F1'], text: 'This sheet', act: ({ open }) => open('keys') },
  ]],
];

/** Keys that work wherever the focus is; they are the page's, and told here for the sheet. */
export const EVERYWHERE = [
  { keys: ['Ctrl+z'], text: 'Undo' },
  { keys: ['Ctrl+Shift+z', 'Ctrl+y'], text: 'Redo' },
  { keys: ['F1'], text: 'This sheet' },
];

/**
 * The act that a key stands for at this moment.
 * @param {string} key
 * @param {Desk} desk
 */
export function actOf(key, desk) {
  const all = ACTS.flatMap(([, acts]) => acts).filter(({ keys }) => keys.includes(key));
  return all.find(({ when }) => when?.(desk)) ?? all.find(({ when }) => !when);
}

/** @param {Desk} desk @param {boolean} forward @param {boolean} beside */
function choose({ board, say }, forward, beside) {
  board.chooseNext(forward, beside);
  say(chosenInWords(board));
}

/** @param {Desk} desk @param {string} key */
function nudge({ board, say }, key) {
  const [x, y] = way(key);
  const hundredths = Math.round((board.snapping() ? board.gridStep() : NUDGE) * 100);
  board.nudge(x * hundredths, y * hundredths);
  say(chosenInWords(board));
}

/** @param {Desk} desk @param {string} key */
function moveCursor({ board, say }, key) {
  const [x, y] = board.moveCursor(...way(key));
  say(`${x.toFixed(2)}, ${y.toFixed(2)} mm`);
}

/** @param {Desk} desk */
function setNode(desk) {
  if (!placing(desk)) desk.board.setHand(PLACE);
  desk.board.placeAtCursor();
}

/** @param {Desk} desk @param {string} key */
function movePicture({ board }, key) {
  const [dx, dy] = way(key);
  const [x, y, width, , strength] = board.reference();
  board.placeReference(x + dx * NUDGE, y + dy * NUDGE, width, strength);
}

/** @param {Desk} desk @param {string} key */
function pan({ board }, key) {
  const [x, y] = way(key);
  board.pan(-x * PAN, y * PAN);
}
