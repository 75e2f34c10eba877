// @ts-check
/**
 * The hands: what the pointer does on the board, in the order they are shown.
 */

/** `hand` is the number that the board knows it by. */
export const HANDS = [
  {
    hand: 0, text: 'Move',
    help: 'Drag a node to move it, a curve to move its whole profile, the small flag of a closed profile to move its seam, the empty sheet to look elsewhere. Press twice on a curve to insert a node.',
    touch: 'Shift chooses several nodes, and draws a frame around them on the empty sheet. A finger on a curve chooses its profile.',
  },
  {
    hand: 3, text: 'Choose',
    help: 'Draw a frame around nodes to choose them; Shift adds to the choice. Press on a node to add it or to leave it out; drag one of several to move them all.',
    touch: '',
  },
  {
    hand: 4, text: 'Scale',
    help: 'Drag a grip to scale the profile, or the inside of the box to move it. Shift keeps the proportions at a corner.',
    touch: '',
  },
  {
    hand: 1, text: 'Place nodes',
    help: 'Press to set the nodes of a new profile one by one; press the last one again, or Enter, to end it. For a closed profile press the first one again.',
    touch: '',
  },
  {
    hand: 2, text: 'Draw freely',
    help: 'Draw a new profile in one stroke; nodes are fitted to it.',
    touch: '',
  },
  {
    hand: 5, text: 'Picture',
    help: 'Drag the reference picture to move it, or one of its grips to make it larger or smaller.',
    touch: '',
  },
];
