//! The band beside the parting line of a mould's two halves in words.

use super::figures::{fixed, millimetres};
use loftkin_form::making::band::Band;
use loftkin_form::making::draft::Draft;
use nalgebra::Point3;

/// What a band at a parting line means to the shop.
pub const PARTING_LAND: &str = "The shop accepts this band, or gives it a flat along the line, a parting land (common practice).";

/// What the band comes to: of a table's row, and of a manifest's piece.
pub fn band_shortly(band: &Band, draft: &Draft) -> String {
    match (band.is_none(), band.place) {
        (true, _) => "to the one half or the other".to_owned(),
        (_, None) => "no place below the limit was seen".to_owned(),
        (_, Some(_)) if band.width.is_infinite() => {
            "no parting line was seen: all of the skin belongs to one half".to_owned()
        }
        (_, Some(place)) => format!(
            "{} up to {} from the parting line, along the skin, widest at {}",
            below(draft),
            millimetres(band.width),
            point(&place.point)
        ),
    }
}

/// What that is worth.
pub fn band_basis(band: &Band) -> String {
    match band.bound {
        _ if band.is_none() => "proved on the whole skin".to_owned(),
        Some(bound) => format!(
            "seen at sampled places; proved: nowhere farther than {} from the line",
            no_less(bound)
        ),
        None => "seen at sampled places; how far it reaches is not proved".to_owned(),
    }
}

/// The whole of it, a sentence an entry.
pub fn band(band: &Band, draft: &Draft) -> Vec<String> {
    if band.is_none() || band.place.is_none() || band.width.is_infinite() {
        return Vec::new();
    }
    let mut said = vec![format!(
        "Where a smooth skin passes from one half to the other its draft is 0. It is {}.",
        band_shortly(band, draft)
    )];
    said.push(match band.bound {
        Some(bound) => format!(
            "Proved: no place of the skin with less is farther than {} from a parting line, and together they have at most {} cm².",
            no_less(bound),
            fixed((band.area).ceil() / 100.0, 2)
        ),
        None => "How far from the line places with less may lie is not proved.".to_owned(),
    });
    said.push(PARTING_LAND.to_owned());
    said
}

/// A proved bound, never rounded down.
pub fn no_less(mm: f64) -> String {
    millimetres((mm * 100.0).ceil() / 100.0)
}

/// What a draft without the least is: "below 2 degrees".
pub fn below(draft: &Draft) -> String {
    format!("below {} degrees", draft.least)
}

/// A point in space: "12.34, 0.00, -5.60 mm".
pub fn point(point: &Point3<f64>) -> String {
    let [x, y, z] = [point.x, point.y, point.z].map(|part| fixed(part, 2));
    format!("{x}, {y}, {z} mm")
}
