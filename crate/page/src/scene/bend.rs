//! How the active profile runs and bends: tangents at its nodes, and a fringe
//! whose height is the curvature.
//!
//! The curvature of r(t) is (x' y'' - y' x'') / |r'|^3 (do Carmo,
//! Differential Geometry of Curves and Surfaces, 1976, section 1-5): 1/R on a
//! circle of radius R, positive where the curve turns left. It is sampled: an
//! estimate, for the eye only.

use super::{Ink, Item, Scene};
use loftkin_kernel::curve::Curve;
use nalgebra::{Point2, Vector2};

/// Steps of the fringe along one span.
const STEPS: usize = 16;
/// Every so many steps a tooth joins curve and fringe.
const TOOTH: usize = 4;
/// The fringe of a circle is this part of its radius high.
const HEIGHT: f64 = 0.2;
/// The fringe is never higher than this, in pixels.
const HIGHEST: f64 = 90.0;
/// Half the length of a tangent, in pixels.
const TANGENT: f64 = 34.0;
/// About how wide the label of the least radius is, in pixels.
const LABEL: f64 = 140.0;

/// A place on a curve with its fringe.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Tooth {
    /// On the curve, in mm.
    point: Point2<f64>,
    /// The unit normal on the left.
    left: Vector2<f64>,
    /// In 1/mm.
    curvature: f64,
}

impl Scene<'_> {
    /// The fringe, if it is to be shown.
    pub(super) fn bend(&mut self) {
        if let (true, Some(curve)) = (self.board.looks().bend, self.active_curve()) {
            self.fringe(curve);
        }
    }

    fn fringe(&mut self, curve: &Curve) {
        let height = self.fringe_height(curve);
        for span in 0..curve.span_count() {
            let teeth = teeth(curve.span_mm(span));
            let base: Vec<Point2<f64>> = teeth.iter().map(|t| self.screen(t.point)).collect();
            let tips: Vec<Point2<f64>> = teeth.iter().map(|t| self.tip(t, height)).collect();
            let band = base.iter().chain(tips.iter().rev()).copied().collect();
            self.items.push(Item::Area {
                ink: Ink::Bend,
                strength: 0.16,
                points: band,
            });
            for (from, to) in base.iter().zip(&tips).step_by(TOOTH) {
                self.line(Ink::Bend, 0.75, vec![*from, *to]);
            }
            self.line(Ink::Bend, 1.5, tips);
        }
    }

    /// The least radius, where it is, over everything else.
    pub(super) fn least_radius(&mut self) {
        let (true, Some(curve)) = (self.board.looks().bend, self.active_curve()) else {
            return;
        };
        let teeth = (0..curve.span_count()).flat_map(|span| teeth(curve.span_mm(span)));
        let sharpest = teeth.max_by(|a, b| a.curvature.abs().total_cmp(&b.curvature.abs()));
        if let Some(tooth) = sharpest.filter(|tooth| 1e-6 < tooth.curvature.abs()) {
            let radius = 1.0 / tooth.curvature.abs();
            let tip = self.tip(&tooth, self.fringe_height(curve));
            let at = self.beside(self.screen(tooth.point), tip);
            self.label(Ink::Bend, at, format!("least radius {radius:.2} mm"));
        }
    }

    /// Pixels for a curvature of one. It goes with the square of the size, so
    /// that the fringe of a circle is a part of its radius high.
    fn fringe_height(&self, curve: &Curve) -> f64 {
        half_width(curve).powi(2) * HEIGHT * self.board.view().scale
    }

    fn tip(&self, tooth: &Tooth, height: f64) -> Point2<f64> {
        let rise = (-tooth.curvature * height).clamp(-HIGHEST, HIGHEST);
        self.screen(tooth.point) + Vector2::new(tooth.left.x, -tooth.left.y) * rise
    }

    /// Where a label stands beyond `tip`, on the far side of `base`, whole in the window.
    fn beside(&self, base: Point2<f64>, tip: Point2<f64>) -> Point2<f64> {
        let size = self.board.view().size;
        let left = if tip.x < base.x {
            tip.x - LABEL - 8.0
        } else {
            tip.x + 8.0
        };
        let down = if tip.y < base.y { -6.0 } else { 14.0 };
        Point2::new(
            left.min(size.x - LABEL).max(4.0),
            (tip.y + down).min(size.y - 20.0).max(14.0),
        )
    }

    /// The tangent at each joint, if they are to be shown; at a corner those on both sides.
    pub(super) fn tangents(&mut self) {
        let (true, Some(curve)) = (self.board.looks().tangents, self.active_curve()) else {
            return;
        };
        for &u in curve.breaks() {
            let at = self.screen(curve.point_mm(u));
            let (before, after) = curve.slopes_beside(u);
            for (slope, sign) in [(before, -1.0), (after, 1.0)] {
                let length = slope.norm();
                if 0.0 < length {
                    let arm = Vector2::new(slope.x, -slope.y) * (sign * TANGENT / length);
                    self.line(Ink::Bend, 2.0, vec![at, at + arm]);
                }
            }
        }
    }
}

/// Places along a cubic span, both ends included, that have a direction.
fn teeth([a, b, c, d]: [Point2<f64>; 4]) -> Vec<Tooth> {
    let (p, q, r) = (b - a, c - b, d - c);
    (0..=STEPS)
        .filter_map(|step| {
            let t = step as f64 / STEPS as f64;
            let (pq, qr) = (p.lerp(&q, t), q.lerp(&r, t));
            let first = pq.lerp(&qr, t) * 3.0;
            let second = (qr - pq) * 6.0;
            let speed = first.norm();
            let (ab, bc, cd) = (a + p * t, b + q * t, c + r * t);
            let (abc, bcd) = (ab + (bc - ab) * t, bc + (cd - bc) * t);
            (0.0 < speed).then(|| Tooth {
                point: abc + (bcd - abc) * t,
                left: Vector2::new(-first.y, first.x) / speed,
                curvature: first.perp(&second) / speed.powi(3),
            })
        })
        .collect()
}

/// Half the larger side of the box around the control points, in mm.
fn half_width(curve: &Curve) -> f64 {
    let points = || (0..curve.span_count()).flat_map(|span| curve.span_mm(span));
    let start = curve.point_mm(0.0);
    let (low, high) = points().fold((start, start), |(low, high), p| (low.inf(&p), high.sup(&p)));
    (high - low).amax() / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_curvature_of_a_circular_arc_is_one_over_its_radius() {
        // A quarter of a circle of radius 10 mm as a cubic, with the handles
        // that make its middle lie on the circle (common practice): its
        // curvature is 2.2 % off at the ends.
        let k = 4.0 / 3.0 * (std::f64::consts::FRAC_PI_8).tan() * 10.0;
        let arc = [
            Point2::new(10.0, 0.0),
            Point2::new(10.0, k),
            Point2::new(k, 10.0),
            Point2::new(0.0, 10.0),
        ];
        let left = teeth(arc);
        assert_eq!(left.len(), STEPS + 1);
        for tooth in left {
            assert!((tooth.curvature - 0.1).abs() < 0.1 * 0.025, "{tooth:?}");
            // The centre lies on the left.
            let to_centre = -tooth.point.coords.normalize();
            assert!((tooth.left - to_centre).norm() < 0.02);
        }
        let [a, b, c, d] = arc;
        for tooth in teeth([d, c, b, a]) {
            assert!((tooth.curvature + 0.1).abs() < 0.1 * 0.025);
        }
    }

    #[test]
    fn a_line_has_no_curvature_and_a_point_no_direction() {
        let point = |x: f64| Point2::new(x, 2.0 * x);
        let line = [point(0.0), point(1.0), point(2.0), point(3.0)];
        assert!(teeth(line).iter().all(|tooth| tooth.curvature == 0.0));
        assert!(teeth([point(1.0); 4]).is_empty());
    }
}
