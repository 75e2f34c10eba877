//! The making checks on a piece in words.

use loftkin_exchange::{making_inputs, words};
use loftkin_form::making::check::{Basis, Provenance, Report, Sense, Spot, Unit};
use loftkin_form::making::draft::Halves;
use loftkin_form::making::fillet::Edges;
use loftkin_form::making::radius::ToolSide;
use loftkin_form::making::workshop::{Kind, Workshop};
use loftkin_form::making::worst::{DEGREES, TOLERANCE};
use loftkin_form::piece::Piece;
use serde::Serialize;

/// One making check in words, and what its map is drawn from.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct CheckMessage {
    /// The word that asks for its map.
    pub kind: &'static str,
    /// What is checked.
    pub what: String,
    /// The worst value with its unit.
    pub worst: String,
    /// The limit with its unit.
    pub limit: String,
    /// The limit in the unit `unit`.
    pub limit_value: f64,
    /// Whether it is the least that is good, and not the most.
    pub at_least: bool,
    /// The unit of values; empty for a ratio.
    pub unit: &'static str,
    /// Whether the limit is kept.
    pub passes: bool,
    /// The same in words.
    pub kept: &'static str,
    /// What that is worth.
    pub basis: String,
    /// On which side of the skin the matter is; may be empty.
    pub side: String,
    /// Where the worst value is; may be empty.
    pub place: String,
    /// The same in space, mm, and the direction that the skin faces there; empty
    /// when there is none.
    pub at: Vec<f64>,
    /// What value and limit rest on.
    pub inputs: String,
    /// How it is worked out.
    pub formula: String,
    /// Where the formula comes from, and how it is known.
    pub source: String,
    /// What it leaves out, and what can hurt; may be empty.
    pub caution: String,
    /// Other formulas to hold it against, a sentence each.
    pub beside: Vec<String>,
}

/// The words that ask for a check.
const WORDS: [(&str, Kind); 7] = [
    ("draft", Kind::Draft),
    ("cutter", Kind::Cutter),
    ("scallop", Kind::Scallop),
    ("bend", Kind::Bend),
    ("thinning", Kind::Thinning),
    ("pressure", Kind::Pressure),
    ("offset", Kind::Offset),
];

/// The check that `word` asks for.
pub(super) fn kind_of(word: &str) -> Option<Kind> {
    let found = WORDS.iter().find(|(known, _)| *known == word);
    found.map(|(_, kind)| *kind)
}

/// What `report` found, in words.
pub(super) fn told(
    piece: &Piece,
    (workshop, edges): (&Workshop, &Edges),
    kind: Kind,
    report: &Report,
) -> CheckMessage {
    let check = workshop.check(kind);
    let (formula, unit) = (check.formula(), check.unit());
    let at_least = report.limit.sense == Sense::AtLeast;
    let bound = if at_least { "at least" } else { "at most" };
    let word = WORDS.iter().find(|(_, known)| *known == kind);
    let spot = report
        .place
        .map(|place| Spot::new(piece.patch(place.along, place.across), piece.outward()));
    let on_edge = edge_told(piece, workshop, edges, report);
    CheckMessage {
        kind: word.map_or("", |(word, _)| word),
        what: words::capital(kind.title()),
        worst: in_unit(report.worst, unit),
        limit: format!("{bound} {}", in_unit(report.limit.value, unit)),
        limit_value: report.limit.value,
        at_least,
        unit: sign(unit),
        passes: report.passes,
        kept: if report.passes { "kept" } else { "not kept" },
        basis: worth(report, unit),
        side: match &spot {
            _ if on_edge.is_some() => on_edge.as_deref().unwrap_or_default(),
            Some(spot) => side(workshop, kind, report.worst, spot),
            None => nowhere(kind),
        }
        .to_owned(),
        place: report.place.map_or_else(String::new, |place| {
            format!(
                "{} along, {} across, at {}",
                words::fraction(place.along),
                words::fraction(place.across),
                words::point(&place.point)
            )
        }),
        at: spot.as_ref().map_or_else(Vec::new, seen_from),
        formula: formula.text.to_owned(),
        source: format!("{} ({})", formula.source, known(formula.provenance)),
        caution: formula.caution.to_owned(),
        beside: Vec::new(),
        inputs: words::capital(&making_inputs::inputs(workshop, kind)),
    }
}

/// The edge that decides about `report`, if one does.
fn edge_told(piece: &Piece, workshop: &Workshop, edges: &Edges, report: &Report) -> Option<String> {
    let place = report.place?;
    let edge = edges.all.iter().find(|edge| edge.place == place)?;
    let kind = words::edges::kind(workshop.tool_side, edge);
    let line = words::edges::line(piece, edge.line);
    Some(match (workshop.fillet, &edges.misfit) {
        (0.0, _) => format!("a sharp {kind} {line}, without a fillet"),
        (_, Some(_)) => format!("a sharp {kind} {line}, on which the fillet does not fit"),
        (fillet, None) => format!("a {kind} {line}, with the fillet of {fillet} mm assumed"),
    })
}

/// What a report is worth, and on which side of the truth its value is.
pub(super) fn worth(report: &Report, unit: Unit) -> String {
    let tolerance = match unit {
        Unit::Degree => format!("{DEGREES} degrees"),
        _ => format!("{} %", 100.0 * TOLERANCE),
    };
    let bound = format!("no place is worse than the value told, a bound to {tolerance}");
    match report.basis {
        Basis::Proved => format!("proved to be kept: {bound}"),
        Basis::Checked => format!("checked at that place; {bound}"),
        Basis::Open => format!(
            "open: the worst value found is {}, but no better one than that told is proved",
            in_unit(report.found, unit)
        ),
        Basis::Sampled { .. } => "seen at sampled places; between them it may be worse".to_owned(),
    }
}

/// Where a spot is in space, and the direction that the skin faces there.
pub(super) fn seen_from(spot: &Spot) -> Vec<f64> {
    let point = spot.patch.point.coords;
    point.iter().chain(spot.normal.iter()).copied().collect()
}

/// On which side of the skin the worst place has it.
fn side(workshop: &Workshop, kind: Kind, worst: f64, spot: &Spot) -> &'static str {
    let (larger, smaller) = spot.hollows();
    let (outward, inward) = workshop.reach();
    match kind {
        Kind::Draft if workshop.halves == Halves::Two => "",
        Kind::Draft if worst < 0.0 => "undercut: the skin holds the piece in the direction of draw",
        Kind::Draft => "no undercut",
        Kind::Cutter => match workshop.tool_side {
            ToolSide::Outside => "a hollow seen from outside, where the cutter works",
            ToolSide::Inside => "a hollow seen from inside, where the cutter works",
        },
        // The inner radius is that of the skin less the gauge on the inner side.
        Kind::Bend if radius(larger) - outward < radius(-smaller) - inward => {
            "a hollow seen from outside"
        }
        Kind::Bend => "a bulge seen from outside",
        Kind::Pressure if 0.0 < larger + smaller => {
            "hollow seen from outside: pressed from outside"
        }
        Kind::Pressure => "bulging seen from outside: pressed from inside",
        Kind::Offset if -inward * smaller < outward * larger => {
            "the outer face, in a hollow seen from outside"
        }
        Kind::Offset => "the inner face, in a hollow seen from inside",
        Kind::Scallop | Kind::Thinning => "",
    }
}

/// The same where no place has a value.
fn nowhere(kind: Kind) -> &'static str {
    match kind {
        Kind::Cutter => "no hollow on the side of the cutter",
        Kind::Bend => "flat everywhere",
        _ => "",
    }
}

fn radius(bend: f64) -> f64 {
    if 0.0 < bend {
        1.0 / bend
    } else {
        f64::INFINITY
    }
}

fn sign(unit: Unit) -> &'static str {
    match unit {
        Unit::Degree => "°",
        Unit::Millimetre => "mm",
        Unit::Megapascal => "MPa",
        Unit::Ratio => "",
    }
}

fn known(provenance: Provenance) -> &'static str {
    match provenance {
        Provenance::Published => "published",
        Provenance::Derived => "derived",
        Provenance::Memory => "from memory: confirm it",
        Provenance::CommonPractice => "common practice",
    }
}

pub(super) fn in_unit(value: f64, unit: Unit) -> String {
    if value == f64::INFINITY {
        return "unbounded".to_owned();
    }
    if !value.is_finite() {
        return "none".to_owned();
    }
    match unit {
        Unit::Degree => format!("{value:.2} degrees"),
        Unit::Millimetre => format!("{value:.3} mm"),
        Unit::Megapascal => format!("{value:.3} MPa"),
        Unit::Ratio => format!("{value:.3}"),
    }
}
