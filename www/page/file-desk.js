// @ts-check
/**
 * Files out and in: what is on the board as a file, and what a person picks,
 * drops or pastes onto the board.
 */
import { fileName, isSeries, pickFiles, readFiles, saveText } from '../keep/files.js';
import { choose } from '../keep/choose.js';
import { seriesIn } from '../keep/link.js';
import { Background } from '../work/background.js';
import { byId } from './dom.js';

/**
 * @typedef {object} Read what a file holds
 * @property {string} [code] the share code of its family; none when it mixes open and closed profiles and none are chosen
 * @property {string[]} notes
 * @property {[number, number]} [mixed] how many are open and how many closed
 */

/** Bytes. */
const LONGEST_LINK = 1 << 23;

export class FileDesk {
  /**
   * @param {import('./desk.js').Desk} desk
   * @param {import('../beside.js').Means} means
   */
  constructor(desk, means) {
    this.desk = desk;
    this.board = desk.board;
    /** What reads files is fetched with the first of them. */
    this.background = new Background(means);
    /** What is being read: one after the other, for a new work would take the place of the one before. @type {Promise<unknown>} */
    this.reading = Promise.resolve();
    /** What was read before anybody was asked about it. @type {WeakMap<import('../keep/files.js').Arrival, Promise<Read>>} */
    this.read = new WeakMap();
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
      await this.take(await readFiles(await pickFiles()), adding);
    } catch (error) {
      this.desk.controller.announcer.refuse(error);
    }
  }

  /**
   * Whether something holds what can be taken in, before anybody is asked about it.
   * @param {import('../keep/files.js').Arrival} arrival
   * @returns {Promise<string>} what is wrong with it; empty when it can be read
   */
  async fault(arrival) {
    if (isSeries(arrival)) return '';
    try {
      await this.content(arrival);
      return '';
    } catch (error) {
      return `${arrival.name && `“${arrival.name}”: `}${error instanceof Error ? error.message : error}.`;
    }
  }

  /**
   * What something holds; it is read once.
   * @param {import('../keep/files.js').Arrival} arrival
   * @returns {Promise<Read>}
   */
  content(arrival) {
    const known = this.read.get(arrival);
    if (known) return known;
    const content = this.contentOf(arrival, '');
    this.read.set(arrival, content);
    return content;
  }

  /**
   * @param {import('../keep/files.js').Arrival} arrival
   * @param {'' | 'open' | 'closed'} kind which profiles are taken where open and closed ones are mixed
   * @returns {Promise<Read>}
   */
  contentOf({ name, bytes }, kind) {
    const content = this.reading.then(() => this.background.ask('file', { name, bytes, kind }));
    this.reading = content.catch(() => {});
    return content;
  }

  /**
   * Takes in what has arrived. Several things are one family together.
   * @param {import('../keep/files.js').Arrival[]} arrivals
   * @param {boolean} adding whether to the family that is there
   */
  async take(arrivals, adding) {
    const families = arrivals.filter((arrival) => !isSeries(arrival));
    const { controller } = this.desk;
    for (const [index, arrival] of families.entries()) {
      const joins = adding || 0 < index;
      try {
        const read = await this.chosen(arrival, joins);
        if (read) controller.act(() => this.takeOne(arrival, joins, read));
      } catch (error) {
        controller.announcer.refuse(error);
      }
    }
    const series = arrivals.findLast(isSeries);
    if (series) this.desk.places.takeFile(new TextDecoder().decode(series.bytes), series.name);
  }

  /**
   * What is taken of something. Where it mixes open and closed profiles the family that it joins decides, else the person.
   * @param {import('../keep/files.js').Arrival} arrival
   * @param {boolean} joins the family that is there
   * @returns {Promise<Read | undefined>} nothing when it is left
   */
  async chosen(arrival, joins) {
    const read = await this.content(arrival);
    if (!read.mixed) return read;
    const [ours] = joins ? this.desk.controller.family?.profiles ?? [] : [];
    const kind = ours ? ours.closed ? 'closed' : 'open' : await this.kindOf(arrival.name, read.mixed);
    return kind && this.contentOf(arrival, kind);
  }

  /**
   * Asks which profiles are taken.
   * @param {string} name
   * @param {[number, number]} mixed
   * @returns {Promise<'open' | 'closed' | undefined>}
   */
  kindOf(name, [open, closed]) {
    return choose(byId('arrival'), `Which profiles of ${called(name)} are to be taken?`,
      'It mixes open and closed profiles, and a family is all one or all the other. The others are left out.',
      /** @type {[string, 'open' | 'closed'][]} */ ([[`Take the ${open} open`, 'open'], [`Take the ${closed} closed`, 'closed']]));
  }

  /**
   * Takes one in, with one notice of it.
   * @param {import('../keep/files.js').Arrival} arrival
   * @param {boolean} joins the family that is there
   * @param {Read} read
   */
  takeOne({ name, bytes }, joins, { code = '', notes }) {
    const { announcer } = this.desk.controller;
    const told = [...notes];
    let said = `${called(name)} is opened.`;
    if (joins) {
      const [count, ...left] = this.board.addShareCode(code, 'Add profiles of a file');
      said = count ?? '';
      told.push(...left);
    } else {
      // What was pasted may be a link; a larger file is none.
      const series = bytes.length < LONGEST_LINK ? seriesIn(new TextDecoder().decode(bytes)) : '';
      this.desk.openOther(() => this.board.openShareCode(code, 'Open a file'), series, 'lead');
    }
    if (joins || told.length) announcer.tell(said.charAt(0).toUpperCase() + said.slice(1), told);
  }
}

/** @param {string} name */
function called(name) {
  return name ? `“${name}”` : 'what was pasted';
}
