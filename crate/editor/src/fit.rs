//! From a freehand stroke (or a dense path) to a few nodes, with a tolerance.
//!
//! Nodes are added where the curve through them is farthest from the stroke,
//! until it stays within the tolerance. The deviation is measured at the
//! stroke's points against a fine polyline of the curve: an estimate, good for
//! drawing; no verdict depends on it.

use crate::edit::EditError;
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Pacing;
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{MOST_NODES, Node, Profile, ProfileError};
use nalgebra::Point2;

/// Chords a span is measured with: their sag is far below any tolerance used.
const CHORDS: usize = 24;

/// A fitted profile, and how far the stroke strays from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The profile through the chosen nodes.
    pub profile: Profile,
    /// The largest distance of a stroke point from it, in mm (an estimate).
    pub deviation: f64,
}

/// Chooses nodes on `stroke` (mm) so that the curve through them stays within
/// `tolerance` mm of it. Where 200 nodes do not suffice the fit is returned
/// with the deviation it has.
///
/// # Errors
/// [`EditError`] when the stroke has too few different points, or leaves the grid.
pub fn through(stroke: &[Point2<f64>], closed: bool, tolerance: f64) -> Result<Fit, EditError> {
    let points = thinned(stroke)?;
    let count = points.len();
    let first = if closed { 4 } else { 2 };
    let mut chosen: Vec<usize> = if closed {
        (0..first).map(|i| i * count / first).collect()
    } else {
        vec![0, count - 1]
    };
    chosen.dedup();
    loop {
        let profile = through_chosen(&points, &chosen, closed);
        let curve = Curve::new(&profile, Pacing::Parameter)?;
        let (worst, deviation) = farthest(&points, &chosen, &curve);
        let full = chosen.len() == MOST_NODES || chosen.len() == count;
        if deviation <= tolerance || full {
            return Ok(Fit { profile, deviation });
        }
        let place = chosen.partition_point(|&index| index < worst);
        chosen.insert(place, worst);
    }
}

/// The stroke on the grid, without points on the spot of the one before.
fn thinned(stroke: &[Point2<f64>]) -> Result<Vec<GridPoint>, EditError> {
    let mut points: Vec<GridPoint> = Vec::with_capacity(stroke.len());
    for mm in stroke {
        let at = GridPoint::from_mm(mm.x, mm.y)?;
        if points.last() != Some(&at) {
            points.push(at);
        }
    }
    while 1 < points.len() && points.first() == points.last() {
        points.pop();
    }
    if points.len() < 2 {
        let count = points.len();
        return Err(ProfileError::TooFewNodes { count }.into());
    }
    Ok(points)
}

fn through_chosen(points: &[GridPoint], chosen: &[usize], closed: bool) -> Profile {
    let nodes = chosen
        .iter()
        .map(|&index| Node::smooth(points[index].x, points[index].y))
        .collect();
    if closed {
        Profile::closed(nodes)
    } else {
        Profile::open(nodes)
    }
}

/// The stroke point, not yet a node, that is farthest from the span that
/// should pass by it, and its distance in mm.
fn farthest(points: &[GridPoint], chosen: &[usize], curve: &Curve) -> (usize, f64) {
    let mut worst = (chosen[0], 0.0);
    for span in 0..curve.span_count() {
        let (from, to) = (curve.breaks()[span], curve.breaks()[span + 1]);
        let chain: Vec<_> = (0..=CHORDS)
            .map(|i| curve.point_mm(from + (to - from) * i as f64 / CHORDS as f64))
            .collect();
        let end = chosen.get(span + 1).copied().unwrap_or(points.len());
        for (index, point) in points.iter().enumerate().take(end).skip(chosen[span] + 1) {
            let (x, y) = point.to_mm();
            let distance = chain
                .windows(2)
                .map(|chord| distance_to_chord(Point2::new(x, y), chord[0], chord[1]))
                .fold(f64::INFINITY, f64::min);
            if worst.1 < distance {
                worst = (index, distance);
            }
        }
    }
    worst
}

fn distance_to_chord(point: Point2<f64>, from: Point2<f64>, to: Point2<f64>) -> f64 {
    let chord = to - from;
    let length = chord.norm_squared();
    let t = if length == 0.0 {
        0.0
    } else {
        ((point - from).dot(&chord) / length).clamp(0.0, 1.0)
    };
    (point - (from + chord * t)).norm()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wave(x: f64) -> Point2<f64> {
        Point2::new(x, 12.0 * (x / 15.0).sin())
    }

    #[test]
    fn a_stroke_is_kept_within_the_tolerance_by_few_nodes() {
        let stroke: Vec<_> = (0..=400).map(|i| wave(f64::from(i) * 0.25)).collect();
        for (tolerance, most) in [(0.5, 14), (0.1, 24)] {
            let fit = through(&stroke, false, tolerance).unwrap();
            assert!(fit.deviation <= tolerance);
            assert!(
                fit.profile.node_count() <= most,
                "{}",
                fit.profile.node_count()
            );
        }
    }

    #[test]
    fn a_round_stroke_closes() {
        let stroke: Vec<_> = (0..=200)
            .map(|i| {
                let angle = f64::from(i) * std::f64::consts::TAU / 200.0;
                Point2::new(30.0 * angle.cos(), 20.0 * angle.sin())
            })
            .collect();
        let fit = through(&stroke, true, 0.2).unwrap();
        assert!(fit.profile.closed);
        assert!(fit.deviation <= 0.2);
        assert!(fit.profile.node_count() <= 16);
    }

    #[test]
    fn a_dot_is_no_stroke() {
        assert!(through(&[Point2::new(1.0, 1.0); 5], false, 0.1).is_err());
    }
}
