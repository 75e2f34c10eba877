// @ts-check
/**
 * The place "Series": the stations, how many pieces there are, one of them by
 * number or by arrangement, and a choice of them by chance.
 */
import { button, element } from '../page/dom.js';
import { figureField, figureOf } from '../page/figure.js';
import { ContactSheet } from './contact-sheet.js';
import { PiecePicture } from './piece-picture.js';
import { SeriesSteps } from './series-steps.js';
import { Sketch } from './sketch.js';
import { StationsForm } from './stations-form.js';

export class SeriesView {
  /**
   * @param {HTMLElement} place
   * @param {import('./places.js').Places} places
   */
  constructor(place, places) {
    this.places = places;
    /** The profiles in the selects. */
    this.offered = '';
    const { board, theme } = places.controller;
    this.form = new StationsForm(() => board.rise() / 4, () => places.set());
    this.steps = new SeriesSteps(places);
    this.refused = element('p', { class: 'refused', role: 'alert', id: 'series-refused' });
    this.refused.hidden = true;
    this.told = element('div', { class: 'series-count', role: 'status' });
    this.number = /** @type {HTMLInputElement} */ (element('input', { type: 'text', inputmode: 'numeric', autocomplete: 'off', id: 'piece-number', change: () => places.shown.openNumber(this.number.value) }));
    this.selects = element('div', { class: 'piece-stations', role: 'group', 'aria-label': 'Profiles of the piece, station by station' });
    this.seed = figureField({ id: 'seed', value: '1' });
    this.wanted = figureField({ id: 'wanted', value: '24' });
    this.sheet = new ContactSheet(theme, (number) => places.shown.openNumber(number));
    this.work = element('div', { class: 'actions' }, element('span', {}, 'Being worked out…'), button('Stop', () => places.counting.stop()));
    this.work.hidden = true;
    const picture = element('div', { class: 'loft-picture' });
    this.part = element('div', { class: 'series-piece', role: 'group', tabindex: '-1', 'aria-label': 'The piece that is shown' },
      element('div', { class: 'actions' },
        element('label', { for: 'piece-number' }, 'Piece number'), this.number,
        button('Before', () => this.step(-1n)), button('Next', () => this.step(1n))),
      this.selects,
      element('div', { class: 'actions' },
        element('label', { for: 'wanted' }, 'Choose by chance'), this.wanted,
        element('label', { for: 'seed' }, 'pieces from seed'), this.seed,
        button('Choose', () => places.choose(figureOf(this.seed), figureOf(this.wanted)))),
      element('div', { class: 'series-pictures' }, picture, this.sheet.frame));
    this.part.hidden = true;
    const keeping = element('div', { class: 'actions' }, button('Save the series', () => places.save()),
      element('span', { class: 'quiet-text' }, 'Stations, blend, rules and the piece that is shown, to be opened or dropped like a family file. The link holds them too.'));
    place.append(this.steps.buttons, this.form.place, this.work, this.refused, this.told, this.part, keeping);
    this.picture = new PiecePicture(picture, theme);
  }

  /** @param {boolean} busy */
  busy(busy) {
    this.work.hidden = !busy;
  }

  /**
   * @param {import('./messages.js').Count} count
   * @param {import('./messages.js').SketchPoints} sketch
   */
  showCount(count, sketch) {
    const many = count.count === '1' ? 'piece' : 'pieces';
    const lines = [element('p', {}, element('b', {}, grouped(count.count)), ` ${many}, every one of them proved.`)];
    if (count.turning && count.mirroring) lines.push(element('p', {}, `${grouped(count.turning)} that differ when a ring may be turned, ${grouped(count.mirroring)} when it may be mirrored too.`));
    if (count.empty) lines.splice(0, 1, element('p', {}, element('b', {}, 'No piece'), `: ${count.empty}.`));
    else lines.push(element('p', { class: 'quiet-text' }, count.grounds));
    if (count.apart) lines.push(element('p', { class: 'quiet-text' }, `Not counted up to turning: ${count.apart}.`));
    this.told.replaceChildren(...lines);
    this.refuse('');
    if (count.empty) this.dim(true);
    else this.part.hidden = false;
    this.sheet.sketch = new Sketch(sketch, this.form.names.length);
    this.sheet.show([]);
  }

  /**
   * @param {string} text why nothing is counted
   * @param {boolean} [bare] whether there is nothing to count, and no piece to show
   */
  showTrouble(text, bare = false) {
    this.refuse('');
    this.told.replaceChildren(element('p', {}, text));
    if (bare) this.part.hidden = true;
    this.dim(true);
  }

  /** @param {string} text why these stations cannot be used; empty when they can */
  refuse(text) {
    this.refused.textContent = text;
    this.refused.hidden = !text;
    if (!text) return;
    this.told.replaceChildren();
    this.form.mark(text);
    this.dim(true);
  }

  /**
   * The last piece stays to be seen when there is none now; nothing can be done with it.
   * @param {boolean} past
   */
  dim(past) {
    const held = past && this.part.contains(document.activeElement);
    this.part.classList.toggle('past', past);
    this.part.inert = past;
    if (held) this.steps.hold();
  }

  /** @param {import('./messages.js').Piece} piece */
  showPiece({ number, arrangement }) {
    this.dim(false);
    this.number.value = number;
    this.sheet.mark(number);
    const { names, keys, stations } = this.form;
    const offered = JSON.stringify([names, keys, stations.map(({ allowed }) => allowed)]);
    if (this.selects.childElementCount !== arrangement.length || this.offered !== offered) {
      this.offered = offered;
      this.selects.replaceChildren(...arrangement.map((_, station) => element('label', {}, element('span', {}, String(station + 1)),
        element('select', { 'aria-label': `Profile of the piece at station ${station + 1}`, change: () => this.places.shown.openArrangement(this.arrangement()) },
          ...names.flatMap((name, profile) => (stations[station]?.allowed?.includes(keys[profile]) === false ? [] : element('option', { value: String(profile) }, name)))))));
    }
    this.selects.querySelectorAll('select').forEach((select, station) => { select.value = String(arrangement[station]); });
  }

  /** @returns {number[]} */
  arrangement() {
    return [...this.selects.querySelectorAll('select')].map((select) => Number(select.value));
  }

  /** @param {bigint} by */
  step(by) {
    const { piece, counting: { count } } = this.places;
    if (!piece || !count) return;
    const to = BigInt(piece.number) + by;
    if (0n < to && to <= BigInt(count.count)) this.places.shown.openNumber(String(to));
  }
}

/**
 * A whole number in groups of three.
 * @param {string} digits
 */
export function grouped(digits) {
  return digits.replace(/\B(?=(\d{3})+$)/g, '\u202f');
}
