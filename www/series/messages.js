// @ts-check
/**
 * The shapes of what the series asks for and is told, for the type checker
 * only. Piece numbers and counts are decimal text: they pass all numbers that
 * JavaScript holds exactly.
 *
 * @typedef {object} StationWish
 * @property {number} at height in mm, or angle in degrees
 * @property {number} scale
 * @property {number} right mm
 * @property {number} up mm
 * @property {number} turn degrees
 * @property {number[] | null} allowed the profiles that may stand here, from 0; null for any
 *
 * @typedef {object} SeriesWish
 * @property {boolean} ring
 * @property {boolean} allRound
 * @property {StationWish[]} stations
 * @property {'ruled' | 'eased' | 'b-spline-2' | 'b-spline-3'} blend
 * @property {boolean} noEqualNeighbours
 *
 * @typedef {{code: string, wish: SeriesWish}} Counted a family and the stations that are counted for it
 *
 * @typedef {object} Count
 * @property {string} count
 * @property {string} [turning]
 * @property {string} [mirroring]
 * @property {string} apart
 * @property {string} [empty]
 * @property {string} grounds
 *
 * @typedef {object} Piece
 * @property {string} number from 1
 * @property {number[]} arrangement the profile at each station, from 0
 *
 * @typedef {object} SketchPoints
 * @property {Float32Array} sections x and y of each profile's points at each station, mm
 * @property {Float32Array} levels 17 numbers a level: its plane in space, the stations that weigh on it, their weights
 * @property {Uint32Array} stations the levels nearest to the stations
 *
 * @typedef {object} Picture
 * @property {Float32Array} points
 * @property {Float32Array} facing
 * @property {Float64Array} along
 * @property {Float64Array} across
 * @property {Float32Array} stations
 *
 * @typedef {object} Shop
 * @property {'up' | 'right' | 'back'} draw
 * @property {number} gauge mm
 * @property {number} density g/cm³
 * @property {number} leastDraft degrees
 * @property {number} cutter mm
 * @property {number} stepOver mm
 * @property {number} mostScallop mm
 * @property {number} bendGauges
 * @property {number} leastGauge mm
 * @property {number} flowStress MPa
 * @property {number} mostPressure MPa
 *
 * @typedef {object} Material
 * @property {string} name
 * @property {number} density
 * @property {number} bend
 * @property {number} bendThick
 * @property {number} thick
 * @property {number} [flowStress]
 * @property {string[]} notes
 *
 * @typedef {object} Making
 * @property {{what: string, figure: string, note: string}[]} figures
 * @property {{what: string, worst: string, limit: string, passes: boolean, basis: string, place: string, formula: string, source: string, caution: string}[]} checks
 * @property {string[]} cautions
 *
 * @typedef {'step' | '3mf' | 'stl' | 'gltf' | 'profiles' | 'trim' | 'flat'} FileKind
 *
 * @typedef {{wish: SeriesWish, piece?: string}} SeriesDocument a series as it is kept
 *
 * @typedef {{act: 'begin'}
 *   | {act: 'encode', piece?: string}
 *   | {act: 'decode', code: string}
 *   | {act: 'write', piece?: string}
 *   | {act: 'read', text: string}
 *   | {act: 'count', steps: number}
 *   | {act: 'piece', number: string}
 *   | {act: 'pieceOf', arrangement: number[]}
 *   | {act: 'choose', seed: number, wanted: number}
 *   | {act: 'picture', number: string, steps: number, rows: number}
 *   | {act: 'making', number: string, shop: Shop}
 *   | {act: 'file', number: string, kind: FileKind, tolerance: number}
 *   | {act: 'select', text: string}
 *   | {act: 'pack', kinds: FileKind[], tolerance: number}
 *   | {act: 'packPiece', number: string}
 *   | {act: 'packed'}} SeriesOrder
 */

export {};
