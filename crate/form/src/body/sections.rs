//! Sections of a piece as exact cubic spans, and integrals over what they
//! enclose.
//!
//! By Green's theorem an integral over the inside of a section is one along it;
//! for cubic spans the integrand is a polynomial, so the rule of six nodes is
//! exact but for rounding. Signed: positive for anticlockwise sections.

use super::cells::breaks_within;
use super::quadrature::SIX;
use crate::piece::Piece;
use nalgebra::{Point2, Vector2};

/// The control points of one cubic span, in mm of the drawing.
pub type Span = [Point2<f64>; 4];

/// Integrals over the inside of a section, in mm to the power of 2 and more.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Moments {
    /// The area.
    pub area: f64,
    /// The integral of x.
    pub x: f64,
    /// The integral of y.
    pub y: f64,
    /// The integral of x².
    pub xx: f64,
    /// The integral of x y.
    pub xy: f64,
}

/// The section of `piece` at fraction across `v`, span by span.
pub fn section(piece: &Piece, v: f64) -> Vec<Span> {
    let across = piece.layout().across(v);
    let breaks = breaks_within(piece, (v, v));
    breaks
        .windows(2)
        .map(|ends| {
            let mut span = [Point2::origin(); 4];
            for weight in across.weights() {
                let part = part(piece, weight.station, (ends[0], ends[1]));
                for (sum, point) in span.iter_mut().zip(part) {
                    *sum += point.coords * weight.value;
                }
            }
            span
        })
        .collect()
}

/// The control points of the profile at `station` over `ends`, which no joint
/// of it divides.
fn part(piece: &Piece, station: usize, ends: (f64, f64)) -> Span {
    let curve = piece.placed(station);
    let (index, _) = curve.locate(f64::midpoint(ends.0, ends.1));
    let (from, to) = (curve.breaks()[index], curve.breaks()[index + 1]);
    let [s, t] = [ends.0, ends.1].map(|u| (u - from) / (to - from));
    let span = curve.span_mm(index);
    [[s, s, s], [s, s, t], [s, t, t], [t, t, t]].map(|arguments| blossom(&span, arguments))
}

/// The blossom (polar form) of a cubic at three arguments.
fn blossom(p: &Span, [r, s, t]: [f64; 3]) -> Point2<f64> {
    let mixed = |a: Point2<f64>, b: Point2<f64>, t: f64| a + (b - a) * t;
    let (a, b, c) = (
        mixed(p[0], p[1], r),
        mixed(p[1], p[2], r),
        mixed(p[2], p[3], r),
    );
    mixed(mixed(a, b, s), mixed(b, c, s), t)
}

/// The point and the derivative of a cubic at `t`.
pub fn along_span(p: &Span, t: f64) -> (Point2<f64>, Vector2<f64>) {
    let mixed = |a: Point2<f64>, b: Point2<f64>| a + (b - a) * t;
    let (a, b, c) = (mixed(p[0], p[1]), mixed(p[1], p[2]), mixed(p[2], p[3]));
    let (ab, bc) = (mixed(a, b), mixed(b, c));
    (mixed(ab, bc), (bc - ab) * 3.0)
}

/// The integrals over the inside of closed `spans`; for open ones, over what
/// lies between them and the y axis.
pub fn moments(spans: &[Span]) -> Moments {
    let mut sum = Moments::default();
    for span in spans {
        for (t, weight) in SIX {
            let (at, step) = along_span(span, t);
            let rise = step.y * weight;
            sum.area += at.x * rise;
            sum.x += at.x * at.x * rise / 2.0;
            sum.xx += at.x * at.x * at.x * rise / 3.0;
            sum.xy += at.x * at.x * at.y * rise / 2.0;
            // Of x y dy: the y of each strip from the axis to the curve.
            sum.y += at.x * at.y * rise;
        }
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Straight spans round a rectangle from (1, 2) to (4, 8).
    fn rectangle() -> Vec<Span> {
        let corners = [(1.0, 2.0), (4.0, 2.0), (4.0, 8.0), (1.0, 8.0), (1.0, 2.0)]
            .map(|(x, y)| Point2::new(x, y));
        corners
            .windows(2)
            .map(|ends| {
                let step = (ends[1] - ends[0]) / 3.0;
                [ends[0], ends[0] + step, ends[1] - step, ends[1]]
            })
            .collect()
    }

    #[test]
    fn a_rectangle_has_the_moments_of_a_rectangle() {
        let moments = moments(&rectangle());
        for (value, exact) in [
            (moments.area, 18.0),
            (moments.x, 18.0 * 2.5),
            (moments.y, 18.0 * 5.0),
            (moments.xx, 6.0 * (64.0 - 1.0) / 3.0),
            (moments.xy, 7.5 * 30.0),
        ] {
            assert!((value - exact).abs() < 1e-12 * exact, "{value} {exact}");
        }
    }
}
