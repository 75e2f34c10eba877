//! The places along at which a pair is looked at.
//!
//! Some in each piece between neighbouring joints, the ends of open curves, two
//! beside every kink, more where a curve turns sharply or the twist has an
//! extreme. They choose rows only; what they miss, the proof finds.

use crate::along::Along;
use crate::kinks::{KinkAt, kinks};
use crate::response::slope;
use loftkin_kernel::curve::Curve;

/// About how many places along a pair is seen at.
const PLACES: usize = 96;
/// The most places in one piece between neighbouring joints.
const MOST_IN_PIECE: usize = 6;
/// A piece shorter than this share of the usual distance gets one place.
const SHORT_PIECE: f64 = 0.25;
/// Places closer than this count as one.
const APART: f64 = 1e-9;
/// The cosine of the sharpest turn from one place to the next that is left
/// alone, about 53 degrees.
const SHARP: f64 = 0.6;
/// The most places put in because of sharp turns.
const MOST_REFINED: usize = 48;
/// Places closer than this are not parted: what still turns there is a corner.
const FINEST: f64 = 1e-4;
/// Even steps at which the twist is looked at for its extremes.
const TWIST_STEPS: usize = 256;
/// Extremes of the twist below this many radians are left alone.
const LITTLE_TWIST: f64 = 1.0;

/// A joint at which a section may break: the places just before and after it.
#[derive(Clone, Copy, Debug)]
pub struct Kink {
    /// Place before.
    pub before: usize,
    /// Place after.
    pub after: usize,
    /// Whether one of the curves has a corner there.
    pub corner: bool,
}

/// The places of a pair in ascending order, those at the parameters `extra`
/// among them, and its kinks.
pub fn places(curves: [&Curve; 2], extra: &[f64]) -> (Vec<Along>, Vec<Kink>) {
    let parameters = in_pieces(curves)
        .into_iter()
        .chain(extra.iter().copied())
        .chain(most_twisted(curves));
    let mut along: Vec<Along> = parameters.map(|u| Along::plain(curves, u)).collect();
    refine(&mut along, curves);
    let kinks = kinks(curves);
    along.extend(kinks.iter().flat_map(|kink| kink.beside));
    along.sort_by(|one, other| one.u.total_cmp(&other.u));
    // Of places that coincide one is kept, and rather one beside a kink.
    along.dedup_by(|later, earlier| {
        let same = later.u - earlier.u < APART;
        if same && later.anchor.is_some() {
            *earlier = *later;
        }
        same
    });
    let index = |u: f64| along.partition_point(|place| place.u < u);
    let kinks = kinks.iter().map(|KinkAt { beside, corner }| Kink {
        before: index(beside[0].u),
        after: index(beside[1].u),
        corner: *corner,
    });
    let kinks = kinks.collect();
    (along, kinks)
}

/// Even places in each piece between joints of either curve, and the ends of
/// open curves.
fn in_pieces(curves: [&Curve; 2]) -> Vec<f64> {
    let breaks = curves.iter().flat_map(|curve| curve.breaks());
    let mut joints: Vec<f64> = breaks.copied().collect();
    joints.sort_by(f64::total_cmp);
    joints.dedup();
    let usual = (PLACES / joints.len().max(1)).clamp(1, MOST_IN_PIECE);
    let mut parameters = Vec::new();
    if !curves[0].is_closed() {
        parameters.extend([0.0, 1.0]);
    }
    for ends in joints.windows(2) {
        let length = ends[1] - ends[0];
        let is_short = length * (PLACES as f64) < SHORT_PIECE;
        let count = if is_short { 1 } else { usual };
        let at = |k: usize| ends[0] + length * (k as f64 + 0.5) / count as f64;
        parameters.extend((0..count).map(at));
    }
    parameters
}

/// Puts places in between where a curve turns sharply from one to the next:
/// which way round it turns must not be left to luck.
fn refine(along: &mut Vec<Along>, curves: [&Curve; 2]) {
    along.sort_by(|one, other| one.u.total_cmp(&other.u));
    let turns = |one: &Along, other: &Along| {
        (0..2).any(|side| {
            let [a, b] = [one, other].map(|place| slope(curves[side], place.spots[side]));
            a.dot(&b) < SHARP * a.norm() * b.norm()
        })
    };
    let (mut at, mut added) = (0, 0);
    while at + 1 < along.len() && added < MOST_REFINED {
        let (one, other) = (&along[at], &along[at + 1]);
        if FINEST < other.u - one.u && turns(one, other) {
            let between = Along::plain(curves, f64::midpoint(one.u, other.u));
            along.insert(at + 1, between);
            added += 1;
        } else {
            at += 1;
        }
    }
}

/// Where the twist has its extremes: at these the lattice is not left to luck.
fn most_twisted(curves: [&Curve; 2]) -> Vec<f64> {
    let step = |k: usize| k as f64 / TWIST_STEPS as f64;
    let twist = |k: usize| {
        let [a, b] = curves.map(|curve| curve.slope(step(k)));
        libm::atan2(a.perp(&b), a.dot(&b)).abs()
    };
    let values: Vec<f64> = (0..=TWIST_STEPS).map(twist).collect();
    let mut extremes = Vec::new();
    for k in 1..TWIST_STEPS {
        let [before, here, after] = [values[k - 1], values[k], values[k + 1]];
        if before <= here && after < here && LITTLE_TWIST < here {
            // The vertex of the parabola through the three.
            let shift = 0.5 * (before - after) / (before - 2.0 * here + after);
            extremes.push((k as f64 + shift) / TWIST_STEPS as f64);
        }
    }
    extremes
}
