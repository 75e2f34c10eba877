//! What a run tells of drawing a piece out of two halves of a mould beyond the draft:
//! the band beside the parting line that lacks it, in columns and in sentences.
//!
//! The width is seen at sampled places; what is proved of it has columns of its own.

use loftkin_exchange::words::{self, no_less, point};
use loftkin_form::making::band::Band;
use loftkin_form::making::draft::Draft;

/// The names of the columns.
pub const COLUMNS: [&str; 7] = [
    "mould_halves",
    "band_mm",
    "band_at",
    "band_proved_mm",
    "band_area_proved_mm2",
    "parting_lines",
    "parting_height_mm",
];

/// The summary of the parting bands of all pieces.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Parting {
    /// Pieces with a band.
    banded: u64,
    /// The widest band seen, mm, with its piece and its place.
    widest: Option<(f64, String, String)>,
    /// Pieces with a band whose width is bounded by proof.
    bounded: u64,
    /// The largest of these bounds, mm.
    bound: f64,
    /// Pieces on which no line parts the halves.
    unparted: u64,
}

/// The columns of a piece with its `band`.
pub fn columns(band: &Band) -> [String; 7] {
    let height = band.lines.iter().map(|line| line.height).reduce(f64::max);
    // Without a line there is no width, nor a place of it.
    let width = Some(band.width).filter(|width| width.is_finite());
    let place = band.place.filter(|_| width.is_some());
    // Without commas, which end columns.
    let at = place.map(|place| point(&place.point).replace(", ", " ").replace(" mm", ""));
    [
        "two".to_owned(),
        width.map_or_else(String::new, |width| format!("{width:.3}")),
        at.unwrap_or_default(),
        band.bound.map_or_else(String::new, |bound| {
            format!("{:.3}", (bound * 1e3).ceil() / 1e3)
        }),
        format!("{:.1}", (band.area * 10.0).ceil() / 10.0),
        band.lines.len().to_string(),
        height.map_or_else(String::new, |height| format!("{height:.2}")),
    ]
}

impl Parting {
    /// Counts the columns of piece `number`.
    pub fn count(&mut self, number: &str, columns: &[&str]) {
        let value = |column: usize| columns.get(column)?.parse::<f64>().ok();
        let Some(width) = value(1) else {
            self.unparted += 1;
            return;
        };
        if width == 0.0 {
            return;
        }
        self.banded += 1;
        if let Some(bound) = value(3) {
            self.bounded += 1;
            self.bound = self.bound.max(bound);
        }
        if self.widest.as_ref().is_none_or(|(most, ..)| *most < width) {
            let place = columns[2].replace(' ', ", ");
            self.widest = Some((width, number.to_owned(), place));
        }
    }

    /// What is told of bands, of which `most` mm are accepted; nothing without any.
    pub fn told(&self, draft: &Draft, most: f64) -> Vec<String> {
        let mut told = Vec::new();
        if let Some((width, piece, place)) = &self.widest {
            told.push(format!(
                "{} up to {} from the parting line, along the skin, on piece {piece}, widest at {place} mm (seen at sampled places); {} accepted.",
                words::capital(&words::below(draft)),
                words::millimetres(*width),
                if most == 0.0 { "no band is".to_owned() } else { format!("a band of {most} mm is") },
            ));
            told.push(format!(
                "Proved of {} of the {}: {}.",
                self.bounded,
                words::counted(
                    self.banded as usize,
                    "piece with a band",
                    "pieces with a band"
                ),
                match self.bounded {
                    0 => "how far from the line places with less may lie is not proved".to_owned(),
                    _ => format!(
                        "no place with less is farther than {} from the line",
                        no_less(self.bound)
                    ),
                }
            ));
            told.push(words::PARTING_LAND.to_owned());
        }
        if 0 < self.unparted {
            told.push(format!(
                "On {} no parting line was seen, and all of the skin belongs to one half.",
                words::counted(self.unparted as usize, "piece", "pieces")
            ));
        }
        told
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_form::making::workshop::Workshop;

    #[test]
    fn the_widest_band_and_what_is_proved_of_bands_are_told() {
        let draft = Workshop::default().draft();
        let mut parting = Parting::default();
        parting.count("1", &["two", "0.000", "", "0.000", "0.0", "2", "0.00"]);
        assert!(parting.told(&draft, 0.0).is_empty());
        parting.count(
            "2",
            &[
                "two",
                "1.750",
                "50.00 1.75 0.00",
                "1.901",
                "42.0",
                "2",
                "0.00",
            ],
        );
        parting.count(
            "3",
            &["two", "1.500", "40.00 1.75 0.00", "", "42.0", "2", "0.00"],
        );
        parting.count("4", &["two", "", "", "", "42.0", "0", ""]);
        let told = parting.told(&draft, 1.6).join(" ");
        for part in [
            "Below 2 degrees up to 1.75 mm from the parting line, along the skin, on piece 2, widest at 50.00, 1.75, 0.00 mm (seen",
            "a band of 1.6 mm is accepted",
            "Proved of 1 of the 2 pieces with a band: no place with less is farther than 1.91 mm",
            "common practice",
            "On 1 piece no parting line",
        ] {
            assert!(told.contains(part), "{part} is missing in: {told}");
        }
    }
}
