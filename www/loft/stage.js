// @ts-check
/**
 * A place of the page in which something stands in space: asks the browser for
 * it, keeps to the size of the place, draws once a frame, is turned by pointer
 * and keys. Where the browser refuses to draw in space it says so, and the rest
 * of the page goes on. What stands there it does not know.
 */
import { Camera, Renderer } from 'ogl';
import { element, onceAFrame } from '../page/dom.js';
import { Orbit } from './orbit.js';

/** What a picture asks of the browser; the colours come multiplied by their opacity. */
const CONTEXT = { alpha: true, antialias: true, premultipliedAlpha: true };

/** More pixels of the screen to one of the page than this are not seen and cost time. */
const MOST_RATIO = 2;

/** The angle of view, upright, in degrees. */
const VIEW = 32;

/**
 * @typedef {object} Content what stands in space
 * @property {import('ogl').Transform} group
 * @property {(width: number, height: number, ratio: number) => void} fit hears the size in pixels of the screen, and the ratio of them to the pixels of the page
 */

export class Stage {
  /**
   * @param {HTMLElement} place
   * @param {object} options
   * @param {string} options.label
   * @param {string} options.refused what is said where the browser does not draw in space
   * @param {(gl: import('ogl').OGLRenderingContext) => Content} options.build makes what stands there; again when the browser gave the graphics back
   * @param {(event: PointerEvent | null, pressed: boolean) => void} [options.pointed]
   * @param {() => void} [options.turned] the view has changed
   */
  constructor(place, { label, refused, build, pointed = () => {}, turned = () => {} }) {
    this.place = place;
    this.make = build;
    this.canvas = /** @type {HTMLCanvasElement} */ (element('canvas', { tabindex: '0', role: 'application', 'aria-label': label }));
    this.orbit = new Orbit(this.canvas, () => {
      turned();
      this.draw();
    }, pointed);
    if (!this.build()) {
      place.append(element('p', { class: 'quiet-text' }, refused));
      return;
    }
    place.append(this.canvas, element('p', { class: 'wheel-hint', 'aria-hidden': 'true' }, 'Press here: then the wheel zooms, till Esc'));
    // A browser may take the graphics away from a page that was long in the background.
    this.canvas.addEventListener('webglcontextlost', (event) => event.preventDefault());
    this.canvas.addEventListener('webglcontextrestored', () => { if (this.build()) this.fit(); });
    new ResizeObserver(() => this.fit()).observe(place);
  }

  /** Whether the browser draws in space. */
  get stands() {
    return this.content !== undefined;
  }

  /** @returns {boolean} whether the browser draws in space */
  build() {
    // Asked first, because the library complains on the console where it is refused.
    if (!this.canvas.getContext('webgl2', CONTEXT)) return false;
    this.renderer = new Renderer({ ...CONTEXT, canvas: this.canvas });
    this.camera = new Camera(this.renderer.gl, { fov: VIEW, near: 0.05, far: 40 });
    this.content = this.make(this.renderer.gl);
    return true;
  }

  fit() {
    const { clientWidth: width, clientHeight: height } = this.place;
    if (!width || !height || !this.renderer) return;
    const ratio = Math.min(window.devicePixelRatio || 1, MOST_RATIO);
    this.renderer.dpr = ratio;
    this.renderer.setSize(width, height);
    this.camera?.perspective({ aspect: width / height });
    this.content?.fit(width * ratio, height * ratio, ratio);
    this.draw();
  }

  /** The ray from the eye through what the pointer is over; nothing where there is no picture. @param {PointerEvent} event */
  ray(event) {
    const { left, top, width, height } = this.canvas.getBoundingClientRect();
    if (!width || !height) return undefined;
    const [x, y] = [(2 * (event.clientX - left)) / width - 1, 1 - (2 * (event.clientY - top)) / height];
    return this.orbit.ray(x, y, Math.tan((VIEW * Math.PI) / 360), width / height);
  }

  /** Pixels of the page to what is 1 in space, at the middle of the picture. */
  pixels() {
    return this.place.clientHeight / (2 * this.orbit.at.distance * Math.tan((VIEW * Math.PI) / 360));
  }

  /** Draws once, in the next frame. */
  draw = onceAFrame(() => {
    if (!this.renderer || !this.camera || !this.content) return;
    this.orbit.place(this.camera);
    this.renderer.render({ scene: this.content.group, camera: this.camera });
  });
}
