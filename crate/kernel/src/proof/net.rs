//! Nets: vector polynomials of degree (3, 3) over the unit square in Bernstein
//! form, and how they are cut.

use super::extremes::greater;
use crate::bezier;
use nalgebra::Vector2;

/// Where a patch is cut: off the middle, for symmetric profiles put exact
/// zeros there, which no sign change could show.
const CUT: f64 = 15.0 / 32.0;

/// A vector net of 4 by 4 coefficients; index 4 i + j, i along x, j along y.
#[derive(Clone, Copy, Debug)]
pub struct Net {
    /// Abscissae.
    pub x: [f64; 16],
    /// Ordinates.
    pub y: [f64; 16],
}

impl Net {
    /// The net whose coefficient i along x and j along y is `at(i, j)`.
    pub fn from_fn(at: impl Fn(usize, usize) -> Vector2<f64>) -> Self {
        let mut net = Self {
            x: [0.0; 16],
            y: [0.0; 16],
        };
        for i in 0..4 {
            for j in 0..4 {
                let vector = at(i, j);
                net.x[4 * i + j] = vector.x;
                net.y[4 * i + j] = vector.y;
            }
        }
        net
    }

    /// Coefficient number `index`.
    pub fn at(&self, index: usize) -> Vector2<f64> {
        Vector2::new(self.x[index], self.y[index])
    }

    /// The two parts of a cut across x, or across y, off the middle.
    pub fn halves(&self, along_x: bool) -> (Self, Self) {
        self.parts(along_x, CUT)
    }

    /// The two halves of a cut in the very middle.
    pub fn middle_halves(&self, along_x: bool) -> (Self, Self) {
        self.parts(along_x, 0.5)
    }

    fn parts(&self, along_x: bool, at: f64) -> (Self, Self) {
        let halve = |c: &[f64; 16]| {
            if along_x {
                parts_along_x(c, at)
            } else {
                parts_along_y(c, at)
            }
        };
        let ((x_low, x_high), (y_low, y_high)) = (halve(&self.x), halve(&self.y));
        (
            Self { x: x_low, y: y_low },
            Self {
                x: x_high,
                y: y_high,
            },
        )
    }

    /// The sum of the steps along x and along y: how much it varies each way.
    pub fn variation(&self) -> (f64, f64) {
        let (mut along_x, mut along_y) = (0.0, 0.0);
        for c in [&self.x, &self.y] {
            for i in 0..3 {
                for j in 0..4 {
                    along_x += (c[4 * i + 4 + j] - c[4 * i + j]).abs();
                    along_y += (c[4 * j + i + 1] - c[4 * j + i]).abs();
                }
            }
        }
        (along_x, along_y)
    }

    /// How long the sum of the coefficients is.
    pub fn length(&self) -> f64 {
        let (x, y): (f64, f64) = (self.x.iter().sum(), self.y.iter().sum());
        x.abs() + y.abs()
    }

    /// How far any coefficient lies from the first, per component.
    pub fn spread(&self) -> f64 {
        let mut most: f64 = 0.0;
        for index in 1..16 {
            most = greater((self.x[index] - self.x[0]).abs(), most);
            most = greater((self.y[index] - self.y[0]).abs(), most);
        }
        most
    }
}

/// The part of the unit square that a patch covers.
#[derive(Clone, Copy, Debug)]
pub struct Extent {
    /// From where to where along x.
    pub x: (f64, f64),
    /// From where to where along y.
    pub y: (f64, f64),
}

impl Extent {
    /// The whole square.
    pub const WHOLE: Self = Self {
        x: (0.0, 1.0),
        y: (0.0, 1.0),
    };

    /// The extents of the two parts of a cut.
    pub fn halves(self, along_x: bool) -> (Self, Self) {
        let cut = |(from, to): (f64, f64)| from + (to - from) * CUT;
        let (mut low, mut high) = (self, self);
        if along_x {
            (low.x.1, high.x.0) = (cut(self.x), cut(self.x));
        } else {
            (low.y.1, high.y.0) = (cut(self.y), cut(self.y));
        }
        (low, high)
    }
}

fn parts_along_x(c: &[f64; 16], at: f64) -> ([f64; 16], [f64; 16]) {
    let (mut low, mut high) = ([0.0; 16], [0.0; 16]);
    for j in 0..4 {
        let (l, h) = cut_row([c[j], c[4 + j], c[8 + j], c[12 + j]], at);
        for i in 0..4 {
            low[4 * i + j] = l[i];
            high[4 * i + j] = h[i];
        }
    }
    (low, high)
}

fn parts_along_y(c: &[f64; 16], at: f64) -> ([f64; 16], [f64; 16]) {
    let (mut low, mut high) = ([0.0; 16], [0.0; 16]);
    for i in 0..4 {
        let row = 4 * i;
        let (l, h) = cut_row([c[row], c[row + 1], c[row + 2], c[row + 3]], at);
        low[row..row + 4].copy_from_slice(&l);
        high[row..row + 4].copy_from_slice(&h);
    }
    (low, high)
}

fn cut_row(row: [f64; 4], at: f64) -> ([f64; 4], [f64; 4]) {
    bezier::parts(row, |a, b| a + (b - a) * at)
}

/// A quadratic as a cubic.
pub fn raised(q: [Vector2<f64>; 3]) -> [Vector2<f64>; 4] {
    [
        q[0],
        (q[0] + q[1] * 2.0) / 3.0,
        (q[1] * 2.0 + q[2]) / 3.0,
        q[2],
    ]
}
