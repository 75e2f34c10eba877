//! What is told of a zero once it is certain: its place, its fraction across, its
//! angle. All are rounded as usual; a proof that uses one must allow for that.

use super::bounds;
use super::turn::turn;
use crate::curve::Curve;
use crate::grid::STEPS_PER_MM;
use crate::verdict::{Fault, FaultKind, Place};
use nalgebra::{Point2, Vector2};

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
/// over a joint do.
pub fn fold_at(curves: [&Curve; 2], u: f64) -> Fault {
    fold_near(curves, u, 0.5)
}

/// The fold at parameter `u`; of the two that a bridge may have, the one nearer
/// to the fraction `hint` across.
///
/// The cross product on the bridge is c0 + c1 s + c2 s^2. Its zeros count where
/// the two oppose, and so do its ends: the slopes on one side of a joint may
/// oppose exactly, which rounding hides from the signs.
pub fn fold_near(curves: [&Curve; 2], u: f64, hint: f64) -> Fault {
    let [a, b] = curves.map(|curve| curve.slopes_beside(u));
    let (run_a, run_b) = (a.1 - a.0, b.1 - b.0);
    let (c0, c1) = (a.0.perp(&b.0), a.0.perp(&run_b) + run_a.perp(&b.0));
    let c2 = run_a.perp(&run_b);
    let root = libm::sqrt((c1 * c1 - 4.0 * c0 * c2).max(0.0));
    let half = -0.5 * (c1 + root.copysign(c1));
    let told = [0.0, 1.0, half / c2, c0 / half].map(|s| {
        let s = if s.is_finite() {
            s.clamp(0.0, 1.0)
        } else {
            0.0
        };
        let (a, b) = (a.0 + run_a * s, b.0 + run_b * s);
        let off = nearest_blend([a, b]).1 / (a.norm() + b.norm());
        (off.max(bounds::MET), across(a, b))
    });
    let nearest = told.into_iter().min_by(|one, other| {
        let far = |across: f64| (across - hint).abs();
        let nearer = far(one.1).total_cmp(&far(other.1));
        one.0.total_cmp(&other.0).then(nearer)
    });
    fold_across(curves, u, nearest.map_or(hint, |(_, across)| across))
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
