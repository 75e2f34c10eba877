//! The curve that a profile stands for: cubic spans over the parameter \[0, 1\].
//!
//! The curve given by the f64 control points here *is* the judged curve: every
//! proof speaks of it exactly. Coordinates are grid steps (0.01 mm) about a
//! centre, so nodes are exact whole or half numbers. A shift of one curve never
//! changes a verdict, for sections differ by a shift only.

use crate::bezier;
use crate::family::Pacing;
use crate::grid::STEPS_PER_MM;
use crate::profile::{Outline, Profile, ProfileError};
use nalgebra::{Point2, Vector2};

mod drawn;
mod placed;

pub use placed::Stand;

/// Breakpoints are multiples of this (2^-40), so that equal curves cut at
/// other seams still share theirs; the shortest possible span is 200 times
/// longer.
const BREAK_STEP: f64 = 1.0 / 1_099_511_627_776.0;

/// How far inside its span the tangent of an end without a handle is taken.
const INWARD: f64 = 1.0 / 1_048_576.0;

/// A planar path of cubic Bézier spans.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    breaks: Vec<f64>,
    controls: Vec<Point2<f64>>,
    corners: Vec<bool>,
    centre: Vector2<f64>,
    closed: bool,
    even_speed: bool,
}

impl Curve {
    /// The curve of `profile`, paced by `pacing`.
    ///
    /// # Errors
    /// Whatever [`Profile::validate`] finds.
    pub fn new(profile: &Profile, pacing: Pacing) -> Result<Self, ProfileError> {
        profile.validate()?;
        Ok(match &profile.outline {
            Outline::Nodes(nodes) => drawn::through_nodes(nodes, profile.closed, pacing),
            Outline::Path { start, spans } => {
                drawn::along_path(*start, spans, profile.closed, pacing)
            }
        })
    }

    /// How many spans there are.
    pub fn span_count(&self) -> usize {
        self.breaks.len() - 1
    }

    /// The parameters of the joints, from 0 to 1: one more than spans.
    pub fn breaks(&self) -> &[f64] {
        &self.breaks
    }

    /// The four control points of span `index`, in grid steps about the centre.
    pub fn span(&self, index: usize) -> [Point2<f64>; 4] {
        let first = 3 * index;
        [
            self.controls[first],
            self.controls[first + 1],
            self.controls[first + 2],
            self.controls[first + 3],
        ]
    }

    /// The longest component among the differences of consecutive control points
    /// of span `index`, grid steps: rounding of its slopes is counted in it.
    pub fn longest_step(&self, index: usize) -> f64 {
        let [a, b, c, d] = self.span(index);
        (b - a).amax().max((c - b).amax()).max((d - c).amax())
    }

    /// All control points: three for each span and the last one.
    pub fn controls(&self) -> &[Point2<f64>] {
        &self.controls
    }

    /// Whether joint `index` (0 is the start or seam) is a corner.
    pub fn is_corner(&self, index: usize) -> bool {
        self.corners[index]
    }

    /// What was taken off every point of the drawing, in grid steps.
    pub fn centre(&self) -> Vector2<f64> {
        self.centre
    }

    /// Whether the curve returns to its start.
    pub fn is_closed(&self) -> bool {
        self.closed
    }

    /// The largest coordinate of any control point about the centre, grid steps:
    /// rounding bounds are counted in it.
    pub fn size(&self) -> f64 {
        let points = self.controls.iter();
        points.fold(0.0, |most: f64, point| most.max(point.coords.amax()))
    }

    /// Whether the derivative by the parameter is continuous at every joint
    /// that is no corner: true for nodes paced by the parameter.
    pub fn has_even_speed(&self) -> bool {
        self.even_speed
    }

    /// The span that holds parameter `u` in \[0, 1\], and the fraction along it.
    pub fn locate(&self, u: f64) -> (usize, f64) {
        let after = self.breaks.partition_point(|&at| at <= u);
        let index = after.clamp(1, self.span_count()) - 1;
        let (from, to) = (self.breaks[index], self.breaks[index + 1]);
        (index, (u - from) / (to - from))
    }

    /// The point at parameter `u` in grid steps about the centre: an estimate,
    /// rounded as usual.
    pub fn point(&self, u: f64) -> Point2<f64> {
        let (index, t) = self.locate(u);
        bezier::blossom(self.span(index), [t; 3], |a, b, t| a + (b - a) * t)
    }

    /// The derivative by `u`, in grid steps: an estimate, rounded as usual. Right
    /// at an end without a handle it vanishes; there it is told as a millionth of
    /// the span further in, which has the direction of the tangent.
    pub fn slope(&self, u: f64) -> Vector2<f64> {
        let (index, t) = self.locate(u);
        let [a, b, c, d] = self.span(index);
        let (p, q, r) = (b - a, c - b, d - c);
        if p == Vector2::zeros() && t < INWARD || r == Vector2::zeros() && 1.0 - INWARD < t {
            return q * (6.0 * INWARD / (self.breaks[index + 1] - self.breaks[index]));
        }
        let step = bezier::blossom([p, q, r], [t; 2], |a, b, t| a + (b - a) * t);
        step * (3.0 / (self.breaks[index + 1] - self.breaks[index]))
    }

    /// The derivatives by `u` before and after `u`: equal but at a joint, which
    /// counts as met when a rounding away.
    pub fn slopes_beside(&self, u: f64) -> (Vector2<f64>, Vector2<f64>) {
        let last = self.span_count();
        let joint = self.breaks.partition_point(|&at| at < u - BREAK_STEP);
        if last < joint || u + BREAK_STEP < self.breaks[joint] {
            let slope = self.slope(u);
            return (slope, slope);
        }
        let over = |span: usize| 3.0 / (self.breaks[span + 1] - self.breaks[span]);
        let arriving = |span: usize| arriving(&self.span(span)) * over(span);
        let leaving = |span: usize| leaving(&self.span(span)) * over(span);
        let at_seam = joint == 0 || joint == last;
        match (at_seam, self.closed) {
            (false, _) => (arriving(joint - 1), leaving(joint)),
            (true, true) => (arriving(last - 1), leaving(0)),
            (true, false) if joint == 0 => (leaving(0), leaving(0)),
            (true, false) => (arriving(last - 1), arriving(last - 1)),
        }
    }

    /// The point at parameter `u` of the drawing, in mm.
    pub fn point_mm(&self, u: f64) -> Point2<f64> {
        (self.point(u) + self.centre) / STEPS_PER_MM
    }

    /// The control points of span `index` of the drawing, in mm.
    pub fn span_mm(&self, index: usize) -> [Point2<f64>; 4] {
        self.span(index)
            .map(|point| (point + self.centre) / STEPS_PER_MM)
    }
}

/// A third of the derivative at the start of a span, or the tangent there when
/// it has no handle (see [`Curve::slope`]).
fn leaving(span: &[Point2<f64>]) -> Vector2<f64> {
    if span[0] == span[1] {
        (span[2] - span[1]) * (2.0 * INWARD)
    } else {
        span[1] - span[0]
    }
}

/// The same at its end.
fn arriving(span: &[Point2<f64>]) -> Vector2<f64> {
    if span[2] == span[3] {
        (span[2] - span[1]) * (2.0 * INWARD)
    } else {
        span[3] - span[2]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::profile::Node;

    pub(super) fn arch() -> Profile {
        Profile::open(vec![
            Node::smooth(0, 0),
            Node::smooth(1200, 2000),
            Node::corner(3000, 2600),
            Node::smooth(5200, 1700),
            Node::smooth(6000, 0),
        ])
    }

    #[test]
    fn speed_is_continuous_but_at_corners() {
        let curve = Curve::new(&arch(), Pacing::Parameter).unwrap();
        for (index, &u) in curve.breaks().iter().enumerate().take(4).skip(1) {
            let jump = (curve.slope(u) - curve.slope(u - 1e-12)).norm() / curve.slope(u).norm();
            assert_eq!(curve.is_corner(index), 1e-6 < jump, "joint {index}: {jump}");
        }
    }

    #[test]
    fn slopes_beside_a_corner_differ() {
        let curve = Curve::new(&arch(), Pacing::Parameter).unwrap();
        let corner = curve.breaks()[2];
        let (before, after) = curve.slopes_beside(corner);
        assert!((before - curve.slope(corner - 1e-9)).norm() < 1e-4 * before.norm());
        assert!((after - curve.slope(corner + 1e-9)).norm() < 1e-4 * after.norm());
        assert!(0.1 * before.norm() < (before - after).norm());
        let (before, after) = curve.slopes_beside(0.4321);
        assert_eq!((before, after), (curve.slope(0.4321), curve.slope(0.4321)));
    }
}
