// @ts-check
/**
 * What verdicts depend on besides the profiles: pacing, placement, limits.
 */
import { byId, element } from '../page/dom.js';
import { figureField, figureOf } from '../page/figure.js';

const CHOICES = {
  pacing: { title: 'Pace', options: { parameter: 'by parameter (length along)', node: 'by node (equal counts)' } },
  placement: { title: 'Placement', options: { stack: 'stack: parallel planes', ring: 'ring: around the axis x = 0' } },
};
const LIMITS = {
  twistLimit: 'Twist limit, degrees',
  creaseLimit: 'Crease limit, degrees',
};

export class SettingsForm {
  /**
   * @param {HTMLFormElement} form
   * @param {import('../page/controller.js').Controller} controller
   */
  constructor(form, controller) {
    this.board = controller.board;
    /** @type {Record<string, any>} */
    this.fields = {};
    for (const [name, { title, options }] of Object.entries(CHOICES)) {
      const field = element('select', {}, ...Object.entries(options).map(([value, text]) => element('option', { value }, text)));
      this.add(form, name, title, field);
    }
    for (const [name, title] of Object.entries(LIMITS)) this.add(form, name, title, figureField({ step: '0.1' }));
    form.addEventListener('submit', (event) => event.preventDefault());
    form.addEventListener('change', () => {
      const { pacing, placement, twistLimit, creaseLimit } = this.fields;
      controller.act(() => this.board.setSettings({
        pacing: pacing.value, placement: placement.value, twistLimit: figureOf(twistLimit), creaseLimit: figureOf(creaseLimit),
      }));
      controller.showAll();
    });
  }

  /**
   * @param {HTMLFormElement} form
   * @param {string} name
   * @param {string} title
   * @param {HTMLElement} field
   */
  add(form, name, title, field) {
    this.fields[name] = field;
    form.append(element('label', {}, element('span', {}, title), field));
  }

  /**
   * Opens the settings at one of them.
   * @param {string} name
   */
  reach(name) {
    byId('settings-panel').open = true;
    this.fields[name].focus();
    this.fields[name].scrollIntoView({ block: 'nearest' });
  }

  /** @param {import('../page/messages.js').Family} family */
  update({ settings }) {
    for (const [name, field] of Object.entries(this.fields)) field.value = String(settings[/** @type {'pacing'} */ (name)]);
  }
}
