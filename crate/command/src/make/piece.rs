//! One piece: its measures, the bytes of its files, and its line of the manifest.

use super::plan::Plan;
use loftkin_exchange::shop::manifest::{decimal, measures, profiles};
use loftkin_exchange::shop::{Label, Standing, files};
use loftkin_form::body::measure;
use loftkin_form::making::stretch::Stretch;
use loftkin_form::piece::{Arrangement, Piece, judged_curves};
use loftkin_kernel::curve::Curve;
use num_bigint::BigUint;
use std::sync::OnceLock;

/// How near the area is measured, relative: a thousandth of a per cent.
const AREA_TOLERANCE: f64 = 1e-5;

/// What all pieces of a run share while they are made.
pub struct Maker<'a> {
    plan: &'a Plan,
    /// One a profile: see [`judged_curves`].
    curves: Vec<&'a Curve>,
    /// Margins of pairs, worked out when first needed: row the first profile.
    margins: Vec<OnceLock<f64>>,
}

/// A piece in memory.
pub struct Made {
    /// Number, arrangement and measures, without files.
    pub columns: String,
    /// The bytes of each file; none of one that cannot be made as asked.
    pub files: Vec<Option<Vec<u8>>>,
    /// Why one could not.
    pub problem: Option<String>,
}

impl<'a> Maker<'a> {
    /// Ready to make the pieces of `plan`.
    pub fn new(plan: &'a Plan) -> Self {
        let size = plan.table.size();
        Self {
            curves: judged_curves(&plan.table),
            margins: (0..size * size).map(|_| OnceLock::new()).collect(),
            plan,
        }
    }

    /// Makes piece `number`; none for a number that no piece has.
    pub fn make(&self, number: &BigUint) -> Option<Made> {
        let arrangement = self.plan.series.arrangement(number).ok()?;
        let layout = self.plan.series.layout();
        let piece = Piece::new(&self.curves, layout, arrangement.clone()).ok()?;
        let mut made = Made {
            columns: self.columns(number, &arrangement, &piece),
            files: Vec::new(),
            problem: None,
        };
        if !self.plan.formats.is_empty() {
            self.write(&piece, number, &arrangement, &mut made);
        }
        Some(made)
    }

    fn write(&self, piece: &Piece, number: &BigUint, arrangement: &Arrangement, made: &mut Made) {
        let plan = self.plan;
        let label = self.label(number, arrangement);
        let formats: Vec<_> = plan.formats.iter().map(|format| format.file()).collect();
        let standing = self.standing(arrangement);
        for file in files::write(piece, &formats, plan.tolerance, &label, standing) {
            match file {
                Ok(bytes) => made.files.push(Some(bytes)),
                Err(error) => {
                    made.problem = Some(error.to_string());
                    made.files.push(None);
                }
            }
        }
    }

    fn label(&self, number: &BigUint, arrangement: &Arrangement) -> Label {
        let name = &self.plan.table.family().name;
        Label::of_piece(name, &number.to_string(), &arrangement.0)
    }

    /// What is proved of the piece.
    fn standing(&self, arrangement: &Arrangement) -> Standing {
        let of_pair = |low, high| Some(self.margin(low, high));
        let margin = self.plan.series.margin(arrangement, of_pair);
        margin.map_or(Standing::Unproven, |margin| Standing::Proved { margin })
    }

    fn margin(&self, one: usize, other: usize) -> f64 {
        let (low, high) = (one.min(other), one.max(other));
        let place = &self.margins[low * self.curves.len() + high];
        let table = &self.plan.table;
        *place.get_or_init(|| table.margin(low, high).map_or(0.0, |margin| margin.mm))
    }

    fn columns(&self, number: &BigUint, arrangement: &Arrangement, piece: &Piece) -> String {
        let measured = &measure(piece, AREA_TOLERANCE);
        let mut columns = vec![number.to_string(), profiles(&arrangement.0)];
        columns.extend(measures(measured));
        if let Some(sheet) = &self.plan.sheet {
            let wall = sheet.wall(measured);
            // None where no one sheet is formed to the piece.
            let formed =
                Stretch::new(piece).map(|stretch| stretch.mass(sheet.gauge, sheet.density));
            columns.push(formed.map_or_else(String::new, decimal));
            columns.push(decimal(wall.mass));
            columns.push(wall.capacity.map_or_else(String::new, decimal));
        }
        if !self.plan.checks.is_empty() {
            columns.extend(self.plan.checks.columns(piece));
        }
        columns.join(",")
    }
}

/// The columns of the making checks in `line`.
pub fn checked<'a>(plan: &Plan, line: &'a str) -> Vec<&'a str> {
    let names = plan.column_names().len();
    let last = names - 3 * plan.formats.len();
    let first = last - plan.checks.column_names().len();
    let columns: Vec<&str> = line.split(',').collect();
    columns.get(first..last).unwrap_or_default().to_vec()
}
