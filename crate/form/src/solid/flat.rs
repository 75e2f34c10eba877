//! Skins laid flat without stretch, where that can be.
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

use super::net::{Band, Net, cubic};
use nalgebra::{Point2, Point3, Vector2};

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
    /// Which like points lie on an inner corner of the outline, where the sheet is
    /// bent along the ruling; ascending.
    pub bends: Vec<usize>,
}

/// What laying a skin flat comes to.
#[derive(Clone, Debug, PartialEq)]
pub enum Flat {
    /// Every band, in order; a closed outline is cut open at its seam.
    Patterns(Vec<Pattern>),
    /// The rulings of a band twist: it cannot be laid flat without stretch.
    Twisted {
        /// The first such band, from 0.
        band: usize,
    },
    /// A ring, or a blend that is not ruled.
    NotRuled,
}

/// Lays the skin of `net` flat.
pub fn lay(net: &Net) -> Flat {
    if net.is_ring() || net.bands.iter().any(|band| band.degree() != 1) {
        return Flat::NotRuled;
    }
    let twisted = net
        .bands
        .iter()
        .position(|band| !is_flat(band, net.spans()));
    if let Some(band) = twisted {
        return Flat::Twisted { band };
    }
    let patterns = net.bands.iter().enumerate();
    Flat::Patterns(
        patterns
            .map(|(index, band)| pattern(index, band, net))
            .collect(),
    )
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
        bends: bends(net, &steps),
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

/// Which points are inner joints at which the outline really turns: by more than
/// half a degree, for a joint may be broken in its speed alone.
fn bends(net: &Net, steps: &[usize]) -> Vec<usize> {
    const TURNS: f64 = 0.0087;
    let mut point = 0;
    let mut bends = Vec::new();
    for joint in 1..net.spans() {
        point += steps[joint - 1];
        let chain = &net.bands[0].rows[0];
        let before = chain[3 * joint] - chain[3 * joint - 1];
        let after = chain[3 * joint + 1] - chain[3 * joint];
        let turned = libm::atan2(before.perp(&after), before.dot(&after));
        if TURNS < turned.abs() {
            bends.push(point);
        }
    }
    bends
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::blend::{Blend, Layout};
    use crate::piece::{Arrangement, Piece};
    use crate::stations::{Station, Stations};
    use loftkin_kernel::curve::Curve;
    use loftkin_kernel::family::Pacing;
    use loftkin_kernel::profile::{Node, Profile};
    use std::f64::consts::{PI, TAU};

    fn circle() -> Curve {
        let nodes = (0..64).map(|k| {
            let angle = TAU * f64::from(k) / 64.0;
            let at = |value: f64| libm::round(2000.0 * value) as i32;
            Node::smooth(at(libm::cos(angle)), at(libm::sin(angle)))
        });
        Curve::new(&Profile::closed(nodes.collect()), Pacing::Parameter).unwrap()
    }

    fn laid(stations: Vec<Station>, blend: Blend) -> Flat {
        let count = stations.len();
        let layout = Layout::new(Stations::stack(stations).unwrap(), blend).unwrap();
        let piece = Piece::new(&[&circle()], &layout, Arrangement(vec![0; count])).unwrap();
        lay(&Net::new(&piece))
    }

    fn area(pattern: &Pattern) -> f64 {
        let outline: Vec<_> = pattern
            .lower
            .iter()
            .chain(pattern.upper.iter().rev())
            .collect();
        let sides = outline.iter().zip(outline.iter().cycle().skip(1));
        sides
            .map(|(a, b)| a.coords.perp(&b.coords))
            .sum::<f64>()
            .abs()
            / 2.0
    }

    #[test]
    fn a_frustum_is_a_sector_of_a_ring() {
        // R = 20, r = 10, h = 30: slant s = sqrt(1000); area pi (R + r) s; the sector's outer radius is 2 s and it
        // spans 2 pi R / (2 s).
        let stations = vec![Station::at(0.0), Station::at(30.0).scaled(0.5)];
        let Flat::Patterns(patterns) = laid(stations, Blend::Ruled) else {
            panic!("a cone lies flat")
        };
        let [pattern] = patterns.as_slice() else {
            panic!("one band")
        };
        let slant = 1000.0_f64.sqrt();
        assert!((area(pattern) / (PI * 30.0 * slant) - 1.0).abs() < 1e-3);
        let (first, last) = (pattern.lower[0], pattern.lower[pattern.lower.len() - 1]);
        let chord = 4.0 * slant * libm::sin(TAU * 20.0 / (2.0 * slant) / 2.0).abs();
        assert!(((last - first).norm() / chord - 1.0).abs() < 2e-3);
        for (low, high) in pattern.lower.iter().zip(&pattern.upper) {
            assert!(((high - low).norm() / slant - 1.0).abs() < 1e-4);
        }
    }

    #[test]
    fn a_cylinder_is_a_rectangle() {
        let Flat::Patterns(patterns) = laid([0.0, 7.0].map(Station::at).to_vec(), Blend::Ruled)
        else {
            panic!("a cylinder lies flat")
        };
        let last = patterns[0].lower[patterns[0].lower.len() - 1];
        assert!((last.x / (TAU * 20.0) - 1.0).abs() < 1e-4 && last.y.abs() < 1e-6);
    }

    #[test]
    fn twisted_and_eased_skins_are_not_laid_flat() {
        let turned = vec![
            Station::at(0.0),
            Station::at(9.0),
            Station::at(30.0).turned(10.0),
        ];
        assert_eq!(laid(turned, Blend::Ruled), Flat::Twisted { band: 1 });
        let straight = [0.0, 7.0].map(Station::at).to_vec();
        assert_eq!(laid(straight, Blend::Eased), Flat::NotRuled);
    }
}
