// @ts-check
/**
 * Lines of a width in pixels in the loft's picture, and points as discs.
 */
import { Color, Geometry, Mesh, Program } from 'ogl';
import { LINE } from './shaders.js';

/** Both ends of a chord, both sides of it, as a strip of two triangles. */
const CORNERS = new Float32Array([-1, -1, -1, 1, 1, -1, 1, 1]);

/** Bytes from one chord to the next, and within it to its end. */
const CHORD = 24;
const END = 12;

export class Line {
  /**
   * @param {import('ogl').OGLRenderingContext} gl
   * @param {number} width pixels
   * @param {{hidden: boolean, order: number}} options whether the skin hides it, and when it is drawn
   */
  constructor(gl, width, { hidden, order }) {
    this.gl = gl;
    this.width = width;
    this.ratio = 1;
    this.times = 1;
    this.size = { value: [1, 1] };
    this.wide = { value: width };
    this.ink = { value: new Color() };
    const program = new Program(gl, {
      ...LINE, transparent: true, cullFace: false, depthTest: hidden, depthWrite: false,
      uniforms: { size: this.size, width: this.wide, colour: this.ink },
    });
    this.mesh = new Mesh(gl, { geometry: chordGeometry(gl, new Float32Array(6)), program, mode: gl.TRIANGLE_STRIP, frustumCulled: false, renderOrder: order });
    this.mesh.visible = false;
  }

  /** @param {string} colour as #rrggbb */
  paint(colour) {
    this.ink.value = new Color(colour);
  }

  /**
   * The size of the picture.
   * @param {number} width pixels of the screen
   * @param {number} height pixels of the screen
   * @param {number} ratio of them to the pixels of the page
   */
  fit(width, height, ratio) {
    this.size.value = [width, height];
    this.ratio = ratio;
    this.wide.value = this.width * ratio * this.times;
  }

  /** @param {number} times as wide as by itself */
  thicken(times) {
    this.times = times;
    this.wide.value = this.width * this.ratio * times;
  }

  /** @param {Float32Array} chords x, y, z of both ends of each */
  setChords(chords) {
    this.mesh.visible = 0 < chords.length;
    if (!this.mesh.visible) return;
    this.mesh.geometry.remove();
    this.mesh.geometry = chordGeometry(this.gl, chords);
  }

  /** @param {Float32Array} points a polyline: x, y, z of each */
  setPoints(points) {
    const chords = new Float32Array(Math.max(0, 2 * points.length - 6));
    for (let i = 0; i + 3 < points.length; i += 3) chords.set(points.subarray(i, i + 6), 2 * i);
    this.setChords(chords);
  }

  /** @param {Float32Array} points x, y, z of each, shown as discs */
  setDiscs(points) {
    const chords = new Float32Array(2 * points.length);
    for (let i = 0; i + 2 < points.length; i += 3) {
      chords.set(points.subarray(i, i + 3), 2 * i);
      chords.set(points.subarray(i, i + 3), 2 * i + 3);
    }
    this.setChords(chords);
  }
}

/**
 * @param {import('ogl').OGLRenderingContext} gl
 * @param {Float32Array} chords
 */
function chordGeometry(gl, chords) {
  return new Geometry(gl, {
    corner: { size: 2, data: CORNERS },
    start: { size: 3, data: chords, instanced: 1, stride: CHORD },
    end: { size: 3, data: chords, instanced: 1, stride: CHORD, offset: END },
  });
}
