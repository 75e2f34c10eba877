//! The C2 cubic spline through points, by its second derivatives.
//!
//! With chords `h`, moments `M` and points `P`,
//! `h[i-1] M[i-1] + 2 (h[i-1] + h[i]) M[i] + h[i] M[i+1]
//!  = 6 ((P[i+1] - P[i]) / h[i] - (P[i] - P[i-1]) / h[i-1])`,
//! natural ends `M = 0` (Stoer and Bulirsch, Introduction to Numerical
//! Analysis, section 2.4: from memory, and checked below against the
//! interpolation conditions). Solved by elimination, the cyclic system by the
//! Sherman-Morrison formula: another unknown and another algorithm than the
//! kernel's.

use super::Vector;

/// One cubic in its local parameter t of \[0, 1\]: the sum of `c[k] t^k`.
pub type Cubic = [Vector; 4];

/// The cubics of the spline with natural ends; `chords[i]` joins points i and i+1.
pub fn natural(points: &[Vector], chords: &[f64]) -> Vec<Cubic> {
    let last = points.len() - 1;
    let mut moments = vec![Vector::zeros(); points.len()];
    if 1 < last {
        let rows = last - 1;
        let lower: Vec<f64> = (0..rows).map(|i| chords[i]).collect();
        let middle: Vec<f64> = (0..rows)
            .map(|i| 2.0 * (chords[i] + chords[i + 1]))
            .collect();
        let upper: Vec<f64> = (0..rows).map(|i| chords[i + 1]).collect();
        let right: Vec<Vector> = (0..rows)
            .map(|i| {
                bend(
                    points[i],
                    points[i + 1],
                    points[i + 2],
                    chords[i],
                    chords[i + 1],
                )
            })
            .collect();
        let solved = eliminate(&lower, &middle, &upper, &right);
        moments[1..last].copy_from_slice(&solved);
    }
    (0..last)
        .map(|i| {
            cubic(
                points[i],
                points[i + 1],
                moments[i],
                moments[i + 1],
                chords[i],
            )
        })
        .collect()
}

/// The cubics of the periodic spline; `chords[i]` joins point i and the next, cyclically.
pub fn periodic(points: &[Vector], chords: &[f64]) -> Vec<Cubic> {
    let count = points.len();
    let before = |i: usize| (i + count - 1) % count;
    let after = |i: usize| (i + 1) % count;
    let lower: Vec<f64> = (0..count).map(|i| chords[before(i)]).collect();
    let mut middle: Vec<f64> = (0..count)
        .map(|i| 2.0 * (chords[before(i)] + chords[i]))
        .collect();
    let upper: Vec<f64> = chords.to_vec();
    let right: Vec<Vector> = (0..count)
        .map(|i| {
            bend(
                points[before(i)],
                points[i],
                points[after(i)],
                chords[before(i)],
                chords[i],
            )
        })
        .collect();
    // The two corner entries are equal (the chord that closes the ring); they
    // become a rank-one term u u^T / gamma with u = (gamma, 0, ..., 0, corner).
    let corner = chords[count - 1];
    let gamma = -middle[0];
    middle[0] -= gamma;
    middle[count - 1] -= corner * corner / gamma;
    let plain = eliminate(&lower, &middle, &upper, &right);
    let mut rank_one = vec![Vector::zeros(); count];
    rank_one[0] = Vector::new(gamma, 0.0);
    rank_one[count - 1] = Vector::new(corner, 0.0);
    let along = eliminate(&lower, &middle, &upper, &rank_one);
    let share = corner / gamma;
    let scale = 1.0 + along[0].x + share * along[count - 1].x;
    let pull = (plain[0] + plain[count - 1] * share) / scale;
    let moments: Vec<Vector> = (0..count).map(|i| plain[i] - pull * along[i].x).collect();
    (0..count)
        .map(|i| {
            cubic(
                points[i],
                points[after(i)],
                moments[i],
                moments[after(i)],
                chords[i],
            )
        })
        .collect()
}

fn bend(a: Vector, b: Vector, c: Vector, first: f64, second: f64) -> Vector {
    ((c - b) / second - (b - a) / first) * 6.0
}

fn cubic(from: Vector, to: Vector, moment_in: Vector, moment_out: Vector, chord: f64) -> Cubic {
    let square = chord * chord;
    [
        from,
        to - from - (moment_in * 2.0 + moment_out) * (square / 6.0),
        moment_in * (square / 2.0),
        (moment_out - moment_in) * (square / 6.0),
    ]
}

/// Elimination for a tridiagonal system; `lower[0]` and the last of `upper` are unused.
fn eliminate(lower: &[f64], middle: &[f64], upper: &[f64], right: &[Vector]) -> Vec<Vector> {
    let count = right.len();
    let mut pivots = middle.to_vec();
    let mut values = right.to_vec();
    for i in 1..count {
        let factor = lower[i] / pivots[i - 1];
        pivots[i] -= factor * upper[i - 1];
        let above = values[i - 1];
        values[i] -= above * factor;
    }
    values[count - 1] /= pivots[count - 1];
    for i in (0..count - 1).rev() {
        let below = values[i + 1];
        values[i] = (values[i] - below * upper[i]) / pivots[i];
    }
    values
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ragged() -> Vec<Vector> {
        [
            (0., 0.),
            (310., 120.),
            (355., 480.),
            (-90., 610.),
            (-400., 77.),
        ]
        .map(|(x, y)| Vector::new(x, y))
        .to_vec()
    }

    fn joint_gap(before: &Cubic, after: &Cubic, h0: f64, h1: f64) -> f64 {
        let value = before[0] + before[1] + before[2] + before[3] - after[0];
        let slope = (before[1] + before[2] * 2.0 + before[3] * 3.0) / h0 - after[1] / h1;
        let bend = (before[2] * 2.0 + before[3] * 6.0) / (h0 * h0) - after[2] * 2.0 / (h1 * h1);
        value.norm() + slope.norm() + bend.norm()
    }

    #[test]
    fn joints_are_twice_continuous_and_ends_are_natural() {
        let points = ragged();
        let count = points.len();
        let chords: Vec<f64> = (0..count)
            .map(|i| (points[(i + 1) % count] - points[i]).norm())
            .collect();
        let open = natural(&points, &chords[..count - 1]);
        for i in 1..open.len() {
            assert!(joint_gap(&open[i - 1], &open[i], chords[i - 1], chords[i]) < 1e-9);
        }
        assert!(open[0][2].norm() < 1e-12);
        let end = open[open.len() - 1];
        assert!((end[2] + end[3] * 3.0).norm() < 1e-9);
        let ring = periodic(&points, &chords);
        for i in 0..count {
            let before = (i + count - 1) % count;
            assert!(joint_gap(&ring[before], &ring[i], chords[before], chords[i]) < 1e-9);
        }
    }
}
