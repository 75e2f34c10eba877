//! From proved settings to what is handed back: distances moved.

use crate::request::{Move, MovedPoint};

/// The farthest that any point moved, in mm.
pub fn farthest_mm(moves: &[Move]) -> f64 {
    moves
        .iter()
        .map(|moved| moved.right_mm.hypot(moved.up_mm))
        .fold(0.0, f64::max)
}

/// The root of the mean square of the distances that nodes moved, over `nodes`
/// of them, in mm.
pub fn rms_mm(moves: &[Move], nodes: usize) -> f64 {
    let sum: f64 = moves
        .iter()
        .filter(|moved| matches!(moved.point, MovedPoint::Node(_)))
        .map(|moved| moved.right_mm * moved.right_mm + moved.up_mm * moved.up_mm)
        .sum();
    (sum / nodes.max(1) as f64).sqrt()
}
