//! The making checks of a run: which are asked for, their columns in the
//! manifest, and how many pieces keep the limits. Values are bounded, so that a limit
//! that is kept is proved to be, but for what [`basis`] says of columns.
//!
//! Sharp edges count in the checks of radii and of gas: see [`super::edges`].
//! The values are the form crate's estimates for design; limits are the person's.

use super::basis;
use super::draft::{self, Drawing};
use super::edges::{self, Edged};
use super::halves::{self, Parting};
use super::limits::Limits;
use crate::arguments::make::{CheckOptions, SheetOptions};
use crate::arguments::numbers::all;
use loftkin_exchange::words;
use loftkin_form::making::check::{Basis, Check, Report, Unit};
use loftkin_form::making::draft::Halves;
use loftkin_form::making::fillet::Edges;
use loftkin_form::making::radius::ToolSide;
use loftkin_form::making::room::Meeting;
use loftkin_form::making::workshop::{Kind, Workshop};
use loftkin_form::making::worst::examine;
use loftkin_form::piece::Piece;
use nalgebra::{UnitVector3, Vector3};
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
    /// A band of a mould without a parting line.
    #[error("--most-band is for a mould in two halves: add --halves two")]
    BandOfOne,
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
    /// Pieces of which it is proved.
    pub proved: u64,
    /// Of the draft to a mould in one part: what else there is to drawing.
    drawing: Drawing,
    /// Of the draft to two halves: what there is to their parting.
    parting: Parting,
    /// Of the first check that sharp edges decide about: what there is of them.
    edged: Edged,
}

impl Checks {
    /// The checks that `options` ask for: each limit that is given is one.
    ///
    /// # Errors
    /// [`ChecksError`].
    pub fn new(options: &CheckOptions, sheet: &SheetOptions) -> Result<Self, ChecksError> {
        let given = [
            ("--least-draft", options.least_draft),
            ("--most-band", options.most_band),
            ("--cutter", options.cutter),
            ("--step-over", options.step_over),
            ("--most-scallop", options.most_scallop),
            ("--most-left", options.most_left),
            ("--fillet", options.fillet),
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
        let halves = Halves::from(options.halves);
        if options.most_band.is_some() && halves == Halves::One {
            return Err(ChecksError::BandOfOne);
        }
        let usual = Workshop::default();
        let workshop = Workshop {
            direction: direction(&all(&options.draw))?,
            halves,
            least_draft: options.least_draft.unwrap_or(usual.least_draft),
            most_band: options.most_band.unwrap_or(usual.most_band),
            cutter: options.cutter.unwrap_or(usual.cutter),
            tool_side: options.mould.into(),
            most_left: options.most_left.unwrap_or(usual.most_left),
            fillet: options.fillet.unwrap_or(usual.fillet),
            step_over: options.step_over.unwrap_or(usual.step_over),
            most_scallop: options.most_scallop.unwrap_or(usual.most_scallop),
            gauge: sheet.gauge.unwrap_or(usual.gauge),
            sheet_side: sheet.sheet.into(),
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

    /// What is checked, with its settings.
    pub fn all(&self) -> impl Iterator<Item = (Kind, Box<dyn Check>)> + '_ {
        let kinds = self.kinds.iter();
        kinds.map(|&kind| (kind, self.workshop.check(kind)))
    }

    /// What `kind` is called; of the draft also how the mould is parted.
    pub fn title(&self, kind: Kind) -> String {
        let title = words::capital(kind.title());
        match (kind, self.workshop.halves, self.workshop.tool_side) {
            (Kind::Draft, Halves::Two, _) => format!("{title}, in two halves"),
            (Kind::Draft, Halves::One, ToolSide::Inside) => {
                format!("{title}, out of a female mould")
            }
            _ => title,
        }
    }

    /// The columns that the draft has beside those of every check.
    fn drawing_names(&self) -> &'static [&'static str] {
        match self.workshop.halves {
            Halves::One => &draft::COLUMNS,
            Halves::Two => &halves::COLUMNS,
        }
    }

    /// Whether sharp edges decide about any check.
    fn has_edges(&self) -> bool {
        self.kinds.iter().any(|&kind| edges::concern(kind))
    }

    /// The columns that `kind` alone has.
    fn own_names(&self, kind: Kind) -> &'static [&'static str] {
        match kind {
            Kind::Draft => self.drawing_names(),
            Kind::Offset => &["room_apart_mm"],
            _ => &[],
        }
    }

    /// Three columns a check: the worst value, whether it keeps the limit, and
    /// what that is worth; for the draft those of [`draft`] or of [`halves`] too, for
    /// the room how far apart the walls are that leave least, and after all checks those
    /// of [`edges`].
    pub fn column_names(&self) -> Vec<String> {
        let names = self.all().flat_map(|(kind, check)| {
            let word = word(kind);
            let mut names = vec![
                column_name(kind, &*check),
                format!("{word}_passes"),
                format!("{word}_basis"),
            ];
            let more = self.own_names(kind).iter();
            names.extend(more.map(|&name| name.to_owned()));
            names
        });
        let mut names: Vec<String> = names.collect();
        if !self.is_empty() {
            names.extend(edges::SIDES.map(str::to_owned));
        }
        if self.has_edges() {
            names.extend(edges::COLUMNS.map(str::to_owned));
        }
        names
    }

    /// Those columns for `piece`.
    pub fn columns(&self, piece: &Piece) -> Vec<String> {
        let checks: Vec<Box<dyn Check>> = self.all().map(|(_, check)| check).collect();
        let borrowed: Vec<&dyn Check> = checks.iter().map(|check| &**check).collect();
        let reports = examine(piece, &borrowed);
        let has_edges = self.has_edges();
        let found = has_edges.then(|| self.workshop.edges(piece));
        let found = found.unwrap_or_default();
        let columns = self.kinds.iter().zip(reports);
        let columns =
            columns.flat_map(|(&kind, report)| self.columns_of(piece, kind, report, &found));
        let mut columns: Vec<String> = columns.collect();
        columns.extend(edges::sides(&self.workshop));
        if has_edges {
            columns.extend(edges::columns(piece, &self.workshop, &found));
        }
        columns
    }

    fn columns_of(&self, piece: &Piece, kind: Kind, report: Report, found: &Edges) -> Vec<String> {
        match kind {
            Kind::Draft => {
                let (report, band) = self.workshop.confirmed(piece, report);
                let more = match &band {
                    None => draft::columns(piece, &self.workshop.draft(), &report).to_vec(),
                    Some(band) => halves::columns(band).to_vec(),
                };
                [told_by(&report).to_vec(), more].concat()
            }
            Kind::Offset => {
                let (report, walls) = self.workshop.with_walls(piece, report);
                let report = self.workshop.over_edges(kind, report, found);
                let apart = |walls: Meeting| format!("{:.3}", walls.apart);
                [
                    told_by(&report).to_vec(),
                    vec![walls.map_or_else(String::new, apart)],
                ]
                .concat()
            }
            _ => told_by(&self.workshop.over_edges(kind, report, found)).to_vec(),
        }
    }

    /// Counts what the columns of piece `number` say into `kept`, one a check.
    pub fn count(&self, number: &str, columns: &[&str], kept: &mut Vec<Kept>) {
        kept.resize(self.kinds.len(), Kept::default());
        let mut rest = columns;
        for (&kind, kept) in self.kinds.iter().zip(kept.iter_mut()) {
            let Some((own, after)) = rest.split_at_checked(self.width(kind)) else {
                return;
            };
            rest = after;
            let limit = self.workshop.check(kind).limit();
            if own[1] == "yes" {
                kept.pass += 1;
            } else {
                kept.fail += 1;
            }
            kept.proved += u64::from(own[2] == "proved");
            match (kind, self.workshop.halves) {
                (Kind::Draft, Halves::One) => kept.drawing.count(number, &own[OWN..]),
                (Kind::Draft, Halves::Two) => kept.parting.count(number, &own[OWN..]),
                _ => {}
            }
            let Ok(value) = own[0].parse::<f64>() else {
                continue;
            };
            let is_worse = |(worst, _): &(f64, String)| limit.is_worse(value, *worst);
            if kept.worst.as_ref().is_none_or(is_worse) {
                kept.worst = Some((value, number.to_owned()));
            }
        }
        let mut all = self.kinds.iter().zip(kept);
        if let Some((_, first)) = all.find(|(kind, _)| edges::concern(**kind)) {
            let own = rest.get(edges::SIDES.len()..).unwrap_or_default();
            first.edged.count(number, own);
        }
    }

    /// What there is to drawing pieces off, beyond the draft itself, and of their sharp
    /// edges: a sentence an entry.
    pub fn more_told(&self, kept: &Kept) -> Vec<String> {
        let mut told: Vec<String> = kept.drawing.told().into_iter().collect();
        told.extend(
            kept.parting
                .told(&self.workshop.draft(), self.workshop.most_band),
        );
        told.extend(kept.edged.told(&self.workshop));
        told
    }

    /// The sharpest edges of `piece`, a sentence each; nothing where they decide nothing.
    pub fn edges_told(&self, piece: &Piece) -> Vec<String> {
        if !self.has_edges() {
            return Vec::new();
        }
        edges::each_told(piece, &self.workshop)
    }

    /// How many columns `kind` has.
    fn width(&self, kind: Kind) -> usize {
        OWN + self.own_names(kind).len()
    }

    /// One sentence a check, and more on undercuts, on the band at a parting line, and on
    /// sharp edges.
    pub fn told(&self, kept: &[Kept]) -> Vec<String> {
        let told = self.all().zip(kept).flat_map(|((kind, check), kept)| {
            let unit = unit_shown(check.unit());
            let worst = kept
                .worst
                .as_ref()
                .map_or_else(String::new, |(value, number)| {
                    format!("; the worst is {value:.3}{unit}, of piece {number}")
                });
            let sentence = format!(
                "{}: {} pass ({} proved), {} do not{worst} (limit {}{unit}; {}).",
                self.title(kind),
                kept.pass,
                kept.proved,
                kept.fail,
                check.limit().value,
                basis::of(&column_name(kind, &*check))
            );
            let more = self.more_told(kept).into_iter();
            std::iter::once(sentence).chain(more)
        });
        told.collect()
    }

    /// What decides the values, for the description of the run.
    pub fn limits(&self) -> Option<Limits> {
        let asked = self.kinds.iter().map(|&kind| word(kind).to_owned());
        (!self.is_empty()).then(|| Limits::new(asked.collect(), &self.workshop))
    }
}

impl From<&Limits> for Checks {
    /// The checks that the limits were written from.
    fn from(limits: &Limits) -> Self {
        let is_asked = |kind: &Kind| limits.asked.iter().any(|asked| asked == word(*kind));
        Self {
            kinds: Kind::ALL.into_iter().filter(is_asked).collect(),
            workshop: limits.workshop(),
        }
    }
}

/// The column of the worst value.
pub fn column_name(kind: Kind, check: &dyn Check) -> String {
    format!("{}_{}", word(kind), unit_word(check.unit()))
}

/// Columns of a check without those of its kind alone.
const OWN: usize = 3;

fn told_by(report: &Report) -> [String; OWN] {
    let value = if report.worst.is_finite() {
        format!("{:.4}", report.worst)
    } else {
        String::new()
    };
    let passes = if report.passes { "yes" } else { "no" };
    let basis = match report.basis {
        Basis::Proved => "proved",
        Basis::Checked => "checked",
        Basis::Open => "open",
        Basis::Sampled { .. } => "sampled",
    };
    [value, passes.to_owned(), basis.to_owned()]
}

/// A unit as columns are called by it.
fn unit_word(unit: Unit) -> &'static str {
    match unit {
        Unit::Degree => "deg",
        Unit::Millimetre => "mm",
        Unit::Megapascal => "mpa",
        Unit::Ratio => "ratio",
    }
}

/// A unit as people read it behind a value.
pub fn unit_shown(unit: Unit) -> &'static str {
    match unit {
        Unit::Degree => " degrees",
        Unit::Millimetre => " mm",
        Unit::Megapascal => " MPa",
        Unit::Ratio => "",
    }
}

/// What `kind` is called in columns and in the description.
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
