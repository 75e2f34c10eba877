//! Every tolerance and rounding bound of the proof, each with its reason.
//!
//! Bounds are derived for f64 with rounding to nearest and for curves centred
//! on their bounding box. They err to "unproven". No other module of the proof
//! holds a small number of its own.

/// Half a unit in the last place of 1: the relative error of one operation.
const UNIT: f64 = f64::EPSILON / 2.0;

/// Bound on the error of a separation `min d·X - max d·Y`, over the largest
/// coordinate M of the curve, for |d| ≤ 1.
///
/// A control point of a stretch is one blossom: three rounds of
/// `a + (b - a) t`. One such step adds at most 5 UNIT M per component
/// (difference and product up to 2 M, sum up to M), three add 15; the local
/// parameter t carries one rounding and moves the point by at most
/// 3 · 2 M · UNIT for each of three arguments, 18 more: 33, say 64. A support
/// then carries √2 · 64 and 6 (two products, one sum); two supports and one
/// difference stay below 256; 512 is used.
pub const SEPARATION: f64 = 512.0 * UNIT;

/// A hodograph vector shorter than this share of its span's longest counts as
/// having no direction. Its error is at most 64 UNIT of the longest (two
/// rounds of interpolation, one difference), so a vector that counts is turned
/// by less than 64 · √2 · UNIT / 1e-6 < 1.1e-8 radians.
pub const DIRECTION_SHARE: f64 = 1e-6;

/// Safety of every comparison of angles, in radians: ten times the error of a
/// direction, and far above the few UNIT that an arctangent and sums add.
pub const ANGLE: f64 = 1e-7;

/// The share of its scales that a product of two hodograph vectors must reach
/// to count as having a direction: an error of 128 UNIT of the scales (64 √2
/// for the vectors, the rest for the product) then turns it by less than 1e-8
/// radians, as [`DIRECTION_SHARE`] does for a vector.
pub const TURN: f64 = 128.0 * UNIT / 1e-8;

/// Bound on the error of a patch coefficient, per component, over its scale.
///
/// A root coefficient has at most 3 · 128 UNIT of the scale (differences of
/// points, or sums of up to six hodograph vectors). A split is three rounds of
/// `a + (b - a) t`, 15 UNIT of the largest coefficient, itself at most 6 times
/// the scale; [`MOST_SPLITS`] of them are 5 400. 8 192 is used.
pub const PATCH: f64 = 8192.0 * UNIT;

/// The most splits of one patch: the bound [`PATCH`] counts on it.
pub const MOST_SPLITS: u8 = 60;

/// Bound on the rounding of one complex product and a sum of at most 16 such,
/// over the product of the largest lengths.
pub const PRODUCT: f64 = 128.0 * UNIT;

/// No coordinate about the centre may lie further out, in grid steps: what is
/// drawn stays below 1e8, and stations scale it by 1000 at most.
pub const FURTHEST: f64 = 1e12;

/// No span may have all its steps shorter, in grid steps: what is drawn has one
/// of a quarter, and stations scale it by a thousandth at least. Between these
/// two every product of the proof, of four lengths at most and of pieces down
/// to 2^-40 of a span, keeps clear of overflow and of numbers too small to have
/// their full precision.
pub const SHORTEST: f64 = 1e-6;

/// The tolerance, relative to the size: a box whose coefficients agree to this
/// is not cut further but left open as a contact.
pub const TOLERANCE: f64 = 1e-6;

/// All boxes that one pair may use.
pub const MOST_BOXES: u32 = 200_000;

/// The boxes allowed after the first that stayed open: the pair cannot be
/// clear any more, so this is only the search for a witness.
pub const BOXES_AFTER_DOUBT: u32 = 3_000;

/// A limit angle is enforced this much late, in degrees, so that a turn of
/// exactly the limit has a verdict. It is more than twice the error of a
/// direction (1.1e-8 radians), so what is called beyond the limit is beyond it.
pub const LIMIT_GRACE_DEGREES: f64 = 2e-6;

/// Bound on the error of one abscissa of a span and its Bernstein parts, over
/// the largest coordinate with the centre added.
pub const ABSCISSA: f64 = 1024.0 * UNIT;
