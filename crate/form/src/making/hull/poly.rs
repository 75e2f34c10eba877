//! Polynomials in two variables over the unit square, by their Bernstein
//! coefficients: the values of one lie in the hull of its coefficients.
//!
//! Coefficients are kept multiplied by their binomials. Then the product of two
//! polynomials is the convolution of their coefficients (Farouki and Rajan,
//! Algorithms for polynomials in Bernstein form, Computer Aided Geometric Design 5,
//! 1988, 1-26).

/// Binomial coefficients of a row, as floats.
fn binomials(degree: usize) -> Vec<f64> {
    let mut row = vec![1.0; degree + 1];
    for k in 1..degree {
        row[k] = row[k - 1] * (degree + 1 - k) as f64 / k as f64;
    }
    row
}

/// A polynomial.
#[derive(Clone, Debug, PartialEq)]
pub struct Poly {
    /// Coefficients along and across: degree + 1 of each.
    size: (usize, usize),
    /// By row (along), each times both binomials.
    scaled: Vec<f64>,
}

impl Poly {
    /// A constant.
    pub fn constant(value: f64) -> Self {
        Self {
            size: (1, 1),
            scaled: vec![value],
        }
    }

    /// By Bernstein coefficients, `rows` along times `columns` across.
    pub fn new(rows: usize, columns: usize, at: impl Fn(usize, usize) -> f64) -> Self {
        let (along, across) = (binomials(rows - 1), binomials(columns - 1));
        let scaled = (0..rows * columns).map(|k| {
            let (row, column) = (k / columns, k % columns);
            at(row, column) * along[row] * across[column]
        });
        Self {
            size: (rows, columns),
            scaled: scaled.collect(),
        }
    }

    fn is_zero(&self) -> bool {
        self.scaled.iter().all(|value| *value == 0.0)
    }

    /// Coefficients along and across.
    pub fn size(&self) -> (usize, usize) {
        self.size
    }

    /// Its Bernstein coefficients.
    pub fn coefficients(&self) -> Vec<f64> {
        let (rows, columns) = self.size;
        let (along, across) = (binomials(rows - 1), binomials(columns - 1));
        let scaled = self.scaled.iter().enumerate();
        scaled
            .map(|(k, value)| value / (along[k / columns] * across[k % columns]))
            .collect()
    }

    /// The product with `other`.
    pub fn times(&self, other: &Self) -> Self {
        if self.is_zero() || other.is_zero() {
            return Self::constant(0.0);
        }
        let (rows, columns) = (
            self.size.0 + other.size.0 - 1,
            self.size.1 + other.size.1 - 1,
        );
        let mut scaled = vec![0.0; rows * columns];
        for (row, line) in self.scaled.chunks(self.size.1).enumerate() {
            for (other_row, other_line) in other.scaled.chunks(other.size.1).enumerate() {
                let start = (row + other_row) * columns;
                for (column, one) in line.iter().enumerate() {
                    let sums = &mut scaled[start + column..];
                    for (sum, two) in sums.iter_mut().zip(other_line) {
                        *sum += one * two;
                    }
                }
            }
        }
        Self {
            size: (rows, columns),
            scaled,
        }
    }

    /// The same times a number.
    pub fn scaled(mut self, factor: f64) -> Self {
        self.scaled.iter_mut().for_each(|value| *value *= factor);
        self
    }

    /// The same polynomial with at least so many coefficients along and across.
    pub fn raised(&self, size: (usize, usize)) -> Self {
        let (rows, columns) = (
            size.0.saturating_sub(self.size.0),
            size.1.saturating_sub(self.size.1),
        );
        if self.is_zero() {
            let size = (size.0.max(self.size.0), size.1.max(self.size.1));
            return Self {
                size,
                scaled: vec![0.0; size.0 * size.1],
            };
        }
        if (rows, columns) == (0, 0) {
            return self.clone();
        }
        self.times(&Self::new(rows + 1, columns + 1, |_, _| 1.0))
    }

    /// The sum of both, `other` times `factor`.
    pub fn plus(&self, other: &Self, factor: f64) -> Self {
        let size = (self.size.0.max(other.size.0), self.size.1.max(other.size.1));
        let mut sum = self.raised(size);
        for (sum, value) in sum.scaled.iter_mut().zip(other.raised(size).scaled) {
            *sum += factor * value;
        }
        sum
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(poly: &Poly, u: f64, v: f64) -> f64 {
        let (rows, columns) = poly.size();
        let bernstein = |degree: usize, k: usize, t: f64| {
            let power = |base: f64, times: usize| (0..times).fold(1.0, |value, _| value * base);
            binomials(degree)[k] * power(t, k) * power(1.0 - t, degree - k)
        };
        let coefficients = poly.coefficients();
        (0..rows * columns)
            .map(|k| {
                coefficients[k]
                    * bernstein(rows - 1, k / columns, u)
                    * bernstein(columns - 1, k % columns, v)
            })
            .sum()
    }

    /// Products, sums and raised forms have the values that they should have.
    #[test]
    fn arithmetic_is_that_of_values() {
        let one = Poly::new(3, 2, |row, column| 1.0 + row as f64 - 2.0 * column as f64);
        let two = Poly::new(2, 4, |row, column| 0.5 - (row * column) as f64);
        for (u, v) in [(0.0, 0.0), (0.3, 0.8), (1.0, 0.25)] {
            let (a, b) = (value(&one, u, v), value(&two, u, v));
            let near = |poly: &Poly, exact: f64| (value(poly, u, v) - exact).abs() < 1e-13;
            assert!(near(&one.times(&two), a * b));
            assert!(near(&one.plus(&two, -3.0), a - 3.0 * b));
            assert!(near(&one.raised((6, 5)), a));
            assert!(near(&one.clone().scaled(2.0), 2.0 * a));
        }
        assert_eq!(binomials(5), [1.0, 5.0, 10.0, 10.0, 5.0, 1.0]);
    }
}
