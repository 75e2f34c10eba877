// @ts-check
/**
 * What is chosen on the board, in words for those who hear it.
 */

/** @param {import('../loftkin_page.js').Board} board */
export function chosenInWords(board) {
  const chosen = board.chosenNodes();
  const nodes = board.nodes();
  const count = nodes.length / 3;
  if (chosen.length === 0) return 'No node chosen';
  if (1 < chosen.length) return `${chosen.length} of ${count} nodes chosen`;
  const [x, y, corner] = nodes.slice(3 * chosen[0], 3 * chosen[0] + 3);
  return `Node ${chosen[0] + 1} of ${count}${corner ? ', a corner' : ''}, at x ${x.toFixed(2)}, y ${y.toFixed(2)} mm`;
}
