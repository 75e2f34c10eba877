// @ts-check
/**
 * The loft in space: the surface, its two profiles, the section shown, the
 * double curves. Turned by pointer and keys. Where the browser refuses to draw
 * in space it says so, and the rest of the page goes on.
 */
import { PerspectiveCamera, Scene, WebGLRenderer, AmbientLight, DirectionalLight } from 'three';
import { element } from '../page/dom.js';
import { LoftBody } from './loft-body.js';
import { Orbit } from './orbit.js';

export class LoftView {
  /**
   * @param {HTMLElement} place
   * @param {import('../page/controller.js').Controller} controller
   * @param {import('../page/theme.js').Theme} theme
   */
  constructor(place, controller, theme) {
    this.place = place;
    this.board = controller.board;
    this.theme = theme;
    this.renderer = makeRenderer();
    if (!this.renderer) {
      place.append(element('p', { class: 'quiet-text' }, 'This browser does not draw in space (WebGL is refused), so the loft has no picture here. Verdicts, sections and all else work without it.'));
      return;
    }
    const canvas = this.renderer.domElement;
    canvas.tabIndex = 0;
    canvas.setAttribute('role', 'application');
    canvas.setAttribute('aria-label', 'The loft in space. Arrows turn it, plus and minus zoom, 0 goes back.');
    place.append(canvas);
    this.scene = new Scene();
    this.camera = new PerspectiveCamera(32, 1, 0.05, 40);
    this.light = new DirectionalLight(0xffffff, 2.6);
    this.scene.add(new AmbientLight(0xffffff, 0.8), this.light);
    this.body = new LoftBody(this.board);
    this.scene.add(this.body.group);
    this.orbit = new Orbit(canvas, () => this.draw());
    new ResizeObserver(() => this.fitToPage()).observe(place);
    this.paintTheme();
  }

  paintTheme() {
    this.body?.paint((name) => this.theme.colour(name));
    this.draw();
  }

  fitToPage() {
    const { clientWidth: width, clientHeight: height } = this.place;
    if (!width || !height || !this.renderer) return;
    this.renderer.setPixelRatio(Math.min(window.devicePixelRatio || 1, 2));
    this.renderer.setSize(width, height, false);
    /** @type {PerspectiveCamera} */ (this.camera).aspect = width / height;
    this.camera?.updateProjectionMatrix();
    this.draw();
  }

  /** The curves have changed. */
  updateSurface() {
    this.body?.updateSurface();
    this.updateSection();
  }

  /** Another section is shown. */
  updateSection() {
    this.body?.updateSection(this.board.across());
    this.draw();
  }

  /** Draws once, in the next frame. */
  draw() {
    if (!this.renderer || this.waiting) return;
    this.waiting = true;
    requestAnimationFrame(() => {
      this.waiting = false;
      if (!this.renderer || !this.scene || !this.camera || !this.orbit) return;
      this.orbit.place(this.camera);
      this.light?.position.copy(this.camera.position).add({ x: 0.4, y: 1.2, z: 0 });
      this.renderer.render(this.scene, this.camera);
    });
  }
}

function makeRenderer() {
  try {
    const renderer = new WebGLRenderer({ antialias: true, alpha: true });
    renderer.setClearColor(0x000000, 0);
    return renderer;
  } catch {
    return null;
  }
}
