//! Twist and crease as the oracle measures them: angles of tangents, sampled.

use super::pair::OraclePair;
use super::{Vector, cross};

/// A tangent shorter than this, over the size, has no direction.
const NO_TANGENT: f64 = 1e-9;

/// The unsigned angle from `a` to `b` in degrees, from 0 to 180.
pub fn angle(a: Vector, b: Vector) -> f64 {
    cross(a, b).abs().atan2(a.dot(&b)).to_degrees()
}

/// The largest angle in degrees between the two tangents at equal parameters
/// over `samples` places a piece, and where it stands. Both sides of every
/// joint are looked at, nothing between them.
///
/// The angle is unsigned: a continuous angle passes 180 only through a fold.
pub fn largest_twist(pair: &OraclePair, samples: usize) -> (f64, f64) {
    let mut worst = (0.0, 0.0);
    for index in 0..pair.piece_count() {
        for k in 0..=samples {
            let t = k as f64 / samples as f64;
            let twist = twist(pair, index, t);
            if worst.0 < twist {
                worst = (twist, pair.along(index, t));
            }
        }
    }
    worst
}

/// The angle between the two tangents at fraction `t` of piece `index`.
pub fn twist(pair: &OraclePair, index: usize, t: f64) -> f64 {
    let (a, b) = pair.slopes(index, t);
    angle(a, b)
}

/// The largest angle in degrees by which sections break at joints that are no
/// corner of either profile, over `samples` fractions across, and its joint.
pub fn largest_crease(pair: &OraclePair, samples: usize) -> (f64, f64) {
    let count = pair.piece_count();
    let first = usize::from(!pair.closed);
    let mut worst = (0.0, 0.0);
    for joint in (first..count).filter(|&joint| !pair.corners[joint]) {
        let before = pair.slopes((joint + count - 1) % count, 1.0);
        let after = pair.slopes(joint, 0.0);
        for k in 0..=samples {
            let v = k as f64 / samples as f64;
            let blend = |(a, b): (Vector, Vector)| a * (1.0 - v) + b * v;
            let (arriving, leaving) = (blend(before), blend(after));
            // Where a section has no tangent its direction is rounding.
            let directed = NO_TANGENT * pair.size < arriving.norm().min(leaving.norm());
            let crease = angle(arriving, leaving);
            if directed && worst.0 < crease {
                worst = (crease, pair.breaks[joint]);
            }
        }
    }
    worst
}
