// @ts-check
/**
 * Turning about the middle of the loft: one pointer turns, two zoom, arrows
 * turn, plus and minus zoom, 0 goes back. The wheel zooms a picture that was
 * pressed on or led to by keys, till Escape; over any other it moves the page.
 * A press that does not turn, and a pointer that is not pressed, point at a place.
 */

const START = { around: 0.65, up: 0.42, distance: 2.6 };
const TURN = 0.008;
const KEY_TURN = 0.12;
/** A press that moves by less, in pixels, turns nothing. */
const STILL = 4;

export class Orbit {
  /**
   * @param {HTMLCanvasElement} canvas
   * @param {() => void} changed
   * @param {(event: PointerEvent | null, pressed: boolean) => void} pointed
   */
  constructor(canvas, changed, pointed) {
    this.pointed = pointed;
    /** Where the last press began, until it has turned something. @type {PointerEvent | null} */
    this.pressed = null;
    this.at = { ...START };
    this.changed = changed;
    /** @type {Map<number, PointerEvent>} */
    this.pointers = new Map();
    canvas.addEventListener('pointerdown', (event) => {
      canvas.setPointerCapture(event.pointerId);
      this.pressed = this.pointers.size ? null : event;
      this.pointers.set(event.pointerId, event);
    });
    canvas.addEventListener('pointerleave', () => pointed(null, false));
    canvas.addEventListener('pointermove', (event) => this.move(event));
    for (const end of /** @type {const} */ (['pointerup', 'pointercancel'])) canvas.addEventListener(end, (event) => {
      this.pointers.delete(event.pointerId);
      if (end === 'pointerup' && this.pressed?.pointerId === event.pointerId) pointed(event, true);
      this.pressed = null;
    });
    canvas.addEventListener('wheel', (event) => {
      // A pinched track pad comes with Ctrl, and would zoom the page.
      if (document.activeElement !== canvas && !event.ctrlKey) return;
      event.preventDefault();
      this.zoom(Math.exp(event.deltaY * 0.0012));
    }, { passive: false });
    canvas.addEventListener('keydown', (event) => this.key(event));
  }

  /** @param {import('ogl').Camera} camera */
  place(camera) {
    const { around, up, distance } = this.at;
    camera.position.set(
      distance * Math.cos(up) * Math.sin(around), distance * Math.sin(up), distance * Math.cos(up) * Math.cos(around),
    );
    camera.lookAt([0, 0, 0]);
  }

  /**
   * The ray from the eye through a place of the picture.
   * @param {number} x from -1 at the left to 1
   * @param {number} y from -1 at the bottom to 1
   * @param {number} slope the tangent of half the angle of view, upright
   * @param {number} aspect width by height
   */
  ray(x, y, slope, aspect) {
    const { around, up, distance } = this.at;
    const back = [Math.cos(up) * Math.sin(around), Math.sin(up), Math.cos(up) * Math.cos(around)];
    const right = [Math.cos(around), 0, -Math.sin(around)];
    const above = [-Math.sin(up) * Math.sin(around), Math.cos(up), -Math.sin(up) * Math.cos(around)];
    return {
      eye: back.map((part) => part * distance),
      way: back.map((part, i) => -part + slope * (x * aspect * right[i] + y * above[i])),
    };
  }

  /** @param {PointerEvent} event */
  move(event) {
    const before = this.pointers.get(event.pointerId);
    if (!before) {
      this.pointed(event, false);
      return;
    }
    if (this.pressed && spread(this.pressed, event) < STILL) return;
    this.pressed = null;
    const other = [...this.pointers.values()].find((pointer) => pointer.pointerId !== event.pointerId);
    this.pointers.set(event.pointerId, event);
    if (other) this.zoom(spread(before, other) / Math.max(spread(event, other), 1));
    else this.turn(-(event.clientX - before.clientX) * TURN, (event.clientY - before.clientY) * TURN);
  }

  /**
   * @param {number} around radians
   * @param {number} up radians
   */
  turn(around, up) {
    this.at.around += around;
    this.at.up = Math.max(-1.5, Math.min(1.5, this.at.up + up));
    this.changed();
  }

  /**
   * Looks at what faces that way.
   * @param {ArrayLike<number>} way of length 1
   */
  face(way) {
    this.at.around = Math.atan2(way[0], way[2]);
    this.at.up = Math.max(-1.5, Math.min(1.5, Math.asin(Math.max(-1, Math.min(1, way[1])))));
    this.changed();
  }

  /** @param {number} factor of the distance */
  zoom(factor) {
    this.at.distance = Math.max(0.5, Math.min(12, this.at.distance * factor));
    this.changed();
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    switch (event.key) {
      case 'ArrowLeft': this.turn(-KEY_TURN, 0); break;
      case 'ArrowRight': this.turn(KEY_TURN, 0); break;
      case 'ArrowUp': this.turn(0, KEY_TURN); break;
      case 'ArrowDown': this.turn(0, -KEY_TURN); break;
      case '+': case '=': this.zoom(0.85); break;
      case '-': this.zoom(1 / 0.85); break;
      case 'Escape': /** @type {HTMLElement} */ (event.currentTarget).blur(); break;
      case '0': this.at = { ...START }; this.changed(); break;
      default: return;
    }
    event.preventDefault();
  }
}

/**
 * @param {PointerEvent} a
 * @param {PointerEvent} b
 */
function spread(a, b) {
  return Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY);
}
