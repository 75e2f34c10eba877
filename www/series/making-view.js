// @ts-check
/**
 * The place "Making": what the workshop has and wants, the measures of the
 * piece, whether it keeps the limits, and each check as a map on it. Estimates
 * for design, and said to be. What is quick comes first, then how far the proof
 * of the draft reaches, then whether parts of the skin come too near each other.
 */
import { element } from '../page/dom.js';
import { CheckPicture } from './check-picture.js';
import { sentence } from './kept-series.js';
import { MakingForm } from './making-form.js';
import { makingPaper } from './making-paper.js';
import { checkTable, edgeList, measures, skinTable } from './making-tables.js';

/** Said of the places that checks name. */
const PLACES = 'Places on the skin: along runs along the profile, from 0 at its start to 1 at its end; across runs from the first station, 0, to the last, 1.';

export class MakingView {
  /**
   * @param {HTMLElement} place
   * @param {import('./places.js').Places} places
   * @param {{shop: import('./messages.js').Shop, materials: import('./messages.js').Material[]}} begun
   */
  constructor(place, places, { shop, materials }) {
    this.places = places;
    this.form = new MakingForm(shop, materials, { changed: () => places.remake(), best: () => this.findBest() });
    this.picture = new CheckPicture(places.controller.theme);
    this.refused = element('p', { class: 'refused', role: 'alert' });
    this.refused.hidden = true;
    this.cautions = element('div', {});
    this.result = element('div', { class: 'making-result' });
    this.rest = element('div', { class: 'making-result' });
    this.desk = element('div', { class: 'making-desk' }, this.picture.place, this.result);
    /** The check whose map is shown. @type {import('./messages.js').CheckKind} */
    this.kind = 'draft';
    /** What is known of the piece with these limits. @type {{making?: import('./messages.js').Making, reach?: import('./messages.js').Reach, room?: import('./messages.js').Room}} */
    this.known = {};
    /** What that is known by: a field may be typed in by half meanwhile. */
    this.shop = shop;
    /** What is asked grows old when it is asked anew. */
    this.round = 0;
    /** What was followed last. */
    this.followed = '';
    place.append(this.cautions, this.form.place, this.refused, this.desk, this.rest);
  }

  /** What is shown is of another piece than the one that comes. */
  redo() {
    this.round += 1;
    this.followed = '';
    this.age(true);
  }

  /** What is known of the piece, for paper; nothing where it is of another piece or of other limits. */
  paper() {
    const { making } = this.known;
    const number = this.places.piece?.number;
    return making && number && !this.desk.hidden && !this.desk.inert ? [makingPaper(number, making)] : [];
  }

  /** @param {boolean} past whether what is shown holds no longer */
  age(past) {
    for (const part of [this.desk, this.rest]) {
      part.inert = past;
      part.classList.toggle('past', past);
    }
  }

  /** @param {string} text why there is nothing to tell */
  showTrouble(text) {
    this.round += 1;
    this.followed = '';
    this.known = {};
    this.picture.show(undefined);
    this.refuse('');
    this.desk.hidden = true;
    this.rest.replaceChildren(element('p', {}, text));
  }

  /**
   * Measures and checks the piece anew.
   * @param {string} number
   */
  async follow(number) {
    const shop = this.form.shop();
    const followed = JSON.stringify([number, shop, this.places.counting.counted]);
    if (followed === this.followed) {
      this.tellFound();
      return;
    }
    this.followed = followed;
    this.round += 1;
    const { round } = this;
    const isOld = () => round !== this.round;
    const ask = (/** @type {any} */ order) => this.places.counting.askOf({ number, shop, ...order });
    const { answer: making, error } = await this.places.counting.tryOf({ act: 'making', number, shop });
    if (isOld()) return;
    if (!making) {
      this.followed = '';
      if (error) this.refuse(sentence(error));
      return;
    }
    this.refuse('');
    this.known = { making };
    this.shop = shop;
    if (this.form.hasForeignStress()) this.raise('pressure', (check) => { check.basis += '; by a flow stress that the table does not have for this material'; });
    this.tellFound();
    this.show(number, making);
    await this.showMap(number);
    if (isOld()) return;
    const reach = await ask({ act: 'reach' });
    if (!reach || isOld()) return;
    this.known.reach = reach;
    if (reach.band) this.raise('draft', (check) => Object.assign(check, reach.band));
    if (reach.isProved) this.raise('draft', (check) => { check.basis = 'proved on the whole skin'; });
    this.show(number, making);
    if (this.kind === 'draft') await this.showMap(number);
    const room = await ask({ act: 'room' });
    if (!room || isOld()) return;
    this.known.room = room;
    this.raise('offset', (check) => Object.assign(check, {
      worst: room.worst, passes: room.passes, kept: room.passes ? 'kept' : 'not kept', basis: `in hollows ${check.basis}; ${room.said.replace(/\.$/, '')}`,
    }));
    this.show(number, making);
    if (this.kind === 'offset') await this.showMap(number);
  }

  /** @param {string} text why there is no answer; may be empty */
  refuse(text) {
    this.refused.textContent = text;
    this.refused.hidden = !text;
    // What stands below is of the limits before.
    this.age(Boolean(text));
  }

  /** A direction that was taken is told with what the check finds there. */
  tellFound() {
    const draft = this.known.making?.checks.find((one) => one.kind === 'draft');
    if (draft) this.form.tellFound(draft.worst);
  }

  /**
   * @param {import('./messages.js').CheckKind} kind
   * @param {(check: import('./messages.js').Check) => void} change
   */
  raise(kind, change) {
    const check = this.known.making?.checks.find((one) => one.kind === kind);
    if (check) change(check);
  }

  /**
   * @param {string} number
   * @param {import('./messages.js').Making} making
   */
  show(number, { figures, checks, skins, sharp, edges, sides, cautions }) {
    const held = document.activeElement?.closest('.check')?.getAttribute('data-kind');
    const open = new Set([...this.result.querySelectorAll('details[open]')].map((details) => details.getAttribute('data-kind') ?? ''));
    const edgesOpen = this.rest.querySelector('.edges')?.hasAttribute('open') ?? false;
    this.desk.hidden = false;
    this.cautions.replaceChildren(...cautions.map((caution) => element('p', { class: 'caution-text' }, caution)), element('p', { class: 'quiet-text' }, PLACES));
    this.result.replaceChildren(checkTable(number, checks, this.kind, open, (kind) => this.choose(number, kind)));
    const list = edgeList(sharp, edges);
    list.toggleAttribute('open', edgesOpen);
    this.rest.replaceChildren(...(sides ? [element('p', { class: 'quiet-text' }, sides)] : []), measures(number, figures), skinTable(skins), list);
    if (held) /** @type {HTMLElement | null} */ (this.result.querySelector(`[data-kind="${held}"] button`))?.focus();
  }

  /**
   * @param {string} number
   * @param {import('./messages.js').CheckKind} kind
   */
  async choose(number, kind) {
    this.kind = kind;
    for (const row of this.result.querySelectorAll('.check')) row.querySelector('button')?.setAttribute('aria-pressed', String(row.getAttribute('data-kind') === kind));
    await this.showMap(number);
  }

  /**
   * The map of the chosen check.
   * @param {string} number
   */
  async showMap(number) {
    const { round, kind, shop } = this;
    const { steps, rows } = this.places.grid;
    const values = await this.places.counting.askOf({ act: 'map', number, shop, kind, steps, rows });
    const check = this.known.making?.checks.find((one) => one.kind === kind);
    if (!values || !check || round !== this.round || kind !== this.kind) return;
    this.picture.showMap(check, values, shop, this.known);
  }

  async findBest() {
    const { piece } = this.places;
    const best = piece && await this.places.counting.askOf({ act: 'bestDraw', number: piece.number, shop: this.form.shop() });
    if (best && this.places.piece === piece) this.form.take(best);
  }

  /** The theme has changed. */
  repaint() {
    this.picture.repaint();
  }
}
