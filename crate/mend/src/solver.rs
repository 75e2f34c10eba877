//! One call of the solver: the program of some rows and the knobs they turn.
//!
//! It is solved by clarabel, an interior-point method (Goulart and Chen,
//! Clarabel: an interior-point solver for conic programs with quadratic
//! objectives, arXiv:2405.12762, 2024).

use crate::wishes::{Program, Row};
use clarabel::algebra::CscMatrix;
use clarabel::solver::{
    DefaultSettingsBuilder, DefaultSolver, IPSolver, NonnegativeConeT, SolverStatus, SupportedConeT,
};

/// How much a unit of shortcoming costs beside a unit of movement squared:
/// far more than what any row that can be met is worth.
const DEARNESS: f64 = 1e3;
/// How much room, in units, is enough for a row to go without a shortcoming.
const ROOM: f64 = 0.02;
/// How accurately the program is solved, in units: about .01 grid steps.
const ACCURACY: f64 = 3e-5;
/// The most iterations: it takes about fifteen.
const MOST_ITERATIONS: u32 = 50;
/// A trace of curvature keeps the shortcomings' columns from vanishing.
const TRACE: f64 = 1e-6;

/// The step of the knobs `used` under `rows`, or none when the solver gives up.
pub fn solved(program: &Program, rows: &[&Row], used: &[usize]) -> Option<Vec<f64>> {
    let mut place = vec![usize::MAX; program.weights.len()];
    for (at, &knob) in used.iter().enumerate() {
        place[knob] = at;
    }
    let sides = || rows.iter().flat_map(|row| row.one_sided());
    let may_fall_short = |row: &Row| row.tie || row.value < ROOM * program.unit;
    let slacks = sides().filter(|(row, _)| may_fall_short(row)).count();
    let knobs = used.len();
    let columns = knobs + slacks;
    let mut matrix = Columns::new(columns);
    let mut bounds = Vec::new();
    let mut slack = knobs;
    // Rows of clarabel: A x <= b.
    for (row, sign) in sides() {
        for &(knob, by) in &row.slopes {
            matrix.put(bounds.len(), place[knob], -sign * by);
        }
        if may_fall_short(row) {
            matrix.put(bounds.len(), slack, -1.0);
            slack += 1;
        }
        bounds.push(sign * row.value / program.unit);
    }
    for slack in knobs..columns {
        matrix.put(bounds.len(), slack, -1.0);
        bounds.push(0.0);
    }
    for knob in 0..knobs {
        for sign in [1.0, -1.0] {
            matrix.put(bounds.len(), knob, sign);
            bounds.push(program.reach / program.unit);
        }
    }
    let mut cost = Columns::new(columns);
    let mut linear = vec![DEARNESS; columns];
    for (at, &knob) in used.iter().enumerate() {
        let weight = program.weights[knob];
        cost.put(at, at, weight);
        linear[at] = weight * program.setting[knob] / program.unit;
    }
    for slack in knobs..columns {
        cost.put(slack, slack, TRACE);
    }
    let settings = DefaultSettingsBuilder::default()
        .verbose(false)
        .max_iter(MOST_ITERATIONS)
        .tol_gap_abs(ACCURACY)
        .tol_gap_rel(ACCURACY)
        .tol_feas(ACCURACY)
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
    let is_solved = matches!(
        solver.solution.status,
        SolverStatus::Solved | SolverStatus::AlmostSolved
    );
    let step = solver.solution.x[..knobs].iter().map(|d| d * program.unit);
    let step: Vec<f64> = step.collect();
    (is_solved && step.iter().all(|d| d.is_finite())).then_some(step)
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
