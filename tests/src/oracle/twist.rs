//! The twist as the oracle measures it: the angle between the two tangents at
//! equal parameters, sampled.

use super::cross;
use super::pair::OraclePair;

/// The largest angle in degrees from the first tangent to the second over
/// `samples` places a piece, and where it stands. Both sides of every joint
/// are looked at, nothing between them.
///
/// The angle is unsigned and below 180: a continuous angle reaches 180 only
/// through a fold.
pub fn largest_twist(pair: &OraclePair, samples: usize) -> (f64, f64) {
    let mut worst = (0.0, 0.0);
    for index in 0..pair.piece_count() {
        for k in 0..=samples {
            let t = k as f64 / samples as f64;
            let (a, b) = pair.slopes(index, t);
            let angle = cross(a, b).abs().atan2(a.dot(&b)).to_degrees();
            if worst.0 < angle {
                worst = (angle, pair.along(index, t));
            }
        }
    }
    worst
}
