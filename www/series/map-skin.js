// @ts-check
/**
 * The skin of a piece as a map: coloured on both sides of a limit, so that the
 * sides differ by hue and, for every eye, by stripes; the limit itself a line.
 */
import { Color, Program, Texture } from 'ogl';

/** The share of a place without a value. */
export const NO_VALUE = -3;

/**
 * Shares run from -1, worst, over 0, the limit, to 1, best. Where proofs are
 * told, 1 is crossed by two sets of lines and 2 is dotted. Passes of a cutter
 * are thin lines at whole numbers of a coordinate.
 */
const SHADERS = {
  vertex: `#version 300 es
    in vec3 position, normal;
    in vec2 place;
    in float share;
    uniform mat4 modelViewMatrix, projectionMatrix;
    uniform mat3 normalMatrix;
    uniform vec4 passes;
    out vec3 across;
    out vec2 at;
    out float kept, pass;
    void main() {
      at = place;
      kept = share;
      pass = dot(passes.xyz, position) + passes.w;
      across = normalMatrix * normal;
      gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
    }`,
  fragment: `#version 300 es
    precision highp float;
    in vec3 across;
    in vec2 at;
    in float kept, pass;
    uniform vec3 best, middle, worst, none, ink;
    uniform float second, ratio, proving, every;
    uniform sampler2D proofs;
    out vec4 painted;
    const vec3 light = normalize(vec3(0.15, 0.45, 1.0));
    float stripes(float along) {
      float way = abs(fract(along / (9.0 * ratio)) - 0.5);
      return smoothstep(0.33, 0.37, way);
    }
    float line(float value, float wide) {
      float step = fwidth(value);
      return step < 1e-6 ? 0.0 : 1.0 - smoothstep(wide * 0.5, wide * 0.5 + 1.0, abs(value) / step / ratio);
    }
    void main() {
      float size = length(across);
      float shade = size < 1e-6 ? 0.6 : 0.7 + 0.3 * abs(dot(across / size, light));
      bool known = -1.5 < kept;
      float far = pow(min(abs(kept), 1.0), 0.75);
      vec3 colour = known ? mix(middle, kept < 0.0 ? worst : best, far) : none;
      int proof = int(texture(proofs, at).r * 255.0 + 0.5);
      vec2 screen = gl_FragCoord.xy;
      if (known && kept < 0.0 && every == 0.0) colour = mix(colour, ink, 0.3 * stripes(screen.x + screen.y));
      if (0.5 < proving) {
        if (proof == 1) colour = mix(colour, ink, 0.5 * stripes(screen.x - screen.y));
        vec2 cell = fract(screen / (8.0 * ratio)) - 0.5;
        if (proof == 2) colour = mix(colour, ink, 0.75 * (1.0 - smoothstep(0.14, 0.22, length(cell))));
      }
      if (0.0 < every) {
        float off = abs(fract(pass / every - 0.5) - 0.5) * every / max(fwidth(pass), 1e-6) / ratio;
        colour = mix(colour, ink, 0.5 * (1.0 - smoothstep(0.3, 1.1, off)));
      }
      if (known) colour = mix(colour, ink, max(line(kept, 1.4), -1.5 < second ? 0.7 * line(kept - second, 0.6) : 0.0));
      painted = vec4(colour * shade, 1.0);
    }`,
};

export class MapSkin {
  /** @param {import('ogl').OGLRenderingContext} gl */
  constructor(gl) {
    this.gl = gl;
    this.inks = Object.fromEntries(['best', 'middle', 'worst', 'none', 'ink'].map((name) => [name, { value: new Color() }]));
    this.rest = {
      second: { value: NO_VALUE }, ratio: { value: 1 }, proving: { value: 0 }, every: { value: 0 }, passes: { value: [0, 0, 0, 0] },
      proofs: { value: texture(gl, new Uint8Array(1), 1, 1) },
    };
    this.program = new Program(gl, { ...SHADERS, cullFace: false, uniforms: { ...this.inks, ...this.rest } });
  }

  /** @param {(name: string) => string} colour of a style property */
  paint(colour) {
    for (const [name, property] of Object.entries({ best: '--saddle', middle: '--skin-flat', worst: '--dome', none: '--sibling', ink: '--text' })) {
      this.inks[name].value = new Color(colour(property));
    }
  }

  /** @param {{proofs: Uint8Array, wide: number, high: number} | undefined} reach what is proved where */
  setReach(reach) {
    this.rest.proving.value = Number(Boolean(reach));
    this.gl.deleteTexture(this.rest.proofs.value.texture);
    this.rest.proofs.value = reach ? texture(this.gl, reach.proofs, reach.wide, reach.high) : texture(this.gl, new Uint8Array(1), 1, 1);
  }
}

/**
 * @param {import('ogl').OGLRenderingContext} gl
 * @param {Uint8Array} image
 * @param {number} width
 * @param {number} height
 */
function texture(gl, image, width, height) {
  const { RED: format, R8: internalFormat, NEAREST: near } = /** @type {WebGL2RenderingContext} */ (gl);
  return new Texture(gl, { image, width, height, format, internalFormat, unpackAlignment: 1, flipY: false, generateMipmaps: false, minFilter: near, magFilter: near });
}
