//! The measures of a piece and the making checks on it, in words. All of it
//! estimates for design; limits are the person's.

use super::session::{SeriesFailure, SeriesSession};
use loftkin_exchange::words;
use loftkin_form::body::rest::rest;
use loftkin_form::body::wall::{Sheet, Side};
use loftkin_form::body::{Measures, measure};
use loftkin_form::making::DESIGN_ESTIMATE;
use loftkin_form::making::check::{Basis, Provenance, Report, Sense, Unit};
use loftkin_form::making::materials;
use loftkin_form::making::temperature::{TITANIUM_HOT, TITANIUM_SCALES};
use loftkin_form::making::workshop::{Kind, Workshop};
use loftkin_form::piece::Piece;
use nalgebra::{Point3, UnitVector3, Vector3};
use serde::{Deserialize, Serialize};

/// How near the area is measured, relative.
const AREA_TOLERANCE: f64 = 1e-6;

/// What comes this near to the floor touches it, mm.
const TOUCH: f64 = 0.01;

/// mm² in a cm², and mm³ in a cm³.
const SQUARE: f64 = 100.0;
const CUBE: f64 = 1000.0;

/// The direction in which a mould is drawn off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "camelCase")]
pub enum Draw {
    /// Up the stack, or along the axis of the ring.
    Up,
    /// To the right in a stack; toward angle 0 in a ring.
    Right,
    /// Up in the drawing of a stack; toward 90 degrees in a ring.
    Back,
}

impl Draw {
    fn direction(self) -> UnitVector3<f64> {
        match self {
            Self::Up => Vector3::z_axis(),
            Self::Right => Vector3::x_axis(),
            Self::Back => Vector3::y_axis(),
        }
    }
}

/// The sheet and the limits that the person sets.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "camelCase")]
pub struct ShopWish {
    /// The direction of draw.
    pub draw: Draw,
    /// Of the sheet, mm.
    pub gauge: f64,
    /// Of the sheet, g/cm³.
    pub density: f64,
    /// Degrees.
    pub least_draft: f64,
    /// The radius of the ball-nose cutter, mm.
    pub cutter: f64,
    /// From pass to pass, mm.
    pub step_over: f64,
    /// mm.
    pub most_scallop: f64,
    /// The least inner bend radius, in gauges.
    pub bend_gauges: f64,
    /// After forming, mm.
    pub least_gauge: f64,
    /// At forming, MPa.
    pub flow_stress: f64,
    /// Of the rig, MPa.
    pub most_pressure: f64,
}

impl Default for ShopWish {
    /// As [`Workshop::default`], with the first material of the table.
    fn default() -> Self {
        let usual = Workshop::default();
        Self {
            draw: Draw::Up,
            gauge: usual.gauge,
            density: materials::table()[0].density.value,
            least_draft: usual.least_draft,
            cutter: usual.cutter,
            step_over: usual.step_over,
            most_scallop: usual.most_scallop,
            bend_gauges: usual.bend_gauges,
            least_gauge: usual.least_gauge,
            flow_stress: usual.flow_stress,
            most_pressure: usual.most_pressure,
        }
    }
}

impl ShopWish {
    fn workshop(&self) -> Workshop {
        Workshop {
            direction: self.draw.direction(),
            least_draft: self.least_draft,
            cutter: self.cutter,
            step_over: self.step_over,
            most_scallop: self.most_scallop,
            gauge: self.gauge,
            bend_gauges: self.bend_gauges,
            least_gauge: self.least_gauge,
            flow_stress: self.flow_stress,
            most_pressure: self.most_pressure,
            ..Workshop::default()
        }
    }
}

/// One measure in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FigureMessage {
    /// What is measured.
    pub what: String,
    /// The figure with its unit.
    pub figure: String,
    /// How it is known, or what it leaves out; may be empty.
    pub note: String,
}

/// One making check in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CheckMessage {
    /// What is checked.
    pub what: String,
    /// The worst value with its unit.
    pub worst: String,
    /// The limit with its unit.
    pub limit: String,
    /// Whether the limit is kept.
    pub passes: bool,
    /// What that is worth.
    pub basis: String,
    /// Where the worst value is; may be empty.
    pub place: String,
    /// How it is worked out.
    pub formula: String,
    /// Where the formula comes from, and how it is known.
    pub source: String,
    /// What it leaves out, and what can hurt; may be empty.
    pub caution: String,
}

/// All that is to be known of making a piece.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct MakingMessage {
    /// Its measures.
    pub figures: Vec<FigureMessage>,
    /// The checks, in the order in which a piece is made.
    pub checks: Vec<CheckMessage>,
    /// What stands beside every making figure.
    pub cautions: Vec<String>,
}

/// A material to start from.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct MaterialMessage {
    /// What the trade calls it.
    pub name: String,
    /// g/cm³.
    pub density: f64,
    /// The least inner bend radius of thin and of thick sheet, in gauges.
    pub bend: f64,
    /// Of sheet above the gauge `thick`.
    pub bend_thick: f64,
    /// In mm.
    pub thick: f64,
    /// At forming, MPa, where it is known here.
    pub flow_stress: Option<f64>,
    /// Sources and cautions, a sentence an entry.
    pub notes: Vec<String>,
}

/// The materials of the table.
pub fn materials() -> Vec<MaterialMessage> {
    let told = materials::table().into_iter().map(|material| {
        let mut notes = vec![
            format!("Density: {}.", material.density.source),
            format!("Bend radius: {}.", material.bend.source),
        ];
        if let Some(hot) = &material.hot {
            notes.push(format!(
                "Formed hot at {} to {}: {}.",
                hot.lowest, hot.highest, hot.source
            ));
            if let Some(stress) = &hot.flow_stress {
                notes.push(format!("Flow stress: {}.", stress.source));
            }
        }
        notes.push(material.caution);
        let is_titanium = material.name.contains("titanium");
        if is_titanium {
            notes.extend([TITANIUM_SCALES, TITANIUM_HOT].map(str::to_owned));
        }
        MaterialMessage {
            name: material.name,
            density: material.density.value,
            bend: material.bend.value,
            bend_thick: material.bend_thick.value,
            thick: materials::THICK,
            flow_stress: material.hot.and_then(|hot| Some(hot.flow_stress?.value)),
            notes,
        }
    });
    told.collect()
}

impl SeriesSession {
    /// Measures piece `number` and checks it against the limits of `wish`.
    ///
    /// # Errors
    /// [`SeriesFailure`], also of a limit that is not above 0.
    pub fn making(&self, number: &str, wish: &ShopWish) -> Result<MakingMessage, SeriesFailure> {
        let limits = [
            ("gauge", wish.gauge),
            ("density", wish.density),
            ("least draft", wish.least_draft),
            ("radius of the cutter", wish.cutter),
            ("step-over", wish.step_over),
            ("highest scallop", wish.most_scallop),
            ("least bend radius", wish.bend_gauges),
            ("least gauge after forming", wish.least_gauge),
            ("flow stress", wish.flow_stress),
            ("highest pressure", wish.most_pressure),
        ];
        let wrong = limits
            .iter()
            .find(|(_, value)| !(value.is_finite() && 0.0 < *value));
        if let Some(&(limit, _)) = wrong {
            return Err(SeriesFailure::Limit { limit });
        }
        let piece = self.form(&self.number_in(number)?)?;
        let workshop = wish.workshop();
        let checks = workshop.examine(&piece, false);
        Ok(MakingMessage {
            figures: figures(&piece, wish),
            checks: checks
                .iter()
                .map(|(kind, report)| told(&workshop, *kind, report))
                .collect(),
            cautions: vec![DESIGN_ESTIMATE.to_owned()],
        })
    }
}

fn figures(piece: &Piece, wish: &ShopWish) -> Vec<FigureMessage> {
    let measures = measure(piece, AREA_TOLERANCE);
    let sheet = Sheet {
        gauge: wish.gauge,
        density: wish.density,
        side: Side::Middle,
        with_caps: false,
    };
    let wall = sheet.wall(&measures);
    let figure = |what: &str, figure: String, note: &str| FigureMessage {
        what: what.to_owned(),
        figure,
        note: note.to_owned(),
    };
    let mut figures = vec![figure(
        "Area of the skin",
        format!("{:.2} cm²", measures.skin_area.value / SQUARE),
        "without caps",
    )];
    figures.push(volume(&measures));
    figures.push(figure(
        "Mass of the wall",
        format!("{:.3} kg", wall.mass),
        "a sheet of even gauge about the skin, without caps",
    ));
    if let Some(capacity) = wall.capacity {
        let note = if measures.cap_areas.is_some() {
            "inside the sheet, the ends taken as closed flat"
        } else {
            "inside the sheet"
        };
        figures.push(figure(
            "Capacity",
            format!("{:.1} cm³", capacity / CUBE),
            note,
        ));
    }
    figures.push(figure(
        "Centre of gravity",
        coordinates(&wall.centre),
        "of the wall, taken at the skin",
    ));
    figures.push(standing(piece, wall.centre));
    figures
}

fn volume(measures: &Measures) -> FigureMessage {
    let (figure, note) = match &measures.volume {
        None => (
            "none".to_owned(),
            "open profiles enclose nothing, unless they go all round and all sections rise, or all fall".to_owned(),
        ),
        Some(volume) => (
            format!("{:.1} cm³", volume.by_sections / CUBE),
            volume.disagreement().map_or_else(
                || "between the skin and the axis, by sections".to_owned(),
                |share| format!("by sections; the divergence theorem differs by {share:.0e}"),
            ),
        ),
    };
    FigureMessage {
        what: "Volume enclosed".to_owned(),
        figure,
        note,
    }
}

/// How it rests as it stands in space, lowest side down.
fn standing(piece: &Piece, centre: Point3<f64>) -> FigureMessage {
    let rest = rest(piece, centre, -Vector3::z_axis(), TOUCH);
    let (figure, note) = if rest.stands() {
        (
            format!("tips at {:.1} degrees", rest.tipping),
            format!(
                "its centre stands {} above the floor, {} inside the edge that it tips over",
                words::millimetres(rest.height),
                words::millimetres(rest.distance)
            ),
        )
    } else {
        (
            "does not stand by itself".to_owned(),
            format!(
                "its centre stands {} outside what touches the floor",
                words::millimetres(-rest.distance)
            ),
        )
    };
    FigureMessage {
        what: "Resting on its lowest side".to_owned(),
        figure,
        note,
    }
}

fn told(workshop: &Workshop, kind: Kind, report: &Report) -> CheckMessage {
    let check = workshop.check(kind);
    let formula = check.formula();
    let bound = match report.limit.sense {
        Sense::AtLeast => "at least",
        Sense::AtMost => "at most",
    };
    CheckMessage {
        what: words::capital(kind.title()),
        worst: in_unit(report.worst, check.unit()),
        limit: format!("{bound} {}", in_unit(report.limit.value, check.unit())),
        passes: report.passes,
        basis: match report.basis {
            Basis::Proved => "proved".to_owned(),
            Basis::Checked => "checked at that place".to_owned(),
            Basis::Sampled { places } => {
                format!("looked at in {places} places; between them it may be worse")
            }
        },
        place: report.place.map_or_else(String::new, |place| {
            format!(
                "{} along, {} across, at {}",
                words::fraction(place.along),
                words::fraction(place.across),
                coordinates(&place.point)
            )
        }),
        formula: formula.text.to_owned(),
        source: format!("{} ({})", formula.source, known(formula.provenance)),
        caution: formula.caution.to_owned(),
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

fn in_unit(value: f64, unit: Unit) -> String {
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

fn coordinates(point: &Point3<f64>) -> String {
    format!("{:.2}, {:.2}, {:.2} mm", point.x, point.y, point.z)
}
