// @ts-check
/**
 * The place "Files": the chosen piece for the shop, or several in one zip.
 */
import { fileName, saveBytes } from '../keep/files.js';
import { button, element } from '../page/dom.js';
import { figureField, figureOf } from '../page/figure.js';
import { ZipForm } from './zip-form.js';

/** @type {Record<import('./messages.js').FileKind, {order: string, says: string, part?: string, ending: string, type: string}>} */
const KINDS = {
  step: { order: 'STEP', says: 'exact surfaces, for CAD and CAM', ending: 'step', type: 'model/step' },
  '3mf': { order: '3MF', says: 'a mesh with its unit, for printing', ending: '3mf', type: 'model/3mf' },
  stl: { order: 'STL', says: 'a mesh in mm, for printing and milling', ending: 'stl', type: 'model/stl' },
  gltf: { order: 'glTF', says: 'a mesh to be shown', ending: 'glb', type: 'model/gltf-binary' },
  profiles: { order: 'profiles (SVG)', says: 'the profiles at their stations', part: ' profiles', ending: 'svg', type: 'image/svg+xml' },
  trim: { order: 'trim outline (SVG)', says: 'where the sheet is trimmed', part: ' trim', ending: 'svg', type: 'image/svg+xml' },
  flat: { order: 'flat layout (SVG)', says: 'the skin laid flat, or templates where it cannot be', part: ' flat', ending: 'svg', type: 'image/svg+xml' },
};

export class FilesView {
  /**
   * @param {HTMLElement} place
   * @param {import('./places.js').Places} places
   */
  constructor(place, places) {
    this.places = places;
    this.title = element('p');
    this.tolerance = figureField({ step: '0.01', value: '0.05' });
    this.buttons = Object.entries(KINDS).map(([kind, { order, says }]) => ({
      says, made: button(`Save as ${order}`, () => this.save(/** @type {import('./messages.js').FileKind} */ (kind))),
    }));
    this.zip = new ZipForm(places, Object.fromEntries(Object.entries(KINDS).map(([kind, { order }]) => [kind, order])), () => figureOf(this.tolerance) || 0);
    place.append(this.title,
      element('div', { class: 'settings' }, element('label', {}, element('span', {}, 'Meshes stay this close to the piece, mm'), this.tolerance)),
      element('ul', { class: 'file-list' }, ...this.buttons.map(({ says, made }) => element('li', {}, made, element('span', { class: 'quiet-text' }, says)))), this.zip.place);
  }

  /** @param {string | undefined} number of the piece; none when there is none */
  show(number) {
    this.title.textContent = number === undefined ? 'There is no piece to save: see Series.' : `Piece ${number}, as chosen in Series.`;
    for (const { made } of this.buttons) made.disabled = number === undefined;
    this.zip.show();
  }

  /** @param {import('./messages.js').FileKind} kind */
  async save(kind) {
    const { piece, controller } = this.places;
    if (!piece) return;
    const { part = '', ending, type, order } = KINDS[kind];
    const bytes = await this.places.counting.askOf({ act: 'file', number: piece.number, kind, tolerance: figureOf(this.tolerance) || 0 });
    if (!bytes) return;
    saveBytes(fileName(`${controller.family?.name ?? ''} piece ${piece.number}${part}`, ending), bytes, type);
    controller.announcer.tell(`Piece ${piece.number} is saved as ${order} (${Math.ceil(bytes.length / 1000).toLocaleString('en')} kB).`);
  }
}
