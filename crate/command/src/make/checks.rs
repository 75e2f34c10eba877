//! The making checks of a run: which are asked for, their columns in the
//! manifest, and how many pieces keep the limits.
//!
//! The values are the form crate's estimates for design; limits are the person's.

use crate::arguments::make::{CheckOptions, SheetOptions};
use loftkin_exchange::words;
use loftkin_form::making::check::{Check, Unit, examine};
use loftkin_form::making::workshop::{Kind, Workshop};
use loftkin_form::piece::Piece;
use nalgebra::{UnitVector3, Vector3};
use serde_json::{Value, json};
use thiserror::Error;

/// Why limits cannot be used.
#[derive(Debug, Error)]
pub enum ChecksError {
    /// A limit that is not above zero.
    #[error("{option} must be above 0")]
    NotAbove {
        /// The option.
        option: &'static str,
    },
    /// A direction of draw that is none.
    #[error("give the direction of draw as three numbers that are not all 0, as 0,0,1")]
    Direction,
}

/// What is checked of each piece.
#[derive(Clone, Debug, Default)]
pub struct Checks {
    workshop: Workshop,
    kinds: Vec<Kind>,
}

/// How the pieces of a run keep one limit.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Kept {
    /// Pieces that pass.
    pub pass: u64,
    /// Pieces that do not, or have no value.
    pub fail: u64,
    /// The worst value, and the piece that has it.
    pub worst: Option<(f64, String)>,
}

impl Checks {
    /// The checks that `options` ask for: each limit that is given is one.
    ///
    /// # Errors
    /// [`ChecksError`].
    pub fn new(options: &CheckOptions, sheet: &SheetOptions) -> Result<Self, ChecksError> {
        let given = [
            ("--least-draft", options.least_draft),
            ("--cutter", options.cutter),
            ("--step-over", options.step_over),
            ("--most-scallop", options.most_scallop),
            ("--bend-gauges", options.bend_gauges),
            ("--least-gauge", options.least_gauge),
            ("--flow-stress", options.flow_stress),
            ("--most-pressure", options.most_pressure),
            ("--gauge", sheet.gauge),
            ("--density", sheet.density),
        ];
        let is_sound = |value: f64| value.is_finite() && 0.0 < value;
        for (option, value) in given {
            if value.is_some_and(|value| !is_sound(value)) {
                return Err(ChecksError::NotAbove { option });
            }
        }
        let usual = Workshop::default();
        let workshop = Workshop {
            direction: direction(&options.draw)?,
            least_draft: options.least_draft.unwrap_or(usual.least_draft),
            cutter: options.cutter.unwrap_or(usual.cutter),
            step_over: options.step_over.unwrap_or(usual.step_over),
            most_scallop: options.most_scallop.unwrap_or(usual.most_scallop),
            gauge: sheet.gauge.unwrap_or(usual.gauge),
            bend_gauges: options.bend_gauges.unwrap_or(usual.bend_gauges),
            least_gauge: options.least_gauge.unwrap_or(usual.least_gauge),
            flow_stress: options.flow_stress.unwrap_or(usual.flow_stress),
            most_pressure: options.most_pressure.unwrap_or(usual.most_pressure),
            ..usual
        };
        let asked = |kind: &Kind| match kind {
            Kind::Draft => options.least_draft.is_some(),
            Kind::Cutter => options.cutter.is_some(),
            Kind::Scallop => options.most_scallop.is_some(),
            Kind::Bend => options.bend_gauges.is_some(),
            Kind::Thinning => options.least_gauge.is_some(),
            Kind::Pressure => options.most_pressure.is_some(),
            Kind::Offset => options.room,
        };
        Ok(Self {
            kinds: Kind::ALL.into_iter().filter(asked).collect(),
            workshop,
        })
    }

    /// Whether nothing is checked.
    pub fn is_empty(&self) -> bool {
        self.kinds.is_empty()
    }

    /// Two columns a check: the worst value, and whether it keeps the limit.
    pub fn column_names(&self) -> Vec<String> {
        let names = self.kinds.iter().map(|&kind| {
            let unit = match self.workshop.check(kind).unit() {
                Unit::Degree => "deg",
                Unit::Millimetre => "mm",
                Unit::Megapascal => "mpa",
                Unit::Ratio => "ratio",
            };
            let word = word(kind);
            [format!("{word}_{unit}"), format!("{word}_passes")]
        });
        names.flatten().collect()
    }

    /// Those columns for `piece`.
    pub fn columns(&self, piece: &Piece) -> Vec<String> {
        let checks: Vec<Box<dyn Check>> = self
            .kinds
            .iter()
            .map(|&kind| self.workshop.check(kind))
            .collect();
        let borrowed: Vec<&dyn Check> = checks.iter().map(|check| &**check).collect();
        let reports = examine(piece, &borrowed);
        let columns = reports.into_iter().map(|report| {
            let value = if report.worst.is_finite() {
                format!("{:.4}", report.worst)
            } else {
                String::new()
            };
            let passes = if report.passes { "yes" } else { "no" };
            [value, passes.to_owned()]
        });
        columns.flatten().collect()
    }

    /// Counts what the columns of piece `number` say into `kept`, one a check.
    pub fn count(&self, number: &str, columns: &[&str], kept: &mut Vec<Kept>) {
        kept.resize(self.kinds.len(), Kept::default());
        for ((&kind, kept), pair) in self.kinds.iter().zip(kept).zip(columns.chunks(2)) {
            let limit = self.workshop.check(kind).limit();
            if pair.get(1) == Some(&"yes") {
                kept.pass += 1;
            } else {
                kept.fail += 1;
            }
            let Ok(value) = pair[0].parse::<f64>() else {
                continue;
            };
            let is_worse = |(worst, _): &(f64, String)| limit.is_worse(value, *worst);
            if kept.worst.as_ref().is_none_or(is_worse) {
                kept.worst = Some((value, number.to_owned()));
            }
        }
    }

    /// One sentence a check.
    pub fn told(&self, kept: &[Kept]) -> Vec<String> {
        let told = self.kinds.iter().zip(kept).map(|(&kind, kept)| {
            let check = self.workshop.check(kind);
            let unit = match check.unit() {
                Unit::Degree => " degrees",
                Unit::Millimetre => " mm",
                Unit::Megapascal => " MPa",
                Unit::Ratio => "",
            };
            let worst = kept
                .worst
                .as_ref()
                .map_or_else(String::new, |(value, number)| {
                    format!("; the worst is {value:.3}{unit}, of piece {number}")
                });
            format!(
                "{}: {} pass, {} do not{worst} (limit {}{unit}).",
                words::capital(kind.title()),
                kept.pass,
                kept.fail,
                check.limit().value
            )
        });
        told.collect()
    }

    /// What decides the values, for the description of the run.
    pub fn description(&self) -> Value {
        let shop = &self.workshop;
        let kinds: Vec<&str> = self.kinds.iter().map(|&kind| word(kind)).collect();
        if kinds.is_empty() {
            return json!([]);
        }
        json!({
            "asked": kinds,
            "draw": [shop.direction.x, shop.direction.y, shop.direction.z],
            "least_draft": shop.least_draft,
            "cutter": shop.cutter,
            "step_over": shop.step_over,
            "most_scallop": shop.most_scallop,
            "bend_gauges": shop.bend_gauges,
            "least_gauge": shop.least_gauge,
            "flow_stress": shop.flow_stress,
            "most_pressure": shop.most_pressure,
        })
    }
}

fn word(kind: Kind) -> &'static str {
    match kind {
        Kind::Draft => "draft",
        Kind::Cutter => "cutter_radius",
        Kind::Scallop => "scallop",
        Kind::Bend => "bend_radius",
        Kind::Thinning => "gauge_left",
        Kind::Pressure => "pressure",
        Kind::Offset => "room",
    }
}

fn direction(draw: &[f64]) -> Result<UnitVector3<f64>, ChecksError> {
    let [x, y, z] = draw else {
        return if draw.is_empty() {
            Ok(Vector3::z_axis())
        } else {
            Err(ChecksError::Direction)
        };
    };
    let direction = UnitVector3::try_new(Vector3::new(*x, *y, *z), 1e-12);
    direction
        .filter(|direction| direction.iter().all(|part| part.is_finite()))
        .ok_or(ChecksError::Direction)
}
