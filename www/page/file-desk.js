// @ts-check
/**
 * Files out and in: what is on the board as a file, and what a person picks,
 * drops or pastes onto the board.
 */
import { fileName, isSeries, pickFiles, readFiles, saveText } from '../keep/files.js';
import { seriesIn } from '../keep/link.js';

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
  take(arrivals, adding) {
    arrivals.filter((arrival) => !isSeries(arrival)).forEach(({ name, bytes }, index) => this.desk.controller.act(() => {
      const notes = adding || index ? this.board.addFile(name, bytes) : this.opened(name, bytes);
      return notes.join(' ');
    }));
    const series = arrivals.findLast(isSeries);
    if (series) this.desk.places.takeFile(new TextDecoder().decode(series.bytes), series.name);
  }

  /**
   * @param {string} name
   * @param {Uint8Array} bytes
   */
  opened(name, bytes) {
    /** @type {string[]} */
    let notes = [];
    // What was pasted may be a link; a larger file is none.
    const series = bytes.length < LONGEST_LINK ? seriesIn(new TextDecoder().decode(bytes)) : '';
    this.desk.openOther(() => { notes = this.board.openFile(name, bytes); }, series, 'lead');
    return notes;
  }
}
