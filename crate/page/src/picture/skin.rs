//! The skin between the chosen pair as a smooth surface: its slopes, the way it
//! faces, its curvature.
//!
//! S(u, v) in mm. With n = S_u x S_v, the Gaussian curvature is
//! K = ((S_uu.n)(S_vv.n) - (S_uv.n)^2) / |n|^4 (do Carmo, Differential Geometry
//! of Curves and Surfaces, 3-3). In a stack S_vv = 0, and K <= 0 as for every
//! ruled surface. For the eye only: nothing here takes part in a verdict.

use super::standing::Stand;
use crate::board::Board;
use loftkin_kernel::curve::Curve;
use loftkin_kernel::grid::STEPS_PER_MM;
use nalgebra::{Vector2, Vector3};

/// The skin of one pair.
pub struct Skin<'a> {
    curves: [&'a Curve; 2],
    stand: Stand,
}

/// The skin at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Where, in mm.
    pub point: Vector3<f64>,
    /// The slope along the section, in mm for the whole way.
    pub along: Vector3<f64>,
    /// The slope across, in mm for the whole way.
    pub across: Vector3<f64>,
    /// The Gaussian curvature in 1/mm^2; not a number at a singular point.
    pub curvature: f64,
    /// The twist at this ruling: degrees from the first profile's direction to
    /// the second's, of no sign.
    pub twist: f64,
}

impl Spot {
    /// The direction that the skin faces, of length 1; none at a singular point.
    pub fn facing(&self) -> Option<Vector3<f64>> {
        let normal = self.along.cross(&self.across);
        normal.try_normalize(1e-9 * self.along.norm() * self.across.norm())
    }
}

impl<'a> Skin<'a> {
    /// Of the chosen pair of `board`.
    pub fn of(board: &'a Board) -> Option<Self> {
        let (first, second) = board.pair()?;
        let document = board.document();
        Some(Self::new(
            [document.curve(first)?, document.curve(second)?],
            Stand::of(board),
        ))
    }

    /// Between two curves that stand in a given way.
    pub fn new(curves: [&'a Curve; 2], stand: Stand) -> Self {
        Self { curves, stand }
    }

    /// The skin at fractions `along` and `across`.
    pub fn at(&self, along: f64, across: f64) -> Spot {
        let [p, q] = self.curves.map(|curve| curve.point_mm(along).coords);
        let [pu, qu] = self.curves.map(|curve| curve.slope(along) / STEPS_PER_MM);
        let [puu, quu] = self.curves.map(|curve| bending(curve, along));
        let mix = |a: Vector2<f64>, b: Vector2<f64>| a + (b - a) * across;
        let (c, cu, cuu) = (mix(p, q), mix(pu, qu), mix(puu, quu));
        let (cv, cuv) = (q - p, qu - pu);
        let flat = |c: Vector2<f64>| Vector3::new(c.x, 0.0, -c.y);
        let (du, dv, duu, duv, dvv) = match self.stand {
            Stand::Stack(rise) => (
                flat(cu),
                flat(cv) + Vector3::y() * rise,
                flat(cuu),
                flat(cuv),
                Vector3::zeros(),
            ),
            Stand::Ring(opening) => {
                let (sin, cos) = ((across - 0.5) * opening).sin_cos();
                let out = |c: Vector2<f64>| Vector3::new(c.x * sin, c.y, c.x * cos);
                let round = Vector3::new(cos, 0.0, -sin) * opening;
                let inward = -Vector3::new(sin, 0.0, cos) * opening * opening;
                (
                    out(cu),
                    out(cv) + round * c.x,
                    out(cuu),
                    out(cuv) + round * cu.x,
                    round * (2.0 * cv.x) + inward * c.x,
                )
            }
        };
        let normal = du.cross(&dv);
        let bent = duu.dot(&normal) * dvv.dot(&normal) - duv.dot(&normal).powi(2);
        Spot {
            point: self.stand.place(c.into(), across),
            along: du,
            across: dv,
            curvature: bent / normal.norm_squared().powi(2),
            twist: pu.perp(&qu).atan2(pu.dot(&qu)).to_degrees().abs(),
        }
    }
}

/// The second derivative by the parameter, in mm.
fn bending(curve: &Curve, along: f64) -> Vector2<f64> {
    let (span, t) = curve.locate(along);
    let [a, b, c, d] = curve.span_mm(span).map(|point| point.coords);
    let length = curve.breaks()[span + 1] - curve.breaks()[span];
    let (start, end) = (a - b * 2.0 + c, b - c * 2.0 + d);
    (start + (end - start) * t) * (6.0 / (length * length))
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::family::Pacing;
    use loftkin_kernel::profile::{Node, Profile};
    use std::f64::consts::{FRAC_PI_4, TAU};

    fn curve(closed: bool, points: impl Iterator<Item = (f64, f64)>) -> Curve {
        let steps = |mm: f64| (100.0 * mm).round() as i32;
        let nodes = points
            .map(|(x, y)| Node::smooth(steps(x), steps(y)))
            .collect();
        let profile = if closed {
            Profile::closed(nodes)
        } else {
            Profile::open(nodes)
        };
        Curve::new(&profile, Pacing::Node).unwrap()
    }

    fn circle(centre: f64, radius: f64, turn: f64) -> Curve {
        let angle = move |k: i32| TAU * f64::from(k) / 64.0 + turn;
        let at = move |k: i32| (centre + radius * angle(k).cos(), radius * angle(k).sin());
        curve(true, (0..64).map(at))
    }

    /// Kühnel, Differential Geometry, ruled surfaces: K = -l^2/(l^2 + t^2)^2,
    /// with l the parameter of distribution and t the way along the ruling
    /// from the narrowest place. Two equal circles of radius R turned by a
    /// make a hyperboloid of one sheet; there l = (h/2) cot(a/2).
    #[test]
    fn turned_circles_have_the_curvature_of_a_hyperboloid() {
        let (radius, rise, turn) = (1000.0, 900.0, 1.2_f64);
        let circles = [circle(0.0, radius, 0.0), circle(0.0, radius, turn)];
        let skin = Skin::new([&circles[0], &circles[1]], Stand::Stack(rise));
        let distribution = 0.5 * rise / (turn / 2.0).tan();
        let ruling = (rise * rise + (2.0 * radius * (turn / 2.0).sin()).powi(2)).sqrt();
        for across in [0.0, 0.2, 0.5, 0.9] {
            let t = (across - 0.5) * ruling;
            let wanted = -distribution.powi(2) / (distribution.powi(2) + t * t).powi(2);
            for along in [0.013, 0.31, 0.77] {
                let found = skin.at(along, across).curvature;
                assert!((found / wanted - 1.0).abs() < 2e-3, "{found} for {wanted}");
            }
        }
    }

    /// The helicoid (s cos a, s sin a, c a) is ruled from the plane x = p to the
    /// plane x = q by like a: the profiles are y = p tan a and y = q tan a over
    /// c a. K = -c^2/(c^2 + s^2)^2 [derived; Kühnel's formula with l = c]. Within
    /// a span of the splines a is not quite even, which is worth a hundredth.
    #[test]
    fn a_helicoid_has_its_curvature() {
        let (pitch, from, to) = (400.0, 300.0, 900.0);
        let profile = |x: f64| {
            let angle = |k: i32| FRAC_PI_4 * (f64::from(k) / 20.0 - 1.0);
            curve(
                false,
                (0..=40).map(move |k| (x * angle(k).tan(), pitch * angle(k))),
            )
        };
        let profiles = [profile(from), profile(to)];
        let skin = Skin::new([&profiles[0], &profiles[1]], Stand::Stack(to - from));
        for across in [0.0, 0.4, 1.0] {
            for along in [0.3, 0.5, 0.65] {
                let angle = FRAC_PI_4 * (2.0 * along - 1.0);
                let off = (from + (to - from) * across) / angle.cos();
                let wanted = -pitch.powi(2) / (pitch.powi(2) + off * off).powi(2);
                let found = skin.at(along, across).curvature;
                assert!((found / wanted - 1.0).abs() < 2e-2, "{found} for {wanted}");
            }
        }
    }

    /// A torus, K = cos f / (r (R + r cos f)) (do Carmo, 3-3, example 5; from
    /// memory). Nodes on the grid leave some thousandths.
    #[test]
    fn a_ring_of_equal_circles_has_the_curvature_of_a_torus() {
        let (large, small) = (3000.0, 1000.0);
        let round = circle(large, small, 0.0);
        let skin = Skin::new([&round, &round], Stand::Ring(1.0));
        for along in [0.0, 0.1, 0.25, 0.45, 0.8] {
            let cos = (TAU * along).cos();
            let wanted = cos / (small * (large + small * cos));
            let found = skin.at(along, 0.37).curvature;
            assert!(
                (found - wanted).abs() < 5e-3 / (small * large),
                "{found} for {wanted}"
            );
        }
    }

    #[test]
    fn a_cylinder_is_flat_and_faces_outward_along_its_radius() {
        let round = circle(0.0, 500.0, 0.0);
        let skin = Skin::new([&round, &round], Stand::Stack(800.0));
        let spot = skin.at(0.25, 0.5);
        assert!(spot.curvature.abs() < 1e-12);
        let facing = spot.facing().unwrap();
        assert!((facing.z.abs() - 1.0).abs() < 1e-3, "{facing}");
        assert!(spot.twist < 1e-6);
    }
}
