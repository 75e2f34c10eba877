//! What is told of a zero once it is certain: its place, its fraction across, its
//! angle. All are rounded as usual; a proof that uses one must allow for that.

use super::turn::turn;
use crate::curve::Curve;
use crate::grid::STEPS_PER_MM;
use crate::verdict::{Fault, FaultKind, Place};
use nalgebra::{Point2, Vector2};

/// Halvings of the bridge over a corner: these reach the rounding of a fraction.
const HALVINGS: usize = 60;

/// The share of the second of two opposed vectors in their vanishing blend.
pub fn across(a: Vector2<f64>, b: Vector2<f64>) -> f64 {
    let (long_a, long_b) = (a.norm(), b.norm());
    long_a / (long_a + long_b)
}

/// The share of the second vector in the blend nearest to zero, and its length.
pub fn nearest_blend([a, b]: [Vector2<f64>; 2]) -> (f64, f64) {
    let run = b - a;
    let square = run.norm_squared();
    let share = if 0.0 < square {
        (-a.dot(&run) / square).clamp(0.0, 1.0)
    } else {
        0.5
    };
    (share, (a + run * share).norm())
}

/// The place (u, w, v) of a loft, its point taken at u.
pub fn place(curves: [&Curve; 2], along: f64, other_along: f64, across: f64) -> Place {
    let (from, to) = (drawn(curves[0], along), drawn(curves[1], along));
    Place {
        along,
        other_along,
        across,
        point: (from + (to - from) * across) / STEPS_PER_MM,
    }
}

fn drawn(curve: &Curve, u: f64) -> Point2<f64> {
    curve.point(u) + curve.centre()
}

/// The fold at parameter `u`, where the slopes oppose, or those on the bridge
/// over a corner do.
pub fn fold_at(curves: [&Curve; 2], u: f64) -> Fault {
    let beside = curves.map(|curve| curve.slopes_beside(u));
    let on_bridge = |s: f64| beside.map(|(before, after)| before.lerp(&after, s));
    let is_negative = |s: f64| {
        let [a, b] = on_bridge(s);
        a.perp(&b) < 0.0
    };
    let mut slopes = beside.map(|(_, after)| after);
    if is_negative(0.0) != is_negative(1.0) {
        let (mut from, mut to) = (0.0, 1.0);
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(from, to);
            if is_negative(middle) == is_negative(0.0) {
                from = middle;
            } else {
                to = middle;
            }
        }
        slopes = on_bridge(from);
    }
    let [a, b] = slopes;
    fold_across(curves, u, across(a, b))
}

/// The fold at parameter `u` and a known fraction across.
pub fn fold_across(curves: [&Curve; 2], u: f64, across: f64) -> Fault {
    Fault {
        kind: FaultKind::Fold,
        place: place(curves, u, u, across),
        angle: 180.0,
    }
}

/// The crossing of the strands at `u` and `w`, where the chords oppose.
pub fn crossing_at(curves: [&Curve; 2], u: f64, w: f64) -> Fault {
    let [a, b] = curves.map(|curve| curve.point(u) - curve.point(w));
    let across = across(a, b);
    let tangent = |at: f64| {
        let [a, b] = curves.map(|curve| curve.slope(at));
        a + (b - a) * across
    };
    let turn = turn(tangent(u), tangent(w)).abs().to_degrees();
    Fault {
        kind: FaultKind::Crossing,
        place: place(curves, u, w, across),
        angle: turn.min(180.0 - turn),
    }
}

/// The crossing of one curve with itself at (u, w).
pub fn crossing_alone(curve: &Curve, u: f64, w: f64) -> Fault {
    let turn = turn(curve.slope(u), curve.slope(w)).abs().to_degrees();
    Fault {
        kind: FaultKind::Crossing,
        place: place([curve, curve], u, w, 0.0),
        angle: turn.min(180.0 - turn),
    }
}
