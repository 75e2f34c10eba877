// @ts-check
/**
 * The place "Finish": the lift-out of the piece from the bath, its colours on
 * the piece and along the height with what the calibration leaves unsure, and
 * the table to work by. Colours on a screen are estimates, and said to be.
 */
import { fileName, saveText } from '../keep/files.js';
import { rgb } from '../loft/maps.js';
import { button, element } from '../page/dom.js';
import { bathTable } from './bath-table.js';
import { FinishForm } from './finish-form.js';
import { kept, WORKSHOP } from './kept-fields.js';
import { sentence } from './kept-series.js';
import { heights } from './piece-frame.js';
import { PiecePicture } from './piece-picture.js';

/** Figures beside the strip. */
const LABELS = 5;

export class FinishView {
  /**
   * @param {HTMLElement} place
   * @param {import('./places.js').Places} places
   */
  constructor(place, places) {
    this.places = places;
    /** @type {FinishForm | undefined} */
    this.form = undefined;
    /** @type {import('./messages.js').Material[]} */
    this.materials = [];
    /** What is shown. @type {{number: string, finish: import('./messages.js').Finish} | undefined} */
    this.shown = undefined;
    this.round = 0;
    /** Counts the colours asked for. */
    this.wishes = 0;
    this.formPlace = element('div', {});
    this.refused = element('p', { class: 'refused', role: 'alert' });
    this.refused.hidden = true;
    this.cautions = element('div', { class: 'finish-cautions' });
    this.strips = element('div', { class: 'strips' });
    this.said = element('ul', { class: 'quiet-text map-said' });
    this.table = element('div', {});
    const picture = element('div', { class: 'loft-picture' });
    this.desk = element('div', { class: 'making-desk' },
      element('div', { class: 'check-picture' }, element('div', { class: 'finish-pictures' }, picture, this.strips), this.said),
      element('div', { class: 'making-result' }, this.table));
    this.material = element('p', { class: 'caution-text other-material', role: 'status' });
    this.material.hidden = true;
    place.append(this.material, this.cautions, this.formPlace, this.refused, this.desk);
    this.picture = new PiecePicture(picture, places.controller.theme);
  }

  /** What is shown is of another piece than the one that comes. */
  redo() {
    this.round += 1;
    this.age(true);
  }

  /** @param {boolean} past whether what is shown holds no longer */
  age(past) {
    this.desk.inert = past;
    this.desk.classList.toggle('past', past);
  }

  /** @param {string} text why there is nothing to finish */
  showTrouble(text) {
    this.round += 1;
    this.shown = undefined;
    this.picture.show(undefined);
    this.desk.hidden = true;
    this.refuse(text);
  }

  /** @param {string} text may be empty */
  refuse(text) {
    this.refused.textContent = text;
    this.refused.hidden = !text;
    // What stands below is of what was asked before.
    this.age(Boolean(text));
  }

  /**
   * Works the finish out anew.
   * @param {string} number of the piece
   */
  async follow(number) {
    this.round += 1;
    const { round } = this;
    if (!this.form) {
      const usual = await this.places.counting.askOf({ act: 'usualFinish', number });
      if (!usual) return;
      this.materials = (await this.places.counting.askOf({ act: 'begin' }))?.materials ?? [];
      this.form ??= this.makeForm(usual);
    }
    this.showMaterial();
    const { answer, error } = await this.places.counting.tryOf({ act: 'finish', number, finish: this.form.wish() });
    if (round !== this.round) return;
    if (answer) this.show(number, answer);
    else if (error) this.refuse(sentence(error));
  }

  /** Says so when what is chosen in Making is not what the table holds for. */
  showMaterial() {
    const chosen = this.materials[Number(kept(WORKSHOP, 'material') || -1)];
    this.material.hidden = !chosen || chosen.isTitanium;
    this.material.textContent = this.material.hidden ? '' : `Making has ${chosen.name} as the material: films and colours below are those of titanium only. They do not hold for it; do not put it into this bath by this table.`;
  }

  /** @param {import('./messages.js').FinishWish} usual */
  makeForm(usual) {
    const form = new FinishForm(usual, { changed: () => this.again(), patch: (patch) => this.takePatch(patch), wished: (colour) => this.findColour(colour) });
    this.formPlace.replaceChildren(form.place);
    return form;
  }

  again() {
    const { piece } = this.places;
    if (piece) this.follow(piece.number);
  }

  /** @param {{film: number, volts: number, percent: number}} patch */
  async takePatch(patch) {
    const { answer, error } = await this.places.counting.tryOf({ act: 'calibrated', patch });
    if (answer) this.form?.take(answer);
    else if (error) this.refuse(sentence(error));
  }

  /** @param {string} colour as it was typed */
  async findColour(colour) {
    const { form } = this;
    if (!form) return;
    this.wishes += 1;
    const { wishes } = this;
    const { answer, error } = await this.places.counting.tryOf({ act: 'wished', finish: form.wish(), colour });
    if (wishes !== this.wishes) return;
    if (answer) form.wished.show(answer);
    else if (error) form.wished.refuse(sentence(error));
  }

  /**
   * @param {string} number
   * @param {import('./messages.js').Finish} finish
   */
  show(number, finish) {
    this.refuse('');
    this.shown = { number, finish };
    this.desk.hidden = false;
    this.cautions.replaceChildren(...finish.cautions.map((text) => element('p', { class: 'caution-text' }, text)));
    this.form?.showChart(finish.chart, finish.chartTo);
    this.paintPiece();
    this.showStrips(finish);
    this.said.replaceChildren(...finish.said.map((text) => element('li', {}, text)));
    this.table.replaceChildren(
      element('div', { class: 'making-frame', tabindex: '0', role: 'group', 'aria-label': 'Table for the bath' }, bathTable(number, finish.rows)),
      element('div', { class: 'actions' }, button('Copy the table', () => this.copy()), button('Save as CSV', () => this.save())));
  }

  paintPiece() {
    const { picture } = this.picture;
    if (!this.shown || !picture) return;
    const { heights: [low, high], strip } = this.shown.finish;
    const inks = strip.map(rgb);
    const at = heights(picture);
    const colours = new Float32Array(3 * at.length);
    at.forEach((height, index) => {
      const share = (height - low) / Math.max(high - low, 1e-9);
      colours.set(inks[Math.max(0, Math.min(inks.length - 1, Math.round(share * (inks.length - 1))))], 3 * index);
    });
    this.picture.put({ colours });
  }

  /** @param {import('./messages.js').Finish} finish */
  showStrips({ heights: [low, high], strip, thinnest, thickest, aslant }) {
    const bar = (/** @type {string[]} */ colours, /** @type {string} */ title, /** @type {string} */ kind) => {
      const made = element('div', { class: `strip-bar ${kind}` });
      made.style.background = `linear-gradient(to top, ${colours.join(', ')})`;
      return element('figure', {}, made, element('figcaption', {}, title));
    };
    const label = (/** @type {number} */ at) => element('span', {}, `${(high + (low - high) * at).toFixed(1)} mm`);
    this.strips.replaceChildren(
      element('div', { class: 'strip-labels' }, ...Array.from({ length: LABELS }, (_, at) => label(at / (LABELS - 1)))),
      bar(thinnest, 'thinnest', 'unsure'), bar(strip, 'expected', 'sure'), bar(thickest, 'thickest', 'unsure'), bar(aslant, 'seen aslant', 'unsure'));
  }

  async copy() {
    const { announcer } = this.places.controller;
    if (!this.shown) return;
    try {
      await navigator.clipboard.writeText(this.shown.finish.csv.replaceAll(',', '\t'));
      announcer.tell('The table for the bath is copied: paste it into a sheet.');
    } catch {
      announcer.warn('This browser does not let the page copy: save the table as CSV.');
    }
  }

  save() {
    if (!this.shown) return;
    const { family } = this.places.controller;
    saveText(fileName(`${family?.name ?? ''} piece ${this.shown.number} bath`, 'csv'), this.shown.finish.csv, 'text/csv');
  }

  /** The theme has changed. */
  repaint() {
    this.picture.paint();
  }
}
