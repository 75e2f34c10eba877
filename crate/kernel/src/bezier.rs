//! De Casteljau's algorithm on a row of Bernstein coefficients: numbers, points,
//! vectors or whole rows of them.
//!
//! The mean of two neighbours is the caller's, for its rounding is what their
//! error bounds count.

/// Cuts the polynomial with the coefficients `row` in two: `row` becomes those of
/// the upper part, `low` those of the lower one. `mean` is that of two neighbours
/// at the cut. `low` is as long as `row`; its values are not looked at.
#[inline(always)]
pub fn cut<T: Copy>(row: &mut [T], low: &mut [T], mean: impl Fn(T, T) -> T) {
    for (level, lowest) in low.iter_mut().enumerate() {
        *lowest = row[0];
        for k in 0..row.len() - 1 - level {
            row[k] = mean(row[k], row[k + 1]);
        }
    }
}

/// The lower and the upper part of the polynomial with the coefficients `row`.
#[inline(always)]
pub fn parts<T: Copy, const N: usize>(row: [T; N], mean: impl Fn(T, T) -> T) -> ([T; N], [T; N]) {
    let (mut low, mut high) = (row, row);
    cut(&mut high, &mut low, mean);
    (low, high)
}

/// The blossom of the polynomial with the coefficients `row`: one argument a round,
/// one fewer than coefficients. With equal arguments it is the value there.
#[inline(always)]
pub fn blossom<T: Copy, const N: usize, const ROUNDS: usize>(
    mut row: [T; N],
    arguments: [f64; ROUNDS],
    mean: impl Fn(T, T, f64) -> T,
) -> T {
    const {
        assert!(N == ROUNDS + 1, "one argument fewer than coefficients");
    }
    for (level, &at) in arguments.iter().enumerate() {
        for k in 0..ROUNDS - level {
            row[k] = mean(row[k], row[k + 1], at);
        }
    }
    row[0]
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn mean(a: f64, b: f64, t: f64) -> f64 {
        a + (b - a) * t
    }

    /// From the definition: the sum of the coefficients times the Bernstein
    /// polynomials.
    fn value(row: [f64; 4], t: f64) -> f64 {
        let s = 1.0 - t;
        row[0] * s * s * s + 3.0 * (row[1] * s * s * t + row[2] * s * t * t) + row[3] * t * t * t
    }

    proptest! {
        #[test]
        fn parts_and_blossoms_are_the_same_polynomial(
            row in prop::array::uniform4(-10.0..10.0f64),
            at in 0.0..1.0f64,
            t in 0.0..1.0f64,
        ) {
            let (low, high) = parts(row, |a, b| mean(a, b, at));
            prop_assert!((value(low, t) - value(row, at * t)).abs() < 1e-12);
            prop_assert!((value(high, t) - value(row, at + (1.0 - at) * t)).abs() < 1e-12);
            prop_assert!((blossom(row, [t; 3], mean) - value(row, t)).abs() < 1e-12);
            // The second coefficient of the lower part: two arguments at its start.
            prop_assert!((blossom(row, [0.0, 0.0, at], mean) - low[1]).abs() < 1e-12);
            let (mut upper, mut lower) = (row, [0.0; 4]);
            cut(&mut upper, &mut lower, |a, b| mean(a, b, at));
            prop_assert_eq!((lower, upper), (low, high));
        }
    }
}
