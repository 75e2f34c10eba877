// @ts-check
/**
 * The shaders of the loft's picture, in GLSL ES 3.00: a lit skin and lines of
 * a width in pixels. Colours leave them multiplied by their opacity.
 */

/**
 * The skin, lit from the viewer's shoulder by the direction that the surface
 * itself faces, not that of its triangles. Its back is darker than its front,
 * so that skin turned over shows. Rulings and sections at even fractions are
 * drawn on it as thin lines. At a singular point it faces nowhere and is dark.
 */
export const SKIN = {
  vertex: `#version 300 es
    in vec3 position, normal, colour;
    in vec2 place;
    uniform mat4 modelViewMatrix, projectionMatrix;
    uniform mat3 normalMatrix;
    out vec3 ink, across, eye;
    out vec2 at;
    void main() {
      ink = colour;
      at = place;
      across = normalMatrix * normal;
      vec4 seen = modelViewMatrix * vec4(position, 1.0);
      eye = seen.xyz;
      gl_Position = projectionMatrix * seen;
    }`,
  fragment: `#version 300 es
    precision highp float;
    in vec3 ink, across, eye;
    in vec2 at;
    uniform float grid;
    out vec4 painted;
    const vec3 light = normalize(vec3(0.15, 0.45, 1.0));
    const vec2 lines = vec2(24.0, 10.0);
    void main() {
      float size = length(across);
      vec3 facing = size < 1e-6 ? vec3(0.0) : across / size;
      float shade = 0.42 + 0.58 * abs(dot(facing, light));
      if (0.0 < dot(facing, eye)) shade *= 0.8;
      vec2 off = abs(fract(at * lines - 0.5) - 0.5) / max(fwidth(at * lines), vec2(1e-6));
      float line = grid * (1.0 - clamp(min(off.x, off.y) - 0.1, 0.0, 1.0));
      painted = vec4(ink * shade * (1.0 - 0.28 * line), 1.0) * 0.94;
    }`,
};

/**
 * Chords with round ends: a rectangle about each, as wide as asked, cut to
 * the points nearer to the chord than half the width. A chord without length
 * is a disc.
 */
export const LINE = {
  vertex: `#version 300 es
    in vec2 corner;
    in vec3 start, end;
    uniform mat4 modelViewMatrix, projectionMatrix;
    uniform vec2 size;
    uniform float width;
    out vec2 at;
    flat out float run;
    // In front of the viewer by a little, or the perspective would turn it over.
    const float nearest = -0.06;
    vec3 before(vec3 a, vec3 b) {
      return nearest < a.z && b.z < nearest ? mix(a, b, (a.z - nearest) / (a.z - b.z)) : a;
    }
    void main() {
      vec3 a = (modelViewMatrix * vec4(start, 1.0)).xyz;
      vec3 b = (modelViewMatrix * vec4(end, 1.0)).xyz;
      vec4 from = projectionMatrix * vec4(before(a, b), 1.0);
      vec4 to = projectionMatrix * vec4(before(b, a), 1.0);
      vec2 way = (to.xy / to.w - from.xy / from.w) * 0.5 * size;
      run = length(way);
      vec2 along = run < 1e-4 ? vec2(1.0, 0.0) : way / run;
      vec2 side = vec2(-along.y, along.x);
      float reach = 0.5 * width + 1.0;
      vec2 aside = along * corner.x * reach + side * corner.y * reach;
      bool atEnd = 0.0 < corner.x;
      at = vec2(corner.x * reach + (atEnd ? run : 0.0), corner.y * reach);
      vec4 place = atEnd ? to : from;
      place.xy += aside / size * 2.0 * place.w;
      // A line that lies on the skin is seen on it.
      place.z -= 0.002 * place.w;
      gl_Position = place;
    }`,
  fragment: `#version 300 es
    precision highp float;
    in vec2 at;
    flat in float run;
    uniform vec3 colour;
    uniform float width;
    out vec4 painted;
    void main() {
      float away = length(vec2(at.x - clamp(at.x, 0.0, run), at.y));
      float cover = clamp(0.5 * width + 0.5 - away, 0.0, 1.0);
      if (cover == 0.0) discard;
      painted = vec4(colour, 1.0) * cover;
    }`,
};
