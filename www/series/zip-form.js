// @ts-check
/**
 * Several pieces in one zip: which of them, in which formats, how far it has
 * come, and what could not be made.
 */
import { fileName, save } from '../keep/files.js';
import { button, element } from '../page/dom.js';
import { Stopped } from '../work/background.js';
import { Zip } from './zip.js';

/** Problems that are listed; the manifest has all of them. */
const MOST_LISTED = 20;

/** What a zip holds besides the pieces. */
const WITH = 'with a manifest of measures and checksums, the family and the series';

export class ZipForm {
  /**
   * @param {import('./places.js').Places} places
   * @param {Record<string, string>} formats their names by kind
   * @param {() => number} tolerance mm
   */
  constructor(places, formats, tolerance) {
    this.places = places;
    this.tolerance = tolerance;
    this.zip = new Zip(places.means);
    this.numbers = /** @type {HTMLInputElement} */ (element('input', { type: 'text', inputmode: 'numeric', autocomplete: 'off', placeholder: '7,12,40-60', 'aria-label': 'Numbers of the pieces, as 1-40, 57', input: () => { this.which('numbers').checked = true; } }));
    this.shown = element('span');
    this.chosen = element('span');
    this.pieces = element('fieldset', { class: 'zip-part' }, element('legend', {}, 'Which pieces'),
      element('label', { class: 'tick' }, radio('shown'), this.shown),
      element('label', { class: 'tick' }, radio('sheet'), this.chosen),
      element('div', { class: 'actions' }, element('label', { class: 'tick' }, radio('numbers'), 'these numbers:'), this.numbers));
    this.formats = element('fieldset', { class: 'zip-part' }, element('legend', {}, 'In which formats'),
      ...Object.entries(formats).map(([kind, name]) => element('label', { class: 'tick' }, element('input', { type: 'checkbox', value: kind, checked: kind === 'step' }), name)));
    this.maker = button('Make the zip', () => this.make());
    this.bar = /** @type {HTMLProgressElement} */ (element('progress', { 'aria-label': 'Pieces made', max: '1', value: '0' }));
    this.come = element('span');
    this.stopper = button('Stop', () => this.stop());
    this.work = element('div', { class: 'actions' }, this.bar, this.come, this.stopper);
    this.work.hidden = true;
    this.told = element('div', { role: 'status' });
    this.place = element('section', { class: 'zip', 'aria-label': 'Several pieces in one zip' },
      element('h3', {}, 'Several pieces in one zip'), this.pieces, this.formats, element('div', { class: 'actions' }, this.maker), this.work, this.told);
    this.show();
  }

  /** What there is to choose from may have changed. */
  show() {
    const count = this.places.series?.sheet.pieces.length ?? 0;
    const [shown, sheet] = [this.which('shown'), this.which('sheet')];
    this.shown.textContent = `piece ${this.places.piece?.number ?? ''}, which is shown`;
    this.chosen.textContent = count ? `the ${count.toLocaleString('en')} of the contact sheet` : 'those of the contact sheet (none is chosen there yet)';
    sheet.disabled = !count;
    if (!this.pieces.querySelector('input:checked:enabled')) shown.checked = true;
    this.maker.disabled = !this.places.piece || !this.work.hidden;
  }

  /** @param {'shown' | 'sheet' | 'numbers'} value */
  which(value) {
    return /** @type {HTMLInputElement} */ (this.pieces.querySelector(`input[value=${value}]`));
  }

  /**
   * @param {import('./messages.js').Counted} series
   * @returns {Promise<string[]>}
   */
  async selected(series) {
    const { places } = this;
    if (this.which('shown').checked) return places.piece ? [places.piece.number] : [];
    if (this.which('sheet').checked) return places.series?.sheet.pieces.map(({ number }) => number) ?? [];
    return places.counting.asking.ask(series, { act: 'select', text: this.numbers.value });
  }

  async make() {
    const { places } = this;
    const series = places.counting.counted;
    if (!series) return;
    const kinds = /** @type {import('./messages.js').FileKind[]} */ ([...this.formats.querySelectorAll('input:checked')].map((one) => /** @type {HTMLInputElement} */ (one).value));
    const name = places.controller.family?.name ?? '';
    let come = '';
    this.begin(true);
    try {
      const numbers = await this.selected(series);
      const { content, problems, done } = await this.zip.make(series, numbers, { kinds, tolerance: this.tolerance() }, (progress) => {
        come = `${progress.done.toLocaleString('en')} of ${pieces(progress.all)}`;
        this.tell(progress, come);
      });
      if (done < numbers.length) {
        this.offer(fileName(`${name} ${done} of ${pieces(numbers.length)}`, 'zip'), content, `${done.toLocaleString('en')} of ${pieces(numbers.length)}`, problems);
        return;
      }
      save(fileName(`${name} ${pieces(numbers.length)}`, 'zip'), content);
      this.end(`${pieces(numbers.length)} saved in one zip of ${size(content.size)}, ${WITH}.`, problems);
    } catch (error) {
      this.end(error instanceof Stopped ? `Stopped${come && ` after ${come}`}: nothing is saved.` : `Nothing is saved: ${error instanceof Error ? error.message : error}.`);
    } finally {
      this.begin(false);
    }
  }

  /** The piece that is being made is finished, so that those that are made can be saved. */
  stop() {
    this.zip.stop();
    if (this.work.hidden) return;
    this.come.textContent = 'Stopping after this piece…';
    this.stopper.textContent = 'Stop at once, and save none';
  }

  /**
   * Offers what was made before it was stopped.
   * @param {string} file
   * @param {Blob} content
   * @param {string} part in words
   * @param {string[]} problems
   */
  offer(file, content, part, problems) {
    this.end(`Stopped after ${part}.`, problems);
    this.told.append(button(`Save the ${part}`, () => {
      save(file, content);
      this.end(`${part} saved in one zip of ${size(content.size)}, ${WITH}. The manifest says that it is a part.`, problems);
      this.maker.focus({ preventScroll: true });
    }));
  }

  /** @param {boolean} begun whether work begins or ends */
  begin(begun) {
    const held = this.work.contains(document.activeElement);
    const beganHere = this.maker === document.activeElement;
    this.work.hidden = !begun;
    this.bar.value = 0;
    this.come.textContent = 'Being begun…';
    this.stopper.textContent = 'Stop';
    if (begun) this.zip.reset();
    if (begun) this.told.replaceChildren();
    this.show();
    // Stop is gone, or was pressed: what saves or begins it again is where it was.
    if (!begun && held) (this.told.querySelector('button') ?? this.maker).focus({ preventScroll: true });
    if (begun && beganHere) this.stopper.focus({ preventScroll: true });
  }

  /**
   * @param {import('./zip.js').Progress} progress
   * @param {string} come the same in words
   */
  tell({ done, all, left }, come) {
    this.bar.value = done / all;
    this.come.textContent = [come, left].filter(Boolean).join(', ');
  }

  /**
   * @param {string} text
   * @param {string[]} [problems]
   */
  end(text, problems = []) {
    const more = problems.length - MOST_LISTED;
    const listed = [...problems.slice(0, MOST_LISTED), ...(0 < more ? [`and ${more.toLocaleString('en')} more, all in the manifest`] : [])];
    this.told.replaceChildren(element('p', {}, text), ...(problems.length
      ? [element('p', {}, problems.length === 1 ? 'One file could not be made:' : `${problems.length.toLocaleString('en')} files could not be made:`), element('ul', {}, ...listed.map((problem) => element('li', {}, problem)))] : []));
  }
}

/** @param {string} value */
function radio(value) {
  return element('input', { type: 'radio', name: 'zip-pieces', value });
}

/** @param {number} count */
function pieces(count) {
  return count === 1 ? '1 piece' : `${count.toLocaleString('en')} pieces`;
}

/** @param {number} bytes */
function size(bytes) {
  return bytes < 1e6 ? `${Math.ceil(bytes / 1000)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}
