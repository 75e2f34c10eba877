// @ts-check
/**
 * A field for one figure: what is typed is taken when the field is left or
 * Enter is pressed; what is refused gives way to the figure that holds.
 */
import { element } from '../page/dom.js';
import { figureField, figureOf } from '../page/figure.js';

/**
 * @param {string} label
 * @param {{step?: string, signed?: boolean, optional?: boolean, value?: string, unit?: string, name?: string, change?: () => void}} [options]
 *   an `optional` one may be left empty; `name` takes the place of the label where that says too little by itself
 */
export function numberField(label, { step = '0.01', signed = false, optional = false, value = '', unit = 'mm', name = '', change } = {}) {
  const input = figureField({
    step, signed, value, ...(optional ? {} : { required: true }),
    'aria-label': name || (unit ? `${label}, ${unit}` : label), ...(change ? { change } : {}),
  });
  return { input, label: element('label', { class: 'figure' }, element('span', {}, label), input, element('span', { class: 'unit' }, unit)) };
}

/**
 * The figure in the field; nothing when it is empty, not a number when it holds no figure.
 * @param {HTMLInputElement} input
 */
export function figureIn(input) {
  return input.value === '' ? undefined : figureOf(input);
}

/**
 * Shows a figure, but not under the hand that is typing.
 * @param {HTMLInputElement} input
 * @param {string} text
 */
export function showFigure(input, text) {
  if (document.activeElement !== input) input.value = text;
}
