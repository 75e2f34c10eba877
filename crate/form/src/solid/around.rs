//! Curves that go round the axis while their distance and height change, as
//! quintic Bézier pieces within a stated distance.
//!
//! A section point of a ring runs on r(t) (cos a(t), sin a(t)), z(t) with r, a
//! and z polynomials of degree 3 at most. Where r changes with the angle this is
//! a spiral, which no polynomial or rational curve equals; exchange formats have
//! no other curves. So t is cut into equal parts, and on each part the quintic
//! with the same point and first two derivatives at both ends stands for it.
//!
//! The distance is proved, not sampled. For quintic Hermite interpolation on a
//! part of length h the error is at most max|f^(6)| h^6 / (6! 2^6) (remainder of
//! Hermite interpolation, Davis, Interpolation and Approximation, 1963, theorem
//! 3.5.1, from memory; the product of the node factors peaks in the middle). It
//! holds for each projection of f on a fixed direction and so for the length. z
//! is met exactly. f = r e^(ia): its derivatives are bounded by Leibniz' rule from
//! those of r and of e^(ia), and these from those of a by the same rule, since
//! (e^(ia))' = i a' e^(ia).

use super::net::bernstein;
use nalgebra::{Point2, Point3, Vector3};

/// Six factorial times two to the sixth.
const HERMITE: f64 = 46_080.0;
/// Four factorial times two to the fourth.
const CUBIC_HERMITE: f64 = 384.0;
/// The most parts of one band: far more than a full turn at 1e-9 mm needs.
const MOST_PARTS: usize = 4096;

/// A point that moves round the axis, as polynomials in Bernstein form over \[0, 1\].
#[derive(Clone, Debug, PartialEq)]
pub struct Round {
    /// The distance from the axis, mm.
    pub radius: Vec<f64>,
    /// The angle, radians.
    pub angle: Vec<f64>,
    /// The height, mm.
    pub height: Vec<f64>,
}

impl Round {
    /// A bound of a derivative of the plan view by t, mm; order 6 at most.
    fn derivative_bound(&self, order: usize) -> f64 {
        let radius = largest_derivatives(&self.radius);
        let angle = largest_derivatives(&self.angle);
        // The derivatives of e^(ia): each is the one before, times a'.
        let mut turn = [1.0; 7];
        for below in 0..order {
            turn[below + 1] = (0..=below)
                .map(|k| choose(below, k) * turn[below - k] * angle[k + 1])
                .sum();
        }
        (0..=order)
            .map(|k| choose(order, k) * radius[k] * turn[order - k])
            .sum()
    }

    /// The plan view, seen along the axis, as cubic Bézier pieces within
    /// `tolerance` mm: each has the point and slope of the curve at both ends, so
    /// the error is at most max|f^(4)| h^4 / (4! 2^4), as above.
    pub fn plan(&self, tolerance: f64) -> Vec<[Point2<f64>; 4]> {
        let bound = self.derivative_bound(4) / (CUBIC_HERMITE * tolerance);
        let parts = limited(libm::sqrt(libm::sqrt(bound)));
        let step = 1.0 / parts as f64;
        let flat = |vector: Vector3<f64>| Point2::new(vector.x, vector.y);
        let jets: Vec<_> = (0..=parts)
            .map(|part| self.jet(part as f64 * step))
            .collect();
        let pairs = jets.windows(2);
        pairs
            .map(|pair| {
                let [start, end] = [pair[0], pair[1]];
                let third = step / 3.0;
                [
                    start[0],
                    start[0] + start[1] * third,
                    end[0] - end[1] * third,
                    end[0],
                ]
                .map(flat)
            })
            .collect()
    }

    /// How many equal parts keep the quintics within `tolerance` mm.
    pub fn parts(&self, tolerance: f64) -> usize {
        let bound = self.derivative_bound(6) / (HERMITE * tolerance);
        limited(libm::pow(bound, 1.0 / 6.0))
    }

    /// A bound of the distance, at equal t, for `parts` equal parts, mm.
    pub fn distance(&self, parts: usize) -> f64 {
        self.derivative_bound(6) / (HERMITE * libm::pow(parts as f64, 6.0))
    }

    /// The control points of the quintics as one B-spline of degree 5 on [0, 1]
    /// with inner knots counted three times: `3 * parts + 3` of them.
    ///
    /// With parts of equal length, the blossom at (joint - 1, joint three times,
    /// joint + 1) continues the last two Bézier legs: 2 b4 - b3. All others are
    /// Bézier points.
    pub fn spline_controls(&self, parts: usize) -> Vec<Point3<f64>> {
        let bezier = self.quintics(parts);
        let mut controls = bezier[..2].to_vec();
        for part in 0..parts {
            let own = &bezier[5 * part..5 * part + 6];
            controls.extend([own[2], own[3]]);
            if part + 1 < parts {
                controls.push(own[4] + (own[4] - own[3]));
            } else {
                controls.extend([own[4], own[5]]);
            }
        }
        controls
    }

    /// The `5 * parts + 1` Bézier points of the quintics.
    fn quintics(&self, parts: usize) -> Vec<Point3<f64>> {
        let step = 1.0 / parts as f64;
        let mut controls = Vec::with_capacity(5 * parts + 1);
        let mut start = self.jet(0.0);
        controls.push(Point3::from(start[0]));
        for part in 1..=parts {
            let end = self.jet(part as f64 * step);
            let near = start[1] * (step / 5.0);
            let far = end[1] * (step / 5.0);
            let bend = step * step / 20.0;
            controls.extend([
                Point3::from(start[0] + near),
                Point3::from(start[0] + near * 2.0 + start[2] * bend),
                Point3::from(end[0] - far * 2.0 + end[2] * bend),
                Point3::from(end[0] - far),
                Point3::from(end[0]),
            ]);
            start = end;
        }
        controls
    }

    /// The point and its first two derivatives by t.
    fn jet(&self, t: f64) -> [Vector3<f64>; 3] {
        let [r, r1, r2] = jet_of(&self.radius, t);
        let [a, a1, a2] = jet_of(&self.angle, t);
        let [z, z1, z2] = jet_of(&self.height, t);
        let (sine, cosine) = libm::sincos(a);
        // Outward and forward parts, turned by the angle.
        let turned = |out: f64, on: f64, up: f64| {
            Vector3::new(out * cosine - on * sine, out * sine + on * cosine, up)
        };
        [
            turned(r, 0.0, z),
            turned(r1, r * a1, z1),
            turned(r2 - r * a1 * a1, 2.0 * r1 * a1 + r * a2, z2),
        ]
    }
}

/// A number of parts not below `needed`; NaN and infinity end at the cap as well.
fn limited(needed: f64) -> usize {
    (libm::ceil(needed).min(MOST_PARTS as f64) as usize).clamp(1, MOST_PARTS)
}

/// The polynomial and its first two derivatives at `t`.
fn jet_of(coefficients: &[f64], t: f64) -> [f64; 3] {
    let slope = derivative(coefficients);
    let bend = derivative(&slope);
    [coefficients, &slope, &bend].map(|some| bernstein(some, t))
}

/// The Bernstein coefficients of the derivative: degree times the differences.
fn derivative(coefficients: &[f64]) -> Vec<f64> {
    let degree = coefficients.len() - 1;
    if degree == 0 {
        return vec![0.0];
    }
    let pairs = coefficients.windows(2);
    pairs
        .map(|pair| degree as f64 * (pair[1] - pair[0]))
        .collect()
}

/// Bounds of a polynomial and its first six derivatives over \[0, 1\]: the
/// largest Bernstein coefficient of each.
fn largest_derivatives(coefficients: &[f64]) -> [f64; 7] {
    let mut current = coefficients.to_vec();
    [(); 7].map(|()| {
        let largest = current.iter().fold(0.0, |most: f64, c| most.max(c.abs()));
        current = derivative(&current);
        largest
    })
}

fn choose(n: usize, k: usize) -> f64 {
    (0..k).fold(1.0, |product, i| product * (n - i) as f64 / (i + 1) as f64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solid::net::cubic;
    use crate::solid::spline::{Knot, SplineCurve};

    fn spiral() -> Round {
        Round {
            radius: vec![80.0, 60.0, 95.0, 120.0],
            angle: vec![0.2, 0.6, 1.1, 1.5],
            height: vec![0.0, 4.0, 3.0, 9.0],
        }
    }

    /// The quintic pieces at `t` by de Casteljau.
    fn on_quintics(controls: &[Point3<f64>], t: f64) -> Point3<f64> {
        let parts = controls.len() / 5;
        let scaled = t * parts as f64;
        let part = (scaled as usize).min(parts - 1);
        let local = scaled - part as f64;
        let mut work: Vec<_> = controls[5 * part..5 * part + 6]
            .iter()
            .map(|point| point.coords)
            .collect();
        for level in (1..6).rev() {
            for i in 0..level {
                work[i] = work[i] * (1.0 - local) + work[i + 1] * local;
            }
        }
        work[0].into()
    }

    #[test]
    fn the_distance_stays_below_its_bound_and_is_not_idle() {
        for tolerance in [1e-2, 1e-4, 1e-6] {
            let round = spiral();
            let parts = round.parts(tolerance);
            let bound = round.distance(parts);
            assert!(bound <= tolerance);
            let controls = round.quintics(parts);
            let farthest = (0..=1000).fold(0.0, |most: f64, step| {
                let t = f64::from(step) / 1000.0;
                most.max((on_quintics(&controls, t).coords - round.jet(t)[0]).norm())
            });
            assert!(farthest <= bound + 1e-12, "{farthest} {bound}");
            assert!(1e-5 * bound < farthest, "{farthest} {bound}");
        }
    }

    #[test]
    fn the_plan_keeps_within_its_tolerance() {
        for tolerance in [1e-1, 1e-4] {
            let round = spiral();
            let pieces = round.plan(tolerance);
            let mut farthest: f64 = 0.0;
            for step in 0..1000 {
                let t = (f64::from(step) + 0.5) / 1000.0;
                let scaled = t * pieces.len() as f64;
                let piece = &pieces[scaled as usize];
                let point = cubic(piece, scaled.fract());
                let truth = round.jet(t)[0];
                farthest = farthest.max((point - Point2::new(truth.x, truth.y)).norm());
            }
            assert!(
                farthest <= tolerance && 1e-3 * tolerance < farthest,
                "{farthest}"
            );
        }
    }

    #[test]
    fn one_spline_holds_all_quintics() {
        let parts = 7;
        let curve = SplineCurve {
            degree: 5,
            knots: (0..=parts)
                .map(|part| Knot {
                    at: part as f64 / parts as f64,
                    multiplicity: if part % parts == 0 { 6 } else { 3 },
                })
                .collect(),
            controls: spiral().spline_controls(parts),
        };
        let bezier = spiral().quintics(parts);
        for step in 0..=100 {
            let t = f64::from(step) / 100.0;
            assert!((curve.point(t) - on_quintics(&bezier, t)).norm() < 1e-12);
        }
    }

    #[test]
    fn a_circle_has_the_derivatives_of_a_circle() {
        // r = 3, a = 2t: the sixth derivative has length 3 * 2^6.
        let circle = Round {
            radius: vec![3.0, 3.0],
            angle: vec![0.0, 2.0],
            height: vec![0.0, 0.0],
        };
        assert!((circle.derivative_bound(6) - 192.0).abs() < 1e-12);
        assert!((circle.jet(0.5)[2].norm() - 12.0).abs() < 1e-12);
    }
}
