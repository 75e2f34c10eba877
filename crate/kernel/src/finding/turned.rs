//! How far a pair twists, and along which stretch it does so too far.
//!
//! Estimates for the eye: the limit itself is proved or refuted elsewhere.

use super::curves;
use crate::curve::Curve;
use crate::family::TenthsOfDegree;
use crate::proof::Ready;
use crate::proof::telling;
use crate::proof::turn::turn;
use crate::verdict::{Fault, FaultKind, Region};

const STEPS: usize = 256;
/// Halvings of a step when a place is sharpened.
const HALVINGS: usize = 40;

/// The twist at parameter `u`, in degrees.
fn twist(curves: [&Curve; 2], u: f64) -> f64 {
    turn(curves[0].slope(u), curves[1].slope(u)).to_degrees()
}

/// The largest twist in degrees, with its sign, and the fraction along where
/// it stands: an estimate.
pub fn largest_twist(pair: [&Ready; 2]) -> (f64, f64) {
    let curves = curves(pair);
    let at = |u: f64| (twist(curves, u), u);
    let mut best = at(0.0);
    for step in 1..=STEPS {
        let here = at(step as f64 / STEPS as f64);
        if best.0.abs() < here.0.abs() {
            best = here;
        }
    }
    let mut reach = 1.0 / STEPS as f64;
    for _ in 0..HALVINGS {
        reach *= 0.5;
        for u in [best.1 - reach, best.1 + reach] {
            let here = at(u.clamp(0.0, 1.0));
            if best.0.abs() < here.0.abs() {
                best = here;
            }
        }
    }
    best
}

/// The stretch around `fault` on which the twist exceeds `limit`.
pub fn twisted(pair: [&Ready; 2], fault: &Fault, limit: TenthsOfDegree) -> Region {
    let curves = curves(pair);
    let exceeds = |u: f64| limit.degrees() < twist(curves, u).abs();
    let (angle, at) = largest_twist(pair);
    let edge = |way: f64| {
        let mut inside = at;
        loop {
            let next = inside + way / STEPS as f64;
            if !(0.0..=1.0).contains(&next) {
                return next.clamp(0.0, 1.0);
            }
            if !exceeds(next) {
                return boundary(inside, next, &exceeds);
            }
            inside = next;
        }
    };
    Region {
        kind: FaultKind::Twist,
        across: (0.0, 1.0),
        along: (edge(-1.0), edge(1.0)),
        curves: Vec::new(),
        place: telling::place(curves, at, at, fault.place.across),
        angle,
    }
}

fn boundary(mut inside: f64, mut outside: f64, exceeds: &dyn Fn(f64) -> bool) -> f64 {
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(inside, outside);
        if exceeds(middle) {
            inside = middle;
        } else {
            outside = middle;
        }
    }
    inside
}
