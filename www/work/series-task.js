// @ts-check
/**
 * The series beside the page: counted once for a family and its stations, then
 * asked for pieces, pictures, measures and files.
 */

/**
 * @typedef {object} SeriesAsked
 * @property {string} code the family's share code
 * @property {import('../series/messages.js').SeriesWish} wish
 * @property {import('../series/messages.js').SeriesOrder} order
 */

/** @type {{key: string, series: import('../loftkin_worker.js').Series | undefined, package: import('../loftkin_worker.js').Package | undefined}} */
const standing = { key: '', series: undefined, package: undefined };

/**
 * @param {import('../beside.js').WorkKernel} kernel
 * @param {SeriesAsked} asked
 */
export function performSeries(kernel, { code, wish, order }) {
  // These need no count.
  switch (order.act) {
    case 'begin': return { shop: kernel.usualShop(), materials: kernel.materials() };
    case 'encode': return kernel.seriesCode(wish, order.piece);
    case 'decode': return kernel.seriesOfCode(order.code);
    case 'write': return kernel.seriesFile(wish, order.piece);
    case 'read': return kernel.seriesOfFile(order.text);
    case 'calibrated': return kernel.calibrated(order.patch);
    case 'wished': return kernel.wished(order.finish, order.colour);
  }
  const series = counted(kernel, code, wish);
  switch (order.act) {
    case 'count': return { count: series.count(), sketch: sketched(series.sketch(order.steps)) };
    case 'piece': return series.piece(order.number);
    case 'pieceOf': return series.pieceOf(Uint32Array.from(order.arrangement));
    case 'choose': return series.choose(order.seed, order.wanted);
    case 'picture': return plain(series.picture(order.number, order.steps, order.rows));
    case 'making': return series.making(order.number, order.shop);
    case 'map': return series.map(order.number, order.shop, order.kind, order.steps, order.rows);
    case 'reach': return plainReach(series.reach(order.number, order.shop));
    case 'room': return series.room(order.number, order.shop);
    case 'bestDraw': return series.bestDraw(order.number, order.shop);
    case 'usualFinish': return series.usualFinish(order.number);
    case 'finish': return series.finish(order.number, order.finish);
    case 'file': return series.file(order.number, order.kind, order.tolerance);
    case 'select': return series.selected(order.text);
    case 'pack': return beginPackage(kernel, order.kinds, order.tolerance);
    case 'packPiece': return pack(begun(), series, order.number);
    case 'packed': return begun().finish(series, order.wanted);
  }
}

/**
 * @param {import('../beside.js').WorkKernel} kernel
 * @param {string} code
 * @param {import('../series/messages.js').SeriesWish} wish
 */
function counted(kernel, code, wish) {
  const key = JSON.stringify([code, wish]);
  if (standing.series && standing.key === key) return standing.series;
  standing.series?.free();
  standing.series = undefined;
  standing.series = new kernel.Series(code, wish);
  standing.key = key;
  return standing.series;
}

/** @param {import('../loftkin_worker.js').PicturePoints} picture */
function plain(picture) {
  const message = { points: picture.points(), facing: picture.facing(), along: picture.along(), across: picture.across(), stations: picture.stations(), frame: picture.frame() };
  picture.free();
  return message;
}

/** @param {import('../loftkin_worker.js').SketchPoints} sketch */
function sketched(sketch) {
  const message = { sections: sketch.sections(), levels: sketch.levels(), stations: sketch.stations() };
  sketch.free();
  return message;
}

/**
 * @param {import('../beside.js').WorkKernel} kernel
 * @param {import('../series/messages.js').FileKind[]} kinds
 * @param {number} tolerance
 */
function beginPackage(kernel, kinds, tolerance) {
  standing.package = new kernel.Package(kinds, tolerance);
}

function begun() {
  if (!standing.package) throw new Error('no zip is begun');
  return standing.package;
}

/**
 * @param {import('../loftkin_worker.js').Package} zip
 * @param {import('../loftkin_worker.js').Series} series
 * @param {string} number
 */
function pack(zip, series, number) {
  const problems = zip.add(series, number);
  return { bytes: zip.take(), problems };
}
/** @param {import('../loftkin_worker.js').DraftReach} reach */
function plainReach(reach) {
  const message = { proofs: reach.proofs(), wide: reach.wide(), high: reach.high(), parting: reach.parting(), isProved: reach.isProved(), band: reach.band(), said: reach.said() };
  reach.free();
  return message;
}
