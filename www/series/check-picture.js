// @ts-check
/**
 * A making check as a map on the piece: the picture, its legend, what is told
 * of it, and the way to its worst place.
 */
import { button, element, sign } from '../page/dom.js';
import { figure, labelsOf, shareOf } from './check-scale.js';
import { intoPicture, stepsAlong, turned } from './piece-frame.js';
import { PiecePicture } from './piece-picture.js';

/** No pointer hovers here. */
const TOUCH = matchMedia('(hover: none)');
/** Passes nearer to each other on the screen, in pixels, are not told apart. */
const APART = 7;
/** Of how many passes one may be drawn. */
const EVERY = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];

export class CheckPicture {
  /** @param {import('../page/theme.js').Theme} theme */
  constructor(theme) {
    this.theme = theme;
    this.title = element('h3', {});
    const picture = element('div', { class: 'loft-picture' });
    this.legend = element('div', { class: 'map-legend' });
    this.reading = element('p', { class: 'quiet-text map-reading' });
    this.passes = element('p', { class: 'quiet-text' });
    this.said = element('ul', { class: 'quiet-text map-said' });
    this.turn = button('Turn to the worst place', () => this.turnToWorst());
    this.turn.disabled = true;
    this.place = element('div', { class: 'check-picture' }, element('div', { class: 'check-head' }, this.title, this.turn), picture, this.reading, this.legend, this.passes, this.said);
    this.picture = new PiecePicture(picture, theme, { turned: () => this.followPasses(), pointed: (points) => this.read(points) });
    /** The values of the map, one for each point of the picture. @type {Float32Array} */
    this.values = new Float32Array();
    /** @type {import('./messages.js').Check | undefined} */
    this.check = undefined;
    /** @type {import('./messages.js').Shop | undefined} */
    this.shop = undefined;
    new ResizeObserver(() => this.followPasses()).observe(picture);
  }

  /** @param {import('./messages.js').Picture | undefined} picture */
  show(picture) {
    this.check = undefined;
    this.values = new Float32Array();
    this.picture.show(picture);
    this.read(null);
    this.told([]);
    this.title.textContent = 'The piece';
    this.legend.replaceChildren();
    this.turn.disabled = true;
    this.followPasses();
  }

  /**
   * @param {import('./messages.js').Check} check
   * @param {Float32Array} values one for each point of the picture
   * @param {import('./messages.js').Shop} shop
   * @param {{reach?: import('./messages.js').Reach, room?: import('./messages.js').Room}} more
   */
  showMap(check, values, shop, { reach, room }) {
    const { picture } = this.picture;
    if (!picture || 3 * values.length !== picture.points.length) return;
    this.check = check;
    this.shop = shop;
    this.values = values;
    this.read(null);
    this.title.textContent = check.what;
    const share = shareOf(check);
    const ofDraft = check.kind === 'draft';
    const second = ofDraft && shop.halves === 'one' ? share(0) : undefined;
    const passes = check.kind === 'scallop' ? stepsAlong(picture, shop.sideways, shop.stepOver) : undefined;
    this.picture.mark({
      worst: intoPicture(picture, check.at.slice(0, 3)),
      parting: ofDraft && reach ? intoPicture(picture, reach.parting) : undefined,
      near: check.kind === 'offset' && room ? intoPicture(picture, room.line) : undefined,
    });
    this.picture.put({ shares: Float32Array.from(values, share), second, passes }, ofDraft ? reach : undefined);
    this.turn.disabled = check.at.length === 0;
    this.showLegend(check, ofDraft ? reach : undefined);
    this.told([
      `Worst: ${[check.worst, check.side].filter(Boolean).join(', ')}${check.at.length ? '; the mark on the skin' : ''}.`,
      ...(ofDraft ? reach?.said ?? ['How far the proof reaches is being worked out.'] : []),
      ...(check.kind === 'offset' ? [room?.said ?? 'Whether parts of the skin come too near each other is being looked at.'] : []),
    ]);
    this.followPasses();
  }

  /** @param {string[]} sentences */
  told(sentences) {
    this.said.replaceChildren(...sentences.map((text) => element('li', {}, text)));
  }

  /**
   * @param {import('./messages.js').Check} check
   * @param {import('./messages.js').Reach | undefined} reach
   */
  showLegend(check, reach) {
    const [worst, middle, best] = ['--dome', '--skin-flat', '--saddle'].map((name) => this.theme.colour(name));
    const bar = element('div', { class: 'map-bar limit-bar', 'aria-hidden': 'true' }, element('span', { class: 'limit-stripes' }), element('span', { class: 'limit-mark' }));
    if (check.kind === 'draft' && this.shop?.halves === 'one') {
      const zero = element('span', { class: 'limit-mark zero-mark' });
      zero.style.left = `${50 + 50 * shareOf(check)(0)}%`;
      bar.append(zero);
    }
    bar.style.background = `linear-gradient(to right, ${worst}, ${middle} 50%, ${best})`;
    const labels = labelsOf(check);
    labels[2] = `limit ${labels[2]}`;
    const keys = reach ? [
      ['proved', 'proved to keep the limit'], ['undercut', 'proved undercut'], ['open', 'open: sampled there'],
    ].filter(([name]) => name !== 'undercut' || this.shop?.halves === 'one') : [];
    this.legend.replaceChildren(bar, element('div', { class: 'map-labels' }, ...labels.map((label) => element('span', {}, label))),
      element('p', {}, sign('faulty'), check.kind === 'scallop' ? ' left of the limit: not kept; ' : ' striped: limit not kept; ', sign('clear'), check.kind === 'scallop' ? ' right of it: kept; the thick line is the limit' : ' plain: kept; the line between is the limit',
        check.kind === 'draft' && this.shop?.halves === 'one' ? ', the thinner line 0 degrees: beyond it the skin is undercut.' : '.', ' The scale is not even: go by the figures below it.'),
      ...(keys.length ? [element('ul', { class: 'proof-keys' }, ...keys.map(([name, words]) => element('li', {}, element('span', { class: `proof-key proof-${name}`, 'aria-hidden': 'true' }), words)))] : []));
  }

  /**
   * Tells the value where the pointer is.
   * @param {[number, number][] | null} points
   */
  read(points) {
    const { check, values } = this;
    const value = points?.reduce((sum, [point, weight]) => sum + (weight && weight * values[point]), 0);
    if (!check || !values.length) this.reading.textContent = '';
    else if (value === undefined) this.reading.textContent = `${TOUCH.matches ? 'Touch' : 'Point at'} the skin to read a value.`;
    else this.reading.textContent = `Here ${Number.isFinite(value) ? figure(value) : 'unbounded'}${Number.isFinite(value) && check.unit ? ` ${check.unit}` : ''}.`.replace(' °', '°');
  }

  turnToWorst() {
    if (this.check?.at.length) this.picture.stage.orbit.face(turned(this.check.at.slice(3)));
  }

  /** Draws as many passes as the eye can tell apart, and says how many. */
  followPasses() {
    const { picture } = this.picture;
    const ofScallop = this.check?.kind === 'scallop' && picture && this.shop;
    this.passes.textContent = '';
    if (!ofScallop || !picture || !this.shop) return;
    const step = (this.shop.stepOver / picture.frame[3]) * this.picture.stage.pixels();
    const every = EVERY.find((count) => APART <= count * step) ?? EVERY[EVERY.length - 1];
    this.picture.drawPasses(every);
    this.passes.textContent = every === 1 ? 'The thin lines are the passes of the cutter; a ridge stands between each two.' : `The thin lines are every ${every}th pass of the cutter: zoom in for more. A ridge stands between each two passes.`;
  }

  /** The theme has changed. */
  repaint() {
    this.picture.paint();
    if (this.check) this.showLegend(this.check, this.picture.reach);
  }
}
