// @ts-check
/**
 * The words that findings use, explained on a sheet over the page.
 */
import { element } from './dom.js';
import { Paper } from './paper.js';

/** What a margin is and covers. */
export const MARGIN = 'how far every control point may move at a kept pace, any way, with no fold or crossing; it covers tooling, the surface as it is, not nodes drawn elsewhere';

const WORDS = {
  along: 'How far along its profile a point lies: 0 at the start, where the board draws an arrow, 1 at the end.',
  across: 'How far from the first profile of a pair to the second: 0 on the first, 1 on the second.',
  pace: 'The rule that says which points of two profiles meet: those as far along, or those as many nodes on.',
  ruling: 'The straight line between two points that meet. All rulings of a pair make its loft.',
  section: 'The curve that a cut through the loft shows, at one fraction across.',
  seam: 'Where a closed profile starts and ends: the small flag on the board.',
  'control points': 'What the curve is computed from. They go with the nodes.',
  margin: `H${MARGIN.slice(1)}.`,
  clear: 'Proved: no section folds or crosses itself, and twist and creases keep to their limits.',
  unproven: 'Neither proved nor shown to be faulty, for it is too near. Never counted as clear.',
  'held up': 'A profile of the pair meets itself: mend that first, then the pair is judged.',
  fold: 'A section stops and turns back on itself.',
  crossing: 'Two places of the loft meet.',
  twist: 'The angle between the ways that two profiles run where they meet.',
  crease: 'An edge in the loft where both profiles are smooth.',
  blend: 'A mixture of profiles: so much of one, so much of another.',
  station: 'Where a profile stands in a piece: a height of a stack, an angle of a ring.',
};

export const wordSheet = () => new Paper('word-sheet', 'What the words mean', () => [
  element('dl', { class: 'hand-list' }, ...Object.entries(WORDS).flatMap(([word, text]) => [element('dt', {}, word), element('dd', {}, text)])),
]);
