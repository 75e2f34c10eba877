//! The box around points.

use nalgebra::Point2;

/// The lowest and the highest x and y of the points.
pub fn bounds<'a>(mut points: impl Iterator<Item = &'a Point2<f64>>) -> (Point2<f64>, Point2<f64>) {
    let first = points.next().copied().unwrap_or(Point2::origin());
    points.fold((first, first), |(low, high), p| (low.inf(p), high.sup(p)))
}
