// @ts-check
/**
 * The section at the chosen fraction across, between the two profiles, with
 * the worst place marked; and the slider that goes through the sections.
 */
import { drawing, element } from '../page/dom.js';
import { Player } from './player.js';

const STEPS = 200;
/** How near the slider must be to a worst place to show its mark. */
const NEAR = 0.02;

export class SectionPlot {
  /**
   * @param {HTMLElement} place
   * @param {HTMLElement} sliderPlace
   * @param {import('../page/controller.js').Controller} controller
   */
  constructor(place, sliderPlace, controller) {
    this.board = controller.board;
    this.controller = controller;
    /** The air around the plot, in mm. */
    this.air = 1;
    const line = (/** @type {string} */ name) => drawing('path', { class: name, 'vector-effect': 'non-scaling-stroke' });
    this.lines = { first: line('plot-first'), second: line('plot-second'), section: line('plot-section') };
    this.marks = drawing('g', { class: 'plot-marks' });
    this.pointed = drawing('g', { class: 'plot-pointed' });
    this.kept = drawing('g', { class: 'plot-kept' });
    this.svg = drawing('svg', { role: 'img', 'aria-label': 'Section of the loft' }, this.lines.first, this.lines.second, this.lines.section, this.marks, this.pointed, this.kept);
    this.svg.addEventListener('pointermove', (event) => controller.links.showPlace(this.under(event), 'section'));
    this.svg.addEventListener('pointerleave', () => controller.links.showPlace(null, 'section'));
    this.svg.addEventListener('click', (event) => {
      const place = this.under(event);
      if (place) controller.loftView.measureView.keep(place);
    });
    this.caption = element('p', { class: 'caption' });
    place.append(this.svg, this.caption);

    this.range = /** @type {HTMLInputElement} */ (element('input', {
      type: 'range', min: '0', max: '1', step: '0.001', id: 'across',
      input: () => controller.act(() => this.board.setAcross(this.range.valueAsNumber)),
    }));
    this.strip = element('div', { class: 'strip', 'aria-hidden': 'true' });
    this.output = element('output', { for: 'across' });
    this.player = new Player(this.range, (across) => controller.act(() => this.board.setAcross(across)));
    sliderPlace.append(element('label', { for: 'across' }, 'Section'), this.player.button, element('div', { class: 'slider-track' }, this.strip, this.range), this.output);
  }

  /**
   * The place of the section that is nearest to the pointer.
   * @param {MouseEvent} event
   * @returns {import('../page/links.js').LoftPlace | null}
   */
  under(event) {
    const matrix = /** @type {SVGSVGElement} */ (this.svg).getScreenCTM();
    if (!matrix) return null;
    const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
    const across = this.board.across();
    const along = this.board.nearestAlong(x, -y, across);
    return along === undefined ? null : { along, across };
  }

  /** @param {(import('../page/links.js').LoftPlace | null)[]} places kept to be measured */
  showKept(places) {
    this.kept.replaceChildren(...places.flatMap((place, index) => {
      const ruling = place ? this.board.ruling(place.along, place.across) : [];
      if (ruling.length !== 6) return [];
      const [x, y] = [ruling[4], -ruling[5]];
      const name = drawing('text', { x: String(x + 0.4 * this.air), y: String(y - 0.3 * this.air), 'font-size': String(0.9 * this.air) });
      name.textContent = index ? 'B' : 'A';
      return [drawing('circle', { cx: String(x), cy: String(y), r: String(0.25 * this.air) }), name];
    }));
  }

  /** @param {import('../page/links.js').LoftPlace | null} place */
  showPointed(place) {
    const ruling = place ? this.board.ruling(place.along, place.across) : [];
    if (ruling.length !== 6) {
      this.pointed.replaceChildren();
      return;
    }
    const [x1, y1, x2, y2, x, y] = Array.from(ruling, (value, index) => String(index % 2 ? -value : value));
    this.pointed.replaceChildren(
      drawing('line', { x1, y1, x2, y2, 'vector-effect': 'non-scaling-stroke' }),
      drawing('circle', { cx: x, cy: y, r: String(0.25 * this.air) }),
    );
  }

  /** @param {import('../page/messages.js').Finding | null} finding */
  update(finding) {
    const across = this.board.across();
    const bounds = this.board.pairBounds();
    const shown = bounds.length === 4 && finding !== null;
    this.svg.toggleAttribute('hidden', !shown);
    this.range.disabled = !shown;
    this.player.button.disabled = !shown;
    if (!shown) {
      this.caption.textContent = 'Choose a pair to see its sections.';
      return;
    }
    const [left, low, right, high] = bounds;
    const air = this.air = 0.08 * Math.max(right - left, high - low, 0.1);
    this.svg.setAttribute('viewBox', `${left - air} ${-high - air} ${right - left + 2 * air} ${high - low + 2 * air}`);
    this.lines.first.setAttribute('d', path(this.board.section(0, STEPS)));
    this.lines.second.setAttribute('d', path(this.board.section(1, STEPS)));
    this.lines.section.setAttribute('d', path(this.board.section(across, STEPS)));
    const near = finding.places.filter(([, , at]) => Math.abs(at - across) <= NEAR);
    this.marks.replaceChildren(...near.map(([x, y]) => drawing('circle', { cx: String(x), cy: String(-y), r: String(0.6 * air) })));
    this.range.value = String(across);
    this.output.textContent = `${across.toFixed(3)} across`;
    this.range.setAttribute('aria-valuetext', this.output.textContent);
    this.caption.textContent = finding.first === finding.second ? 'The profile alone' : `Section at ${across.toFixed(3)} across, from profile ${finding.first + 1} to ${finding.second + 1}`;
    this.strip.replaceChildren(...finding.regions.filter(({ contact }) => contact).map(({ from, to }) => {
      const part = element('span');
      part.style.left = `${100 * from}%`;
      part.style.width = `${Math.max(100 * (to - from), 0.6)}%`;
      return part;
    }));
  }
}

/** @param {Float64Array} points x, y, x, y, ... in mm */
function path(points) {
  let text = '';
  for (let i = 0; i < points.length; i += 2) text += `${i ? 'L' : 'M'}${points[i].toFixed(3)} ${(-points[i + 1]).toFixed(3)}`;
  return text;
}
