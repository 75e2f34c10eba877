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

/// A linear wish or tie on the step d.
#[derive(Clone, Debug)]
pub struct Row {
    /// The value now, grid steps; at or above 0 it is as wished.
    pub value: f64,
    /// The derivative by each knob that matters.
    pub slopes: Vec<(usize, f64)>,
    /// Whether the value must be 0 and not just at least 0.
    pub tie: bool,
}

/// The program, in grid steps.
pub struct Program<'a> {
    /// Cost of each knob.
    pub weights: &'a [f64],
    /// Its setting now.
    pub setting: &'a [f64],
    /// How far each knob may turn at once.
    pub reach: f64,
    /// The rows.
    pub rows: &'a [Row],
    /// A length that makes the numbers of the order of 1.
    pub unit: f64,
}

/// How many rows are taken up at a time.
const AT_ONCE: usize = 40;
/// How often; after that all rows are.
const MOST_TIMES: usize = 6;
/// A row that is missed by less, in grid steps, is met.
const NEGLIGIBLE: f64 = 0.02;

impl Row {
    /// The row as one or two wishes: the signs by which it must be at least 0.
    pub fn one_sided(&self) -> impl Iterator<Item = (&Row, f64)> {
        let signs: &[f64] = if self.tie { &[1.0, -1.0] } else { &[1.0] };
        signs.iter().map(move |&sign| (self, sign))
    }

    /// By how much the step misses what the row wants, grid steps.
    fn missed(&self, step: &[f64]) -> f64 {
        let change: f64 = self.slopes.iter().map(|&(knob, by)| by * step[knob]).sum();
        let value = self.value + change;
        if self.tie { value.abs() } else { -value }
    }
}

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
