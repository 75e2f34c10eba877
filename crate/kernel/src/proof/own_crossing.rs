//! Certain crossings of one curve with itself.
//!
//! F_A and F_B are the same there, so their cross product has no sign to change.
//! Instead two short arcs that pass right through each other's strips certify
//! that they meet: the distance between them along either strip's normal changes
//! its sign from end to end (Poincaré-Miranda theorem), and the two normals
//! differ, for the ends of an arc are level along its own and apart along the
//! other's.

use super::bounds;
use super::piece::Part;
use super::prepared::Ready;
use super::telling::crossing_alone;
use crate::curve::Curve;
use crate::verdict::Fault;
use nalgebra::{Matrix2, Point2, Vector2};

/// A certain crossing of one curve with itself near (u, w), or none.
pub fn own_crossing(ready: &Ready, u: f64, w: f64) -> Option<Fault> {
    let curve = &ready.curve;
    let (u, w) = polished(curve, u, w)?;
    let mut reach = (w - u).abs() * 0.02;
    for _ in 0..12 {
        let one = arc(curve, u, reach);
        let other = arc(curve, w, reach);
        if let (Some(one), Some(other)) = (one, other)
            && strips_cross(&one, &other, ready.size)
        {
            return Some(crossing_alone(curve, u, w));
        }
        reach *= 0.25;
    }
    None
}

/// Newton's steps towards C(u) = C(w); an estimate to be certified.
fn polished(curve: &Curve, mut u: f64, mut w: f64) -> Option<(f64, f64)> {
    for _ in 0..20 {
        let (to_u, to_w) = (curve.slope(u), curve.slope(w));
        let jacobian = Matrix2::from_columns(&[to_u, -to_w]);
        let step = jacobian.try_inverse()? * (curve.point(u) - curve.point(w));
        u = (u - step.x).clamp(0.0, 1.0);
        w = (w - step.y).clamp(0.0, 1.0);
        if step.amax() < 1e-15 {
            break;
        }
    }
    (u < w).then_some((u, w))
}

/// The control points over `reach` either side of `u`, if one span holds them.
fn arc(curve: &Curve, u: f64, reach: f64) -> Option<[Point2<f64>; 4]> {
    let (from, to) = (u - reach, u + reach);
    if from < 0.0 || 1.0 < to {
        return None;
    }
    let (span, _) = curve.locate(from);
    (to <= curve.breaks()[span + 1]).then(|| Part::cut(curve, span, from, to).points)
}

/// Whether two arcs pass right through each other: each runs from one side of
/// the other's strip to the other side.
fn strips_cross(one: &[Point2<f64>; 4], other: &[Point2<f64>; 4], size: f64) -> bool {
    passes_through(one, other, size) && passes_through(other, one, size)
}

fn passes_through(arc: &[Point2<f64>; 4], strip: &[Point2<f64>; 4], size: f64) -> bool {
    let run = strip[3] - strip[0];
    let Some(normal) = Vector2::new(-run.y, run.x).try_normalize(0.0) else {
        return false;
    };
    let along = |point: &Point2<f64>| normal.dot(&point.coords);
    let low = strip.iter().map(along).fold(f64::INFINITY, f64::min);
    let high = strip.iter().map(along).fold(f64::NEG_INFINITY, f64::max);
    let (from, to) = (along(&arc[0]), along(&arc[3]));
    let error = bounds::SEPARATION * size;
    from.min(to) < low - error && high + error < from.max(to)
}
