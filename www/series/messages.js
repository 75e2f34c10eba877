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
 * @property {number[] | null} allowed the profiles that may stand here, null for any: from 0 where the worker is asked, by keys in the forms
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
 * @property {Float64Array} frame the middle (x, y, z) and what is 1, mm
 *
 * @typedef {object} Shop directions as the piece stands in space, z up
 * @property {number[]} draw
 * @property {'one' | 'two'} halves
 * @property {'outside' | 'inside'} toolSide
 * @property {number} mostLeft mm
 * @property {number} fillet mm, 0 for none
 * @property {number[]} sideways
 * @property {'middle' | 'inside' | 'outside'} sheetSide
 * @property {number} gauge mm
 * @property {number} density g/cm³
 * @property {number} leastDraft degrees
 * @property {number} mostBand mm
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
 * @property {boolean} isTitanium
 * @property {number} bendThick
 * @property {number} thick
 * @property {number} [flowStress]
 * @property {string[]} notes
 *
 * @typedef {'draft' | 'cutter' | 'scallop' | 'bend' | 'thinning' | 'pressure' | 'offset'} CheckKind
 *
 * @typedef {object} Check
 * @property {CheckKind} kind
 * @property {string} what
 * @property {string} worst
 * @property {string} limit
 * @property {number} limitValue
 * @property {boolean} atLeast
 * @property {string} unit
 * @property {string} kept
 * @property {boolean} passes
 * @property {string} basis
 * @property {string} side
 * @property {string} place
 * @property {number[]} at the worst place in space, mm, and the direction that the skin faces there; may be empty
 * @property {string} inputs what value and limit rest on
 * @property {string} formula
 * @property {string} source
 * @property {string} caution
 * @property {string[]} beside
 *
 * @typedef {object} Making
 * @property {{what: string, figure: string, note: string}[]} figures
 * @property {Check[]} checks
 * @property {{what: string, area: string, stretch: string, mean: string}[]} skins
 * @property {number} sharp how many sharp edges there are
 * @property {string[]} edges
 * @property {string} sides
 * @property {string[]} cautions
 *
 * @typedef {object} Reach how far the proof of the draft reaches
 * @property {Uint8Array} proofs 0 the least draft, 1 undercut, 2 neither
 * @property {number} wide
 * @property {number} high
 * @property {Float64Array} parting chords, mm
 * @property {boolean} isProved
 * @property {Pick<Check, 'passes' | 'kept' | 'side' | 'basis' | 'place' | 'at'> | null} band what the band beside the parting line makes of the check
 * @property {string[]} said
 *
 * @typedef {object} Room
 * @property {string} said
 * @property {boolean} passes
 * @property {string} worst the share of the room taken
 * @property {number[]} line both ends, mm; may be empty
 *
 * @typedef {object} BestDraw
 * @property {number[]} direction
 * @property {string} said
 *
 * @typedef {object} FinishWish
 * @property {number} nmPerVolt
 * @property {number} lowest
 * @property {number} highest
 * @property {number} start nm
 * @property {number} oxide
 * @property {number} aslant degrees
 * @property {number | undefined} linearTo V
 * @property {number | undefined} breakdown V
 * @property {number | undefined} rise V a second
 * @property {number | undefined} current A
 * @property {boolean} over
 * @property {{height: number, volts: number}[]} stops
 * @property {number} minutes
 * @property {number} rows
 *
 * @typedef {object} BathRow
 * @property {number} height
 * @property {number} volts
 * @property {string} time
 * @property {number} film
 * @property {[number, number]} range
 * @property {[string, string, string]} colours
 * @property {[string, string, string]} words
 * @property {[string, string]} aslant the colour and its word
 * @property {boolean | undefined} isLinear
 *
 * @typedef {object} Finish
 * @property {[number, number]} heights
 * @property {string[]} strip
 * @property {string[]} thinnest
 * @property {string[]} thickest
 * @property {string[]} aslant
 * @property {BathRow[]} rows
 * @property {string} csv
 * @property {string[]} said
 * @property {string[]} chart colours of films, one a nm
 * @property {number} chartTo nm
 * @property {string[]} cautions
 *
 * @typedef {object} Wished the films near a colour
 * @property {string} colour
 * @property {string} said
 * @property {{colour: string, said: string, volts: number}[]} films
 * @property {string[]} notes
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
 *   | {act: 'file', number: string, kind: FileKind, tolerance: number}
 *   | {act: 'select', text: string}
 *   | {act: 'pack', kinds: FileKind[], tolerance: number}
 *   | {act: 'packPiece', number: string}
 *   | {act: 'packed', wanted: number}
 *   | {act: 'making' | 'reach' | 'room', number: string, shop: Shop}
 *   | {act: 'map', number: string, shop: Shop, kind: CheckKind, steps: number, rows: number}
 *   | {act: 'bestDraw', number: string, shop: Shop}
 *   | {act: 'usualFinish', number: string}
 *   | {act: 'finish', number: string, finish: FinishWish}
 *   | {act: 'wished', finish: FinishWish, colour: string}
 *   | {act: 'calibrated', patch: {film: number, volts: number, percent: number}}} SeriesOrder
 */

export {};
