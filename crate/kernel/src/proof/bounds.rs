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
/// parameter t carries two roundings, and each of three arguments so off moves
/// the point by at most 2 · 2 M UNIT, 12 more: 27, say 64. A support then
/// carries √2 · 64 and 6 (two products, one sum); two supports and one
/// difference stay below 256; 512 is used.
pub const SEPARATION: f64 = 512.0 * UNIT;

/// A hodograph vector shorter than this share of its span's longest counts as
/// having no direction.
///
/// Over its span's longest its error is at most 24 UNIT per component (one
/// difference 1, two rounds of interpolation 10, two arguments 8, the share of
/// the span 3), and halvings on the way to a witness add 40 at most (see
/// [`TURN`]). So one that counts is turned by less than
/// 64 · √2 · UNIT / 1e-6 < 1.1e-8 radians.
pub const DIRECTION_SHARE: f64 = 1e-6;

/// Safety of every comparison of angles, in radians: nine times the error of a
/// direction, and far above the few UNIT that an arctangent and sums add.
pub const ANGLE: f64 = 1e-7;

/// The share of its scales that a product of two hodograph vectors must reach to
/// count as having a direction, which its error then turns by less than 1e-8
/// radians: a product a b, its scales s and t, is off by 256 UNIT of
/// |a| t + |b| s at most.
///
/// The vectors are off by 24 UNIT of their scale at first. A halving adds 2 UNIT
/// of the largest coefficient m then left. After k of them m is at most the
/// length sought, |a|, and 4 s / 2^k, as fast as a quadratic can grow from it;
/// 40 halvings add 16 UNIT s and 80 UNIT |a|. Two components make twice that of
/// |a| t + |b| s: 80 UNIT, and with |a| ≤ s, |b| ≤ t at most 160 more. The
/// products and their weighted sum take the rest.
pub const TURN: f64 = 256.0 * UNIT / 1e-8;

/// Bound on the error of a patch coefficient, per component, over its scale.
///
/// A root coefficient has at most 384 UNIT of the scale: the difference of two
/// points, 68; or six hodograph vectors, 144, and twenty roundings of sums up to
/// twelve times the scale. No coefficient exceeds K, six times the scale.
///
/// A split is three rounds of `a + (b - a) t`, each off by
/// UNIT (2 |b - a| + K). The differences begin with 2 K at most, and 17/32 of
/// them are left by each split along their direction: over all splits they add
/// 2 · 3 · 4 K · 32/15 < 52 K. [`MOST_SPLITS`] splits add 180 K, and as many cuts
/// along one edge in search of a witness 207 K by the same count. All of it is
/// below 3 100 UNIT of the scale; 8 192 is used, so that a length, √2 times as
/// much, and the rounding of a scalar product fit into twice the bound.
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
/// of a fifth, and stations scale it by a thousandth at least. Between these
/// two every product of the proof, of four lengths at most and of pieces down
/// to 2^-40 of a span, keeps clear of overflow and of numbers too small to have
/// their full precision.
pub const SHORTEST: f64 = 1e-6;

/// The tolerance, relative to the size: a box whose coefficients agree to this
/// is not cut further but left open as a contact.
pub const TOLERANCE: f64 = 1e-6;

/// Two places count as met, and vectors as opposed, when what is left is below
/// this share of the size: a tenth of what is promised of a witness.
pub const MET: f64 = 1e-10;

/// All boxes that one pair may use.
pub const MOST_BOXES: u32 = 200_000;

/// The boxes allowed after the first that stayed open: the pair cannot be
/// clear any more, so this is only the search for a witness.
pub const BOXES_AFTER_DOUBT: u32 = 3_000;

/// A limit angle is enforced this much late, in degrees, so that a turn of
/// exactly the limit has a verdict. It is more than twice the error of a
/// direction (1.1e-8 radians), so what is called beyond the limit is beyond it;
/// what is proved within it exceeds it by 3.3e-6 degrees at most.
pub const LIMIT_GRACE_DEGREES: f64 = 2e-6;

/// Bound on the error of one abscissa of a span and its Bernstein parts, over
/// the largest coordinate with the centre added.
pub const ABSCISSA: f64 = 1024.0 * UNIT;
