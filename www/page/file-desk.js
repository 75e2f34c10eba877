// @ts-check
/**
 * Files out and in: what is on the board as a file, and what a person picks,
 * drops or pastes onto the board.
 */
import { fileName, isSeries, pickFiles, readFiles, saveText } from '../keep/files.js';
import { choose } from '../keep/choose.js';
import { seriesIn } from '../keep/link.js';
import { byId } from './dom.js';

/** Bytes. */
const LONGEST_LINK = 1 << 23;

export class FileDesk {
  /** @param {import('./desk.js').Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.board = desk.board;
  }

  saveFile() {
    saveText(this.fileName('loftkin.json'), this.board.fileText());
  }

  saveDrawing() {
    saveText(this.fileName('svg'), this.board.drawingText(), 'image/svg+xml');
  }

  /** @param {string} ending */
  fileName(ending) {
    return fileName(this.desk.controller.family?.name ?? '', ending);
  }

  /**
   * Lets the person pick files and takes them in.
   * @param {boolean} adding whether to the family that is there
   */
  async openFiles(adding) {
    try {
      this.take(await readFiles(await pickFiles()), adding);
    } catch (error) {
      this.desk.controller.announcer.refuse(error);
    }
  }

  /**
   * Whether something holds what can be taken in, before anybody is asked about it.
   * @param {import('../keep/files.js').Arrival} arrival
   * @returns {string} what is wrong with it; empty when it can be read
   */
  fault(arrival) {
    if (isSeries(arrival)) return '';
    try {
      this.board.checkFile(arrival.name, arrival.bytes);
      return '';
    } catch (error) {
      return `${arrival.name && `“${arrival.name}”: `}${error instanceof Error ? error.message : error}.`;
    }
  }

  /**
   * Takes in what has arrived. Several things are one family together.
   * @param {import('../keep/files.js').Arrival[]} arrivals
   * @param {boolean} adding whether to the family that is there
   */
  async take(arrivals, adding) {
    const families = arrivals.filter((arrival) => !isSeries(arrival));
    for (const [index, arrival] of families.entries()) {
      const joins = adding || 0 < index;
      const kind = await this.kindOf(arrival, joins);
      if (kind !== undefined) this.desk.controller.act(() => this.takeOne(arrival, joins, kind));
    }
    const series = arrivals.findLast(isSeries);
    if (series) this.desk.places.takeFile(new TextDecoder().decode(series.bytes), series.name);
  }

  /**
   * Which profiles are taken where open and closed ones are mixed.
   * @param {import('../keep/files.js').Arrival} arrival
   * @param {boolean} joins the family that is there, which then decides
   * @returns {Promise<string | undefined>} empty for all; nothing when it is left
   */
  async kindOf({ name, bytes }, joins) {
    const [open, closed] = this.board.mixedIn(name, bytes);
    if (!open || joins && this.desk.controller.family?.profiles.length) return '';
    return choose(byId('arrival'), `Which profiles of ${called(name)} are to be taken?`,
      'It mixes open and closed profiles, and a family is all one or all the other. The others are left out.',
      [[`Take the ${open} open`, 'open'], [`Take the ${closed} closed`, 'closed']]);
  }

  /**
   * Takes one in, with one notice of it.
   * @param {import('../keep/files.js').Arrival} arrival
   * @param {boolean} joins the family that is there
   * @param {string} kind
   */
  takeOne({ name, bytes }, joins, kind) {
    const notes = joins ? this.board.addFile(name, bytes, kind) : this.opened(name, bytes, kind);
    const { announcer } = this.desk.controller;
    const said = joins ? notes.shift() ?? '' : `${called(name)} is opened.`;
    if (joins || notes.length) announcer.tell(said.charAt(0).toUpperCase() + said.slice(1), notes);
  }

  /**
   * @param {string} name
   * @param {Uint8Array} bytes
   * @param {string} kind
   */
  opened(name, bytes, kind) {
    /** @type {string[]} */
    let notes = [];
    // What was pasted may be a link; a larger file is none.
    const series = bytes.length < LONGEST_LINK ? seriesIn(new TextDecoder().decode(bytes)) : '';
    this.desk.openOther(() => { notes = this.board.openFile(name, bytes, kind); }, series, 'lead');
    return notes;
  }
}

/** @param {string} name */
function called(name) {
  return name ? `“${name}”` : 'what was pasted';
}
