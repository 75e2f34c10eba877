//! How far a piece reaches in space.

use super::cells::{Sampler, cells};
use crate::piece::Piece;
use nalgebra::Point3;

/// Steps along and across a cell.
const STEPS: usize = 8;

/// The lowest and the highest coordinates of the skin, mm: sampled, so a bulge
/// between samples may stand out by the height of an arc over one of them.
pub fn extent(piece: &Piece) -> (Point3<f64>, Point3<f64>) {
    let mut low = Point3::from([f64::INFINITY; 3]);
    let mut high = Point3::from([f64::NEG_INFINITY; 3]);
    each_place(piece, STEPS, |point| {
        low = low.coords.inf(&point.coords).into();
        high = high.coords.sup(&point.coords).into();
    });
    (low, high)
}

/// Calls `visit` with even places of every cell, its ends included.
pub(super) fn each_place(piece: &Piece, steps: usize, mut visit: impl FnMut(Point3<f64>)) {
    let even = |(from, to): (f64, f64)| {
        (0..=steps).map(move |k| (from + (to - from) * k as f64 / steps as f64, 0.0))
    };
    let mut sampler = Sampler::new(piece);
    for cell in cells(piece) {
        sampler.visit(even(cell.along), even(cell.across), |sample| {
            visit(sample.patch.point);
        });
    }
}
