//! Vector polynomials over a cell by their Bernstein coefficients.

use loftkin_kernel::bezier;
use nalgebra::{DMatrix, Vector3};

/// Coefficients of a vector polynomial: one matrix a component, rows by u; and
/// the error of each.
#[derive(Clone)]
pub struct Net {
    /// The coefficients of each component.
    pub parts: [DMatrix<f64>; 3],
    /// By how much each may be wrong.
    pub error: f64,
}

impl Net {
    /// All coefficients.
    pub fn coefficients(&self) -> impl Iterator<Item = Vector3<f64>> + '_ {
        let [x, y, z] = &self.parts;
        (0..x.len()).map(move |k| Vector3::new(x[k], y[k], z[k]))
    }

    /// The mean size of the field is at most this.
    pub fn mean(&self) -> f64 {
        let sum: f64 = self.coefficients().map(|b| b.norm()).sum();
        sum / self.parts[0].len() as f64 + self.rounding()
    }

    /// The mean size of the field on a line along (or across) is at most this, on
    /// whichever line.
    pub fn longest(&self, along: bool) -> f64 {
        let [x, y, z] = &self.parts;
        let (rows, columns) = x.shape();
        let (lines, places) = if along {
            (columns, rows)
        } else {
            (rows, columns)
        };
        let size = |line: usize, place: usize| {
            let at = if along { (place, line) } else { (line, place) };
            Vector3::new(x[at], y[at], z[at]).norm()
        };
        let means = (0..lines).map(|line| {
            let sum: f64 = (0..places).map(|place| size(line, place)).sum();
            sum / places as f64
        });
        means.fold(0.0, f64::max) + self.rounding()
    }

    /// By how much the length of a coefficient may be wrong.
    fn rounding(&self) -> f64 {
        2.0 * self.error
    }

    /// Both halves, along or across.
    pub fn halves(&self, along: bool) -> (Self, Self) {
        let parts = self.parts.clone().map(|part| {
            let part = if along { part } else { part.transpose() };
            let (low, high) = halved(part);
            if along {
                (low, high)
            } else {
                (low.transpose(), high.transpose())
            }
        });
        let half = |parts| Self {
            parts,
            error: self.error,
        };
        let low = parts.clone().map(|(low, _)| low);
        (half(low), half(parts.map(|(_, high)| high)))
    }
}

/// The Chebyshev place `index` of `count` on \[0, 1\].
pub fn place(index: usize, count: usize) -> f64 {
    let angle = std::f64::consts::PI * (index as f64 + 0.5) / count as f64;
    0.5 - 0.5 * libm::cos(angle)
}

/// Both halves of the polynomials whose coefficients are the columns.
fn halved(mut high: DMatrix<f64>) -> (DMatrix<f64>, DMatrix<f64>) {
    let (mut low, count) = (high.clone(), high.nrows());
    let columns = high.as_mut_slice().chunks_exact_mut(count);
    for (high, low) in columns.zip(low.as_mut_slice().chunks_exact_mut(count)) {
        bezier::cut(high, low, |a, b| (a + b) * 0.5);
    }
    (low, high)
}

/// The matrix from values at `degree` + 1 Chebyshev places of \[0, 1\] to
/// Bernstein coefficients.
pub fn to_bernstein(degree: usize) -> DMatrix<f64> {
    let bernstein = DMatrix::from_fn(degree + 1, degree + 1, |row, column| {
        let t = place(row, degree + 1);
        let choose = (0..column).fold(1.0, |value, k| value * (degree - k) as f64 / (k + 1) as f64);
        let power = |base: f64, times: usize| (0..times).fold(1.0, |value, _| value * base);
        choose * power(t, column) * power(1.0 - t, degree - column)
    });
    let size = degree + 1;
    // Places are distinct, so the matrix has an inverse (Bernstein polynomials are
    // a basis).
    bernstein
        .try_inverse()
        .unwrap_or_else(|| DMatrix::identity(size, size))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn halves_are_the_same_polynomial() {
        let net = DMatrix::from_column_slice(4, 1, &[1.0, -2.0, 5.0, 0.5]);
        let (low, high) = halved(net.clone());
        let value = |net: &DMatrix<f64>, t: f64| {
            let [a, b, c, d] = [0, 1, 2, 3].map(|k| net[(k, 0)]);
            let s = 1.0 - t;
            a * s * s * s + 3.0 * b * s * s * t + 3.0 * c * s * t * t + d * t * t * t
        };
        for t in [0.0, 0.3, 0.8, 1.0] {
            assert!((value(&low, t) - value(&net, t / 2.0)).abs() < 1e-14);
            assert!((value(&high, t) - value(&net, 0.5 + t / 2.0)).abs() < 1e-14);
        }
    }
}
