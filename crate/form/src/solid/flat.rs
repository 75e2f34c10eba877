//! Skins laid flat without stretch, band by band where that can be, and how far the
//! sheet is folded at their corners and from band to band.
//!
//! A ruled skin between parallel planes can be laid flat exactly when the tangents
//! of the two outlines are parallel at like points: det(c', X, X') = 0 with ruling
//! X = (B - A, h) and c' = A' is h A' x B' = 0 (Kühnel, Differential Geometry,
//! ruled surfaces: developable). So the twist must vanish, as it does between an
//! outline and the same one scaled or shifted: a cone or a cylinder. Any other
//! skin would have to stretch, and no pattern is given for it: its strip of
//! triangles could be laid flat as well, but which diagonals it has then decides the
//! pattern, and no finer strip brings the two patterns together. The sheet must take
//! up their difference by stretch, which bending does not give; so a pattern with a
//! figure of misfit would look surer than it is, and templates are drawn instead. A
//! ring's skin and eased or B-spline blends curve both ways and are not tried.
//!
//! The pattern is the strip of triangles between points of the two outlines, laid
//! flat with its edge lengths: an estimate whose chords keep within a stated
//! distance of the outlines. Whether a pattern laps over itself is not checked.
//!
//! A fold is told by the angle between the planes that touch the skin on both sides
//! of it, 0 where the sheet runs on flat. Along a ruling it is the same everywhere;
//! along a station it is told from its least to its most at the points of the
//! pattern. It is positive where the sheet rises to the side that S_u x S_v points to.

use super::net::{Band, Net, cubic};
use nalgebra::{Point2, Point3, Vector2, Vector3};

/// A skin counts as flat up to this twist, as a sine: a ten-thousandth of a degree,
/// below what rounding an imported path to its grid leaves.
const FLAT_TWIST: f64 = 2e-6;
/// How far chords of the pattern may stand off the outline, mm.
pub const CHORD: f64 = 0.002;
/// The most steps of one span.
const MOST_STEPS: f64 = 4096.0;

/// One band laid flat, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Pattern {
    /// Which band, from 0.
    pub band: usize,
    /// The edge at the lower station.
    pub lower: Vec<Point2<f64>>,
    /// The edge at the upper station; like points of both are joined by rulings.
    pub upper: Vec<Point2<f64>>,
    /// Where the sheet is bent along a ruling, at inner corners of the outline;
    /// ascending.
    pub bends: Vec<Bend>,
}

/// A bend along a ruling.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bend {
    /// Which like points it joins.
    pub at: usize,
    /// How far the sheet is folded, degrees; positive upward.
    pub fold: f64,
}

/// How two bands meet at a station.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    /// How far the sheet is folded along it at least and at most, degrees; positive
    /// upward.
    pub folds: [f64; 2],
}

/// What laying a skin flat comes to.
#[derive(Clone, Debug, PartialEq)]
pub enum Flat {
    /// Bands between parallel planes.
    Bands(Bands),
    /// A ring, or a blend that is not ruled.
    NotRuled,
}

/// The bands of a ruled skin.
#[derive(Clone, Debug, PartialEq)]
pub struct Bands {
    /// Those that lie flat, in order; a closed outline is cut open at its seam.
    pub patterns: Vec<Pattern>,
    /// Those whose rulings twist, from 0: they cannot be laid flat without stretch.
    pub twisted: Vec<usize>,
    /// How each band meets the next, one less than bands.
    pub joints: Vec<Joint>,
}

/// Lays the skin of `net` flat.
pub fn lay(net: &Net) -> Flat {
    if net.is_ring() || net.bands.iter().any(|band| band.degree() != 1) {
        return Flat::NotRuled;
    }
    let all = 0..net.bands.len();
    let (flat, twisted): (Vec<usize>, Vec<usize>) =
        all.partition(|&index| is_flat(&net.bands[index], net.spans()));
    let patterns = flat.into_iter();
    Flat::Bands(Bands {
        patterns: patterns
            .map(|index| pattern(index, &net.bands[index], net))
            .collect(),
        twisted,
        joints: net
            .bands
            .windows(2)
            .map(|two| joint(&two[0], &two[1], net.spans()))
            .collect(),
    })
}

/// Whether the tangents are parallel at like points: all Bernstein coefficients of
/// A' x B' stay below the twist allowed, measured by the sizes of A' and B'.
fn is_flat(band: &Band, spans: usize) -> bool {
    (0..spans).all(|span| {
        let legs = |row: usize| {
            let chain = &band.rows[row][3 * span..3 * span + 4];
            [0, 1, 2].map(|i| chain[i + 1] - chain[i])
        };
        let (a, b) = (legs(0), legs(1));
        let size = |legs: [Vector2<f64>; 3]| legs.iter().fold(0.0, |m: f64, leg| m.max(leg.norm()));
        let allowed = FLAT_TWIST * size(a) * size(b);
        // Coefficients of a product of two quadratics in Bernstein form.
        let products = [
            a[0].perp(&b[0]),
            (a[0].perp(&b[1]) + a[1].perp(&b[0])) / 2.0,
            (a[0].perp(&b[2]) + 4.0 * a[1].perp(&b[1]) + a[2].perp(&b[0])) / 6.0,
            (a[1].perp(&b[2]) + a[2].perp(&b[1])) / 2.0,
            a[2].perp(&b[2]),
        ];
        let same_way = 0.0 < a.iter().zip(&b).map(|(a, b)| a.dot(b)).sum();
        same_way && products.iter().all(|product| product.abs() <= allowed)
    })
}

fn pattern(index: usize, band: &Band, net: &Net) -> Pattern {
    let steps: Vec<usize> = (0..net.spans()).map(|span| steps(band, span)).collect();
    let [lower, upper] = [0, 1].map(|row| -> Vec<Point3<f64>> {
        let height = band.places[row];
        let section = points(&band.rows[row], &steps).into_iter();
        section.map(|at| Point3::new(at.x, at.y, height)).collect()
    });
    let mut flat = Pattern {
        band: index,
        lower: vec![Point2::origin()],
        upper: vec![Point2::new(0.0, (upper[0] - lower[0]).norm())],
        bends: bends(band, &steps),
    };
    for i in 1..lower.len() {
        let (a, b) = (flat.lower[i - 1], flat.upper[i - 1]);
        let near = apex(
            a,
            b,
            (lower[i] - lower[i - 1]).norm(),
            (lower[i] - upper[i - 1]).norm(),
        );
        let far = apex(
            near,
            b,
            (upper[i] - lower[i]).norm(),
            (upper[i] - upper[i - 1]).norm(),
        );
        flat.lower.push(near);
        flat.upper.push(far);
    }
    flat
}

/// The point at `from_a` from a and `from_b` from b, to the right of a to b.
fn apex(a: Point2<f64>, b: Point2<f64>, from_a: f64, from_b: f64) -> Point2<f64> {
    let base = b - a;
    let length = base.norm();
    let on = (from_a * from_a - from_b * from_b + length * length) / (2.0 * length);
    // Rounding may make it slightly negative where the three stand in line.
    let off = libm::sqrt((from_a * from_a - on * on).max(0.0));
    a + (base * on + Vector2::new(base.y, -base.x) * off) / length
}

/// How many steps of a span keep the chords of both outlines within [`CHORD`]:
/// the second derivative is at most 6 times the second differences.
fn steps(band: &Band, span: usize) -> usize {
    let bent = band.rows.iter().fold(0.0, |most: f64, chain| {
        let c = &chain[3 * span..3 * span + 4];
        let bend = |i: usize| (c[i + 2] - c[i + 1] - (c[i + 1] - c[i])).norm();
        most.max(6.0 * bend(0).max(bend(1)))
    });
    libm::ceil(libm::sqrt(bent / (8.0 * CHORD))).clamp(1.0, MOST_STEPS) as usize
}

/// The points of an outline with so many steps in each span.
fn points(chain: &[Point2<f64>], steps: &[usize]) -> Vec<Point2<f64>> {
    let mut points = vec![chain[0]];
    for (span, &count) in steps.iter().enumerate() {
        let controls = &chain[3 * span..3 * span + 4];
        points.extend((1..=count).map(|step| cubic(controls, step as f64 / count as f64)));
    }
    points
}

/// The bends at inner joints at which the outline really turns: by more than half a
/// degree, for a joint may be broken in its speed alone.
fn bends(band: &Band, steps: &[usize]) -> Vec<Bend> {
    const TURNS: f64 = 0.0087;
    let chain = &band.rows[0];
    let mut point = 0;
    let mut bends = Vec::new();
    for joint in 1..steps.len() {
        point += steps[joint - 1];
        let [before, after] = tangents(chain, joint);
        let turned = libm::atan2(before.perp(&after), before.dot(&after));
        if TURNS < turned.abs() {
            let ruling = ruling(band, |row| row[3 * joint]);
            let flaps = [before, after].map(|along| along.push(0.0));
            // From one flap to the next the pattern runs to the right of the ruling.
            bends.push(Bend {
                at: point,
                fold: -fold(ruling, flaps),
            });
        }
    }
    bends
}

/// From the lower outline to the upper one at like points.
fn ruling(band: &Band, point: impl Fn(&[Point2<f64>]) -> Point2<f64>) -> Vector3<f64> {
    let [lower, upper] = [0, 1].map(|row| point(&band.rows[row]).coords.push(band.places[row]));
    upper - lower
}

/// The directions in which an outline comes to an inner joint and leaves it: towards
/// the nearest control points that are not at the joint itself.
fn tangents(chain: &[Point2<f64>], joint: usize) -> [Vector2<f64>; 2] {
    let at = chain[3 * joint];
    let away = |point: &&Point2<f64>| **point != at;
    let before = chain[3 * joint - 3..3 * joint].iter().rev().find(away);
    let after = chain[3 * joint + 1..3 * joint + 4].iter().find(away);
    [
        at - before.copied().unwrap_or(at),
        after.copied().unwrap_or(at) - at,
    ]
}

/// How two bands meet at the points by which patterns are cut.
fn joint(lower: &Band, upper: &Band, spans: usize) -> Joint {
    let mut folds = [f64::INFINITY, f64::NEG_INFINITY];
    for span in 0..spans {
        let count = steps(lower, span).max(steps(upper, span));
        for step in 0..=count {
            let s = step as f64 / count as f64;
            let point = |row: &[Point2<f64>]| cubic(&row[3 * span..3 * span + 4], s);
            let along = slope(&upper.rows[0][3 * span..3 * span + 4], s).push(0.0);
            let flaps = [lower, upper].map(|band| ruling(band, point));
            let fold = fold(along, flaps);
            folds = [folds[0].min(fold), folds[1].max(fold)];
        }
    }
    Joint { folds }
}

/// The direction of a span at `s`; near an end without a handle, that of its chord.
fn slope(span: &[Point2<f64>], s: f64) -> Vector2<f64> {
    let r = 1.0 - s;
    let legs = [0, 1, 2].map(|i| span[i + 1] - span[i]);
    let slope = legs[0] * (r * r) + legs[1] * (2.0 * r * s) + legs[2] * (s * s);
    if slope == Vector2::zeros() {
        span[3] - span[0]
    } else {
        slope
    }
}

/// By how many degrees the second flap rises from the plane of the first, which lie
/// on both sides of a line; positive to the side of line x flap.
fn fold(line: Vector3<f64>, flaps: [Vector3<f64>; 2]) -> f64 {
    let line = line.normalize();
    let [one, other] = flaps.map(|flap| line.cross(&flap));
    libm::atan2(line.dot(&one.cross(&other)), one.dot(&other)).to_degrees()
}

#[cfg(test)]
mod tests;
