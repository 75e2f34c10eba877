// @ts-check
/**
 * The canvas of the board: passes pointers and keys on, and paints when told.
 *
 * Mouse, pen and touch come as pointer events; two fingers pinch. The wheel
 * zooms, the space bar or the middle button pans.
 */
import { keyAct } from './keys.js';

/** Zoom for one pixel of the wheel. */
const WHEEL = 0.0016;

export class BoardView {
  /**
   * @param {HTMLCanvasElement} canvas
   * @param {import('../page/controller.js').Controller} controller
   */
  constructor(canvas, controller) {
    this.canvas = canvas;
    this.controller = controller;
    this.board = controller.board;
    this.space = false;
    this.context = /** @type {CanvasRenderingContext2D} */ (canvas.getContext('2d'));
    new ResizeObserver(() => this.fitToPage()).observe(canvas);
    canvas.addEventListener('pointerdown', (event) => this.press(event));
    canvas.addEventListener('pointermove', (event) => this.steer(event));
    canvas.addEventListener('pointerup', (event) => this.release(event));
    canvas.addEventListener('pointercancel', () => controller.act(() => this.board.abandon()));
    canvas.addEventListener('wheel', (event) => this.wheel(event), { passive: false });
    canvas.addEventListener('keydown', (event) => this.key(event));
    canvas.addEventListener('keyup', (event) => { if (event.key === ' ') this.space = false; });
    canvas.addEventListener('blur', () => { this.space = false; });
    canvas.addEventListener('contextmenu', (event) => event.preventDefault());
  }

  /** Sharp on every screen: as many pixels as the screen has. */
  fitToPage() {
    const { clientWidth: width, clientHeight: height } = this.canvas;
    if (!width || !height) return;
    const ratio = window.devicePixelRatio || 1;
    this.canvas.width = Math.round(width * ratio);
    this.canvas.height = Math.round(height * ratio);
    this.context.setTransform(ratio, 0, 0, ratio, 0, 0);
    const first = !this.sized;
    this.sized = true;
    this.controller.act(() => {
      this.board.resize(width, height);
      if (first) this.board.fit();
    });
  }

  paint() {
    this.board.paint(this.context);
    this.canvas.style.cursor = this.cursor();
  }

  cursor() {
    if (this.space) return 'grab';
    if (this.board.hand() !== 0) return 'crosshair';
    return this.board.isOverSomething() ? 'pointer' : 'default';
  }

  /** @param {PointerEvent} event */
  pointer(event) {
    const { left, top } = this.canvas.getBoundingClientRect();
    const panning = this.space || event.button === 1;
    return new this.controller.kernel.BoardPointer(
      event.pointerId, event.clientX - left, event.clientY - top,
      event.pointerType === 'touch', event.shiftKey, panning, event.timeStamp,
    );
  }

  /**
   * @param {PointerEvent} event
   * @param {(pointer: import('../loftkin_page.js').BoardPointer) => string | void | undefined} act
   */
  pass(event, act) {
    const pointer = this.pointer(event);
    try {
      this.controller.act(() => act(pointer));
    } finally {
      pointer.free();
    }
  }

  /** @param {PointerEvent} event */
  press(event) {
    if (event.button === 2) return;
    event.preventDefault();
    this.canvas.focus({ preventScroll: true });
    this.canvas.setPointerCapture(event.pointerId);
    this.pass(event, (pointer) => this.board.press(pointer));
  }

  /** @param {PointerEvent} event */
  steer(event) {
    this.pass(event, (pointer) => this.board.steer(pointer));
  }

  /** @param {PointerEvent} event */
  release(event) {
    this.pass(event, (pointer) => this.board.release(pointer));
  }

  /** @param {WheelEvent} event */
  wheel(event) {
    event.preventDefault();
    const { left, top } = this.canvas.getBoundingClientRect();
    const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1;
    const factor = Math.exp(-event.deltaY * lines * WHEEL);
    this.controller.act(() => this.board.zoomAt(event.clientX - left, event.clientY - top, factor));
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    if (event.key === ' ') {
      this.space = true;
      event.preventDefault();
      return;
    }
    const act = keyAct(event, this.board);
    if (!act) return;
    event.preventDefault();
    this.controller.act(act);
  }
}
