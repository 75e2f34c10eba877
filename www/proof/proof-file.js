// @ts-check
/**
 * The proof as a file, for a checker that trusts no code of ours. Written
 * beside the page, for a large one takes long.
 */
import { fileName, saveText } from '../keep/files.js';
import { Background } from '../work/background.js';

/** Claims left out that are told one by one; more are counted. */
const MOST_TOLD = 4;

/**
 * @param {import('../page/controller.js').Controller} controller
 * @param {import('../beside.js').Means} means
 */
export async function writeProof(controller, means) {
  const { announcer, board } = controller;
  const background = new Background(means);
  announcer.announce('The proof is being written.');
  try {
    const { text, sentences } = /** @type {import('../page/messages.js').Proof} */ (await background.ask('proof', { code: board.shownCode() }));
    if (text !== undefined) saveText(fileName(controller.family?.name ?? '', 'proof.json'), text);
    const more = sentences.length - MOST_TOLD;
    const told = 0 < more ? [...sentences.slice(0, MOST_TOLD), `${more} more are left out.`] : sentences;
    if (text === undefined || 1 < sentences.length) announcer.warn(told.join(' '));
    else announcer.tell(told.join(' '));
  } catch (error) {
    announcer.refuse(error);
  } finally {
    background.end();
  }
}
