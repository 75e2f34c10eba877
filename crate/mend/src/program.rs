//! One convex quadratic program: the least cost of a setting that obeys rows.
//!
//! minimise  sum w (z + d)^2 / 2 + dearness * sum s
//! subject to  value + slopes.d + s >= 0 for every wish (s >= 0 a shortcoming),
//!             value + slopes.d = 0 for every tie, again but for a shortcoming,
//!             |d| <= reach for every knob.
//!
//! Shortcomings keep the program solvable when rows contradict each other; rows
//! that are met with room to spare have none, for d = 0 meets them.
//!
//! Few rows hold in the end. So it begins without any and takes up those that
//! are missed most, until none is: the same answer from much smaller programs.
//! What of it is solved at once is in `solver`.

use crate::solver::solved;
use crate::wishes::{Program, Row};

/// How many rows are taken up at a time.
const AT_ONCE: usize = 40;
/// How often; after that all rows are.
const MOST_TIMES: usize = 6;
/// A row that is missed by less, in grid steps, is met.
const NEGLIGIBLE: f64 = 0.02;

impl Program<'_> {
    /// The step d, or none when the solver gives up.
    pub fn solve(&self) -> Option<Vec<f64>> {
        let mut step = self.unhindered();
        let mut taken = vec![false; self.rows.len()];
        for time in 0..=MOST_TIMES {
            let mut missed: Vec<(f64, usize)> = (0..self.rows.len())
                .filter(|&at| !taken[at])
                .map(|at| (self.rows[at].missed(&step), at))
                .filter(|(by, _)| NEGLIGIBLE < *by)
                .collect();
            if missed.is_empty() {
                break;
            }
            if time == MOST_TIMES {
                taken.fill(true);
            } else {
                missed.sort_by(|one, other| other.0.total_cmp(&one.0));
                missed.truncate(AT_ONCE);
                missed.iter().for_each(|&(_, at)| taken[at] = true);
            }
            step = self.solve_for(&taken)?;
        }
        Some(step)
    }

    /// Back to the drawing, as far as one step reaches.
    fn unhindered(&self) -> Vec<f64> {
        let back = |z: &f64| (-z).clamp(-self.reach, self.reach);
        self.setting.iter().map(back).collect()
    }

    /// The step under the rows that are taken up; knobs that none of them turns
    /// go back to the drawing.
    fn solve_for(&self, taken: &[bool]) -> Option<Vec<f64>> {
        let rows: Vec<&Row> = (0..taken.len())
            .filter(|&at| taken[at])
            .map(|at| &self.rows[at])
            .collect();
        let mut is_used = vec![false; self.weights.len()];
        for (knob, _) in rows.iter().flat_map(|row| &row.slopes) {
            is_used[*knob] = true;
        }
        let used: Vec<usize> = (0..is_used.len()).filter(|&knob| is_used[knob]).collect();
        let turned = solved(self, &rows, &used)?;
        let mut step = self.unhindered();
        for (&knob, by) in used.iter().zip(turned) {
            step[knob] = by;
        }
        Some(step)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn solved(rows: &[Row], setting: &[f64]) -> Vec<f64> {
        Program {
            weights: &vec![1.0; setting.len()],
            setting,
            reach: 100.0,
            rows,
            unit: 10.0,
        }
        .solve()
        .unwrap()
    }

    /// By hand: the nearest point of the half-plane x + y >= 10 is (5, 5).
    #[test]
    fn the_nearest_point_of_a_half_plane() {
        let row = Row {
            value: -10.0,
            slopes: vec![(0, 1.0), (1, 1.0)],
            tie: false,
        };
        let step = solved(&[row], &[0.0, 0.0]);
        assert!(step.iter().all(|d| (d - 5.0).abs() < 1e-3), "{step:?}");
    }

    /// From (8, 2), already obeying, the cost pulls back towards the drawing
    /// and along the tie x = y.
    #[test]
    fn the_cost_is_counted_from_the_drawing() {
        let rows = [
            Row {
                value: 0.0,
                slopes: vec![(0, 1.0), (1, 1.0)],
                tie: false,
            },
            Row {
                value: 6.0,
                slopes: vec![(0, 1.0), (1, -1.0)],
                tie: true,
            },
        ];
        let step = solved(&rows, &[8.0, 2.0]);
        assert!((step[0] + 3.0).abs() < 1e-3 && (step[1] - 3.0).abs() < 1e-3);
    }

    #[test]
    fn contradictions_have_an_answer() {
        let row = |value: f64, by: f64| Row {
            value,
            slopes: vec![(0, by)],
            tie: false,
        };
        let step = solved(&[row(-10.0, 1.0), row(-10.0, -1.0)], &[0.0]);
        assert!(step[0].abs() <= 10.0 + 1e-3);
    }
}
