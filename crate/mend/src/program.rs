//! One convex quadratic program: the least cost of a setting that obeys rows.
//!
//! minimise  sum w (z + d)^2 / 2 + dearness * sum s
//! subject to  value + slopes.d + s >= 0 for every wish (s >= 0 a shortcoming),
//!             value + slopes.d = 0 for every tie, again but for a shortcoming,
//!             |d| <= reach for every knob.
//!
//! Shortcomings keep the program solvable when rows contradict each other. It
//! is solved by clarabel, an interior-point method (Goulart and Chen, 2024).

use clarabel::algebra::CscMatrix;
use clarabel::solver::{
    DefaultSettingsBuilder, DefaultSolver, IPSolver, NonnegativeConeT, SolverStatus, SupportedConeT,
};

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

/// How much a unit of shortcoming costs beside a unit of movement squared:
/// far more than what any row that can be met is worth.
const DEARNESS: f64 = 1e3;

impl Program<'_> {
    /// The step d, or none when the solver gives up.
    pub fn solve(&self) -> Option<Vec<f64>> {
        let knobs = self.weights.len();
        let ties = self.rows.iter().filter(|row| row.tie).count();
        let slacks = self.rows.len() + ties;
        let columns = knobs + slacks;
        let mut matrix = Columns::new(columns);
        let mut bounds = Vec::new();
        let mut slack = knobs;
        // Rows of clarabel: A x <= b.
        let mut wish = |matrix: &mut Columns, row: &Row, sign: f64| {
            let at = bounds.len();
            for &(knob, by) in &row.slopes {
                matrix.put(at, knob, -sign * by);
            }
            matrix.put(at, slack, -1.0);
            bounds.push(sign * row.value / self.unit);
            slack += 1;
        };
        for row in self.rows {
            wish(&mut matrix, row, 1.0);
            if row.tie {
                wish(&mut matrix, row, -1.0);
            }
        }
        for slack in knobs..columns {
            matrix.put(bounds.len(), slack, -1.0);
            bounds.push(0.0);
        }
        for knob in 0..knobs {
            for sign in [1.0, -1.0] {
                matrix.put(bounds.len(), knob, sign);
                bounds.push(self.reach / self.unit);
            }
        }
        let mut cost = Columns::new(columns);
        let mut linear = vec![DEARNESS; columns];
        let prices = self.weights.iter().zip(self.setting);
        for (knob, ((weight, at), linear)) in prices.zip(&mut linear).enumerate() {
            cost.put(knob, knob, *weight);
            *linear = weight * at / self.unit;
        }
        // A trace of curvature keeps the shortcomings' columns from vanishing.
        for slack in knobs..columns {
            cost.put(slack, slack, 1e-6);
        }
        let settings = DefaultSettingsBuilder::default()
            .verbose(false)
            .max_iter(50)
            .tol_gap_abs(1e-6)
            .tol_gap_rel(1e-6)
            .tol_feas(1e-6)
            .build()
            .ok()?;
        let cones: [SupportedConeT<f64>; 1] = [NonnegativeConeT(bounds.len())];
        let mut solver = DefaultSolver::new(
            &cost.csc(columns),
            &linear,
            &matrix.csc(bounds.len()),
            &bounds,
            &cones,
            settings,
        );
        solver.solve();
        let solved = matches!(
            solver.solution.status,
            SolverStatus::Solved | SolverStatus::AlmostSolved
        );
        let step = solver.solution.x[..knobs].iter().map(|d| d * self.unit);
        let step: Vec<f64> = step.collect();
        (solved && step.iter().all(|d| d.is_finite())).then_some(step)
    }
}

/// A sparse matrix, column by column; rows must be put in ascending order.
struct Columns {
    columns: Vec<Vec<(usize, f64)>>,
}

impl Columns {
    fn new(count: usize) -> Self {
        Self {
            columns: vec![Vec::new(); count],
        }
    }

    fn put(&mut self, row: usize, column: usize, value: f64) {
        self.columns[column].push((row, value));
    }

    fn csc(&self, rows: usize) -> CscMatrix<f64> {
        let mut starts = vec![0];
        let (mut places, mut values) = (Vec::new(), Vec::new());
        for column in &self.columns {
            for &(row, value) in column {
                places.push(row);
                values.push(value);
            }
            starts.push(places.len());
        }
        CscMatrix::new(rows, self.columns.len(), starts, places, values)
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
