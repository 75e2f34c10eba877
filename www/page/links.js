// @ts-check
/**
 * What is pointed at, shown in every picture at once: profiles pointed at in
 * the table or on the board, and a place of the loft pointed at in space, on
 * its section or on the board. Nothing is chosen or changed by it.
 */
import { byId } from './dom.js';

/**
 * @typedef {object} LoftPlace
 * @property {number} along fraction
 * @property {number} across fraction
 */

export class Links {
  /** @param {import('./controller.js').Controller} controller */
  constructor(controller) {
    this.controller = controller;
    this.board = controller.board;
    /** @type {number[]} */
    this.profiles = [];
    /** @type {LoftPlace | null} */
    this.place = null;
    /** Which picture the place is pointed at in. */
    this.source = '';
    /** The profile under the board's own pointer. @type {number | undefined} */
    this.hovered = undefined;
    byId('board').addEventListener('pointerleave', () => controller.act(() => this.board.leave()));
  }

  /**
   * Profiles pointed at in the table; none to end it.
   * @param {number[]} profiles
   */
  showProfiles(profiles) {
    if (profiles.join() === this.profiles.join()) return;
    this.profiles = profiles;
    this.controller.pairTable.point(profiles);
    this.controller.act(() => this.board.pointProfiles(Uint32Array.from(profiles)));
    this.controller.loftView.showProfiles(profiles);
  }

  /**
   * A place of the loft pointed at; null to end it.
   * @param {LoftPlace | null} place
   * @param {string} source
   */
  showPlace(place, source) {
    if (!place && source !== this.source) return;
    const same = place?.along === this.place?.along && place?.across === this.place?.across;
    if (same) return;
    this.place = place;
    this.source = place ? source : '';
    this.controller.act(() => this.board.pointPlace(place?.along, place?.across));
    this.controller.loftView.showPointed(place);
    this.controller.sectionPlot.showPointed(place);
  }

  /** After the board was shown: what its pointer is over. */
  follow() {
    const [profile, along] = this.board.hoveredPlace();
    if (profile !== this.hovered) {
      this.hovered = profile;
      const pointed = profile === undefined ? [] : [profile];
      if (!this.profiles.length) {
        this.controller.pairTable.point(pointed);
        this.controller.loftView.showProfiles(pointed);
      }
    }
    const at = along === undefined ? -1 : this.board.pair().indexOf(profile);
    this.showPlace(at < 0 ? null : { along, across: at }, 'board');
  }
}
