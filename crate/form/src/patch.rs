//! One place of a surface with its derivatives, and how a section is set into
//! space.

use crate::stations::cosine_and_sine;
use loftkin_kernel::curve::Curve;
use loftkin_kernel::grid::STEPS_PER_MM;
use nalgebra::{Point3, Vector2, Vector3};

/// A value with its derivatives by u: value, first, second.
pub type Jet = [Vector2<f64>; 3];

/// A point of the surface with its derivatives, in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Patch {
    /// The point.
    pub point: Point3<f64>,
    /// By u.
    pub along: Vector3<f64>,
    /// By v.
    pub across: Vector3<f64>,
    /// Twice by u.
    pub along_along: Vector3<f64>,
    /// By u and v.
    pub along_across: Vector3<f64>,
    /// Twice by v.
    pub across_across: Vector3<f64>,
}

impl Patch {
    /// S_u × S_v: its length is the area element; [`crate::piece::Piece::outward`] tells which
    /// way it points.
    pub fn cross(&self) -> Vector3<f64> {
        self.along.cross(&self.across)
    }

    /// The mean and the Gauss curvature, in 1/mm and 1/mm²: the mean is positive
    /// where the surface bends toward S_u × S_v (Kühnel, Differential Geometry,
    /// 2015, 3.13). Not a number where S_u × S_v vanishes.
    pub fn curvatures(&self) -> (f64, f64) {
        let cross = self.cross();
        let squared = cross.norm_squared();
        let length = libm::sqrt(squared);
        let (e, f, g) = (
            self.along.norm_squared(),
            self.along.dot(&self.across),
            self.across.norm_squared(),
        );
        let [l, m, n] = [self.along_along, self.along_across, self.across_across]
            .map(|second| second.dot(&cross) / length);
        let mean = (l * g - 2.0 * m * f + n * e) / (2.0 * squared);
        (mean, (l * n - m * m) / squared)
    }

    /// The two principal curvatures in 1/mm, the larger first; positive bends
    /// toward S_u × S_v.
    pub fn principal_curvatures(&self) -> (f64, f64) {
        let (mean, gauss) = self.curvatures();
        // Rounding may leave a little below 0 at a round place.
        let spread = libm::sqrt((mean * mean - gauss).max(0.0));
        (mean + spread, mean - spread)
    }
}

/// The point of `curve` at `u` with its derivatives, in mm of the drawing.
pub fn curve_jet(curve: &Curve, u: f64) -> Jet {
    let (index, t) = curve.locate(u);
    let length = curve.breaks()[index + 1] - curve.breaks()[index];
    let [a, b, c, d] = curve.span_mm(index).map(|point| point.coords);
    let [ab, bc, cd] = [a + (b - a) * t, b + (c - b) * t, c + (d - c) * t];
    let (abc, bcd) = (ab + (bc - ab) * t, bc + (cd - bc) * t);
    let bend = cd - bc * 2.0 + ab;
    let run = bcd - abc;
    // Right at an end without a handle only the kernel's slope has a direction.
    let by_u = if run == Vector2::zeros() {
        curve.slope(u) / STEPS_PER_MM
    } else {
        run * (3.0 / length)
    };
    [abc + run * t, by_u, bend * (6.0 / (length * length))]
}

/// A section (by v, then by u) in its plane at a height, `place` with its
/// derivatives.
pub fn stacked(section: &[[Vector2<f64>; 3]; 3], place: [f64; 3]) -> Patch {
    let set = |by_v: usize, by_u: usize| {
        let flat = section[by_v][by_u];
        let height = if by_u == 0 { place[by_v] } else { 0.0 };
        Vector3::new(flat.x, flat.y, height)
    };
    Patch {
        point: set(0, 0).into(),
        along: set(0, 1),
        across: set(1, 0),
        along_along: set(0, 2),
        along_across: set(1, 1),
        across_across: set(2, 0),
    }
}

/// A section in its half-plane, `place` in degrees. The half-plane turns with v: with radial direction e and f = de/dangle,
/// (r e)' = r' e + r a' f and (r e)'' = (r'' - r a'²) e + (2 r' a' + r a'') f.
pub fn ringed(section: &[[Vector2<f64>; 3]; 3], place: [f64; 3]) -> Patch {
    let (cosine, sine) = cosine_and_sine(place[0]);
    let (turn, turning) = (place[1].to_radians(), place[2].to_radians());
    let set = |radial: f64, round: f64, height: f64| {
        Vector3::new(
            radial * cosine - round * sine,
            radial * sine + round * cosine,
            height,
        )
    };
    let [here, by_v, by_vv] = section;
    Patch {
        point: set(here[0].x, 0.0, here[0].y).into(),
        along: set(here[1].x, 0.0, here[1].y),
        across: set(by_v[0].x, here[0].x * turn, by_v[0].y),
        along_along: set(here[2].x, 0.0, here[2].y),
        along_across: set(by_v[1].x, here[1].x * turn, by_v[1].y),
        across_across: set(
            by_vv[0].x - here[0].x * turn * turn,
            2.0 * by_v[0].x * turn + here[0].x * turning,
            by_vv[0].y,
        ),
    }
}
