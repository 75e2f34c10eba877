//! The C2 cubic spline through points, by chord length: slopes at the nodes.
//!
//! Equations: with chords `h`, slopes `m` and points `P`,
//! `h[i] m[i-1] + 2 (h[i-1] + h[i]) m[i] + h[i-1] m[i+1]
//!  = 3 (h[i] (P[i]-P[i-1]) / h[i-1] + h[i-1] (P[i+1]-P[i]) / h[i])`
//! (de Boor, A Practical Guide to Splines, 1978, chapter IV; natural ends
//! `2 m[0] + m[1] = 3 (P[1]-P[0]) / h[0]`).
//!
//! Solved by Jacobi sweeps, not by elimination. A sweep treats all nodes alike
//! and both neighbours alike, so a reversed, turned-round, mirrored or
//! half-turned row of points gives the *same bits*, moved accordingly. The
//! proof names such copies by exact comparison. Elimination is faster but its
//! rounding depends on where it starts.

use nalgebra::{Point2, Vector2};

/// Every sweep at least halves the error (each row's neighbours weigh half of
/// its diagonal), so this many bring it below one rounding of an f64.
const SWEEPS: usize = 56;

/// The slopes of the spline with natural ends through two or more points.
///
/// Slopes are derivatives by chord length; `chords[i]` joins points i and i+1.
pub fn natural_slopes(points: &[Point2<f64>], chords: &[f64]) -> Vec<Vector2<f64>> {
    let last = points.len() - 1;
    let steep = |i: usize| (points[i + 1] - points[i]) / chords[i];
    if last == 1 {
        return vec![steep(0); 2];
    }
    let rows: Vec<Row> = (0..=last)
        .map(|i| {
            if i == 0 {
                Row::end(steep(0))
            } else if i == last {
                Row::end(steep(last - 1))
            } else {
                Row::inner(steep(i - 1), steep(i), chords[i - 1], chords[i])
            }
        })
        .collect();
    sweep(&rows, |i| {
        let before = if i == 0 { 1 } else { i - 1 };
        let after = if i == last { last - 1 } else { i + 1 };
        (before, after)
    })
}

/// The slopes of the periodic spline through three or more points;
/// `chords[i]` joins point i and the next, cyclically.
pub fn periodic_slopes(points: &[Point2<f64>], chords: &[f64]) -> Vec<Vector2<f64>> {
    let count = points.len();
    let steep = |i: usize| (points[(i + 1) % count] - points[i]) / chords[i];
    let rows: Vec<Row> = (0..count)
        .map(|i| {
            let before = (i + count - 1) % count;
            Row::inner(steep(before), steep(i), chords[before], chords[i])
        })
        .collect();
    sweep(&rows, |i| ((i + count - 1) % count, (i + 1) % count))
}

/// One equation: twice the slope plus its weighted neighbours is `target`.
struct Row {
    before: f64,
    after: f64,
    target: Vector2<f64>,
}

impl Row {
    fn inner(
        steep_in: Vector2<f64>,
        steep_out: Vector2<f64>,
        chord_in: f64,
        chord_out: f64,
    ) -> Self {
        let before = chord_out / (chord_in + chord_out);
        let after = chord_in / (chord_in + chord_out);
        Self {
            before,
            after,
            target: (steep_in * before + steep_out * after) * 3.0,
        }
    }

    // Both neighbour indices of an end row name the one neighbour it has.
    fn end(steep: Vector2<f64>) -> Self {
        Self {
            before: 0.5,
            after: 0.5,
            target: steep * 3.0,
        }
    }
}

fn sweep(rows: &[Row], neighbours: impl Fn(usize) -> (usize, usize)) -> Vec<Vector2<f64>> {
    let mut slopes: Vec<Vector2<f64>> = rows.iter().map(|row| row.target / 3.0).collect();
    let mut next = slopes.clone();
    for _ in 0..SWEEPS {
        for (i, row) in rows.iter().enumerate() {
            let (before, after) = neighbours(i);
            let pull = slopes[before] * row.before + slopes[after] * row.after;
            next[i] = (row.target - pull) * 0.5;
        }
        std::mem::swap(&mut slopes, &mut next);
    }
    slopes
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chords(points: &[Point2<f64>], closed: bool) -> Vec<f64> {
        let count = points.len() - usize::from(!closed);
        (0..count)
            .map(|i| (points[(i + 1) % points.len()] - points[i]).norm())
            .collect()
    }

    fn ragged() -> Vec<Point2<f64>> {
        [(0, 0), (310, 120), (355, 480), (-90, 610), (-400, 77)]
            .map(|(x, y)| Point2::new(f64::from(x), f64::from(y)))
            .to_vec()
    }

    #[test]
    fn natural_spline_solves_its_equations() {
        let points = ragged();
        let h = chords(&points, false);
        let m = natural_slopes(&points, &h);
        for i in 1..points.len() - 1 {
            let left = m[i - 1] * h[i] + m[i] * (2.0 * (h[i - 1] + h[i])) + m[i + 1] * h[i - 1];
            let right = ((points[i] - points[i - 1]) * (h[i] / h[i - 1])
                + (points[i + 1] - points[i]) * (h[i - 1] / h[i]))
                * 3.0;
            assert!((left - right).norm() < 1e-10 * right.norm());
        }
        let end = m[0] * 2.0 + m[1] - (points[1] - points[0]) * (3.0 / h[0]);
        assert!(end.norm() < 1e-13);
    }

    #[test]
    fn turning_round_and_reversing_keep_every_bit() {
        let points = ragged();
        let slopes = periodic_slopes(&points, &chords(&points, true));
        let mut turned = points.clone();
        turned.rotate_left(2);
        let mut expected = slopes.clone();
        expected.rotate_left(2);
        assert_eq!(periodic_slopes(&turned, &chords(&turned, true)), expected);

        let mut reversed = points;
        reversed.reverse();
        let expected: Vec<_> = slopes.iter().rev().map(|slope| -slope).collect();
        assert_eq!(
            periodic_slopes(&reversed, &chords(&reversed, true)),
            expected
        );
    }
}
