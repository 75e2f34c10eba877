//! The measures of a piece in words.

use super::shop::ShopWish;
use loftkin_exchange::words;
use loftkin_form::body::rest::rest;
use loftkin_form::body::wall::Sheet;
use loftkin_form::body::{Measures, measure};
use loftkin_form::making::stretch::Stretch;
use loftkin_form::piece::Piece;
use nalgebra::{Point3, Vector3};
use serde::Serialize;

/// How near the area is measured, relative.
const AREA_TOLERANCE: f64 = 1e-6;

/// What comes this near to the floor touches it, mm.
const TOUCH: f64 = 0.01;

/// mm² in a cm², and mm³ in a cm³.
const SQUARE: f64 = 100.0;
const CUBE: f64 = 1000.0;

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

/// All measures of `piece`, with a wall of the sheet of `wish`.
pub(super) fn figures(piece: &Piece, wish: &ShopWish) -> Vec<FigureMessage> {
    let measures = measure(piece, AREA_TOLERANCE);
    let sheet = Sheet {
        gauge: wish.gauge,
        density: wish.density,
        side: wish.sheet(),
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
    figures.push(match Stretch::new(piece) {
        Some(stretch) => figure(
            "Mass, formed",
            format!("{:.3} kg", stretch.mass(wish.gauge, wish.density)),
            "of the skin within its trim, from one clamped blank whose volume is kept: what it weighs once formed",
        ),
        None => figure(
            "Mass, formed",
            "none".to_owned(),
            "no one sheet is formed to this piece",
        ),
    });
    figures.push(figure(
        "Mass at the flat gauge",
        format!("{:.3} kg", wall.mass),
        "as if the gauge of the flat sheet were left everywhere, without caps",
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
        words::point(&wall.centre),
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
                || "between the skin and the axis, from the sections".to_owned(),
                |share| format!("worked out from the sections; a second way, from the skin, differs by {}", part(share)),
            ),
        ),
    };
    FigureMessage {
        what: "Volume enclosed".to_owned(),
        figure,
        note,
    }
}

/// A small share in words.
fn part(share: f64) -> String {
    if share < 1e-6 {
        "less than a millionth".to_owned()
    } else {
        format!("{:.4} %", 100.0 * share)
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
