// @ts-check
/**
 * What is dropped or pasted on the page: what cannot be read is refused, and of
 * the rest it asks what to do with it when a family is there already, and
 * reports the answer.
 */
import { choose } from './choose.js';
import { isSeries, readFiles } from './files.js';

/**
 * @typedef {object} Host
 * @property {() => boolean} isEmpty whether no family is there
 * @property {(arrival: import('./files.js').Arrival) => Promise<string>} fault what is wrong with it; empty when it can be read
 * @property {(arrivals: import('./files.js').Arrival[], adding: boolean) => void} take
 * @property {(picture: File) => void} lay a picture under the curves
 * @property {(error: unknown) => void} refuse
 */

export class Arrivals {
  /**
   * @param {HTMLDialogElement} dialog
   * @param {Host} host
   */
  constructor(dialog, host) {
    this.dialog = dialog;
    this.host = host;
    document.addEventListener('dragover', (event) => {
      if (!event.dataTransfer || isText(event.target)) return;
      event.preventDefault();
      event.dataTransfer.dropEffect = 'copy';
    });
    document.addEventListener('drop', (event) => {
      if (!event.dataTransfer || isText(event.target)) return;
      event.preventDefault();
      this.receive(event.dataTransfer);
    });
    document.addEventListener('paste', (event) => {
      if (!event.clipboardData || isText(event.target)) return;
      event.preventDefault();
      this.receive(event.clipboardData);
    });
  }

  /** @param {DataTransfer} carried */
  async receive(carried) {
    // Read at once: the browser takes the content away when the event is over.
    const text = carried.getData('text/plain');
    const files = [...carried.files];
    const [picture] = files.filter(({ type }) => type.startsWith('image/') && type !== 'image/svg+xml');
    if (picture) {
      this.host.lay(picture);
      return;
    }
    try {
      const arrivals = files.length ? await readFiles(files) : text.trim() ? [{ name: '', bytes: new TextEncoder().encode(text) }] : [];
      const faults = await Promise.all(arrivals.map((arrival) => this.host.fault(arrival)));
      const sound = arrivals.filter((_, index) => !faults[index]);
      if (sound.length) this.ask(sound);
      const wrong = faults.filter(Boolean);
      if (wrong.length) this.host.refuse(wrong.join(' '));
    } catch (error) {
      this.host.refuse(error);
    }
  }

  /** @param {import('./files.js').Arrival[]} arrivals */
  async ask(arrivals) {
    if (this.host.isEmpty() || arrivals.every(isSeries)) {
      this.host.take(arrivals, false);
      return;
    }
    const names = arrivals.map(({ name }) => (name ? `“${name}”` : 'what was pasted'));
    const adding = await choose(this.dialog, `What is to be done with ${names.join(', ')}?`,
      'A family that is replaced stands under Families, with the earlier works, and undo brings it back.',
      [['Add its profiles to this family', true], ['Open it in place of this family', false]]);
    if (adding !== undefined) this.host.take(arrivals, adding);
  }
}

/**
 * Whether the browser itself knows what to do with text there.
 * @param {EventTarget | null} target
 */
function isText(target) {
  return target instanceof HTMLTextAreaElement || (target instanceof HTMLInputElement && target.type === 'text' && !target.readOnly);
}
