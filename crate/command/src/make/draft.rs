//! What a run tells of drawing a piece off a mould in one part beyond the draft:
//! undercut regions and parting lines, in columns and in a sentence.
//!
//! The area is bounded; how many regions and lines there are, and how level these run,
//! is seen at samples. Where the draft stands above 0 there are none.

use loftkin_exchange::words;
use loftkin_form::making::check::Report;
use loftkin_form::making::draft::Draft;
use loftkin_form::making::undercut::area::undercut_area;
use loftkin_form::making::undercut::survey;
use loftkin_form::piece::Piece;

/// The names of the columns.
pub const COLUMNS: [&str; 6] = [
    "undercut_regions",
    "undercut_area_mm2",
    "undercut_area_basis",
    "parting_lines",
    "parting_height_mm",
    "parting_basis",
];

/// What is told of all pieces together.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// Pieces with an undercut.
    undercut: u64,
    /// The largest undercut in mm² of one piece, with its number.
    largest: Option<(f64, String)>,
    /// The parting line that departs most from level, in mm, with the piece.
    steepest: Option<(f64, String)>,
}

/// The columns of `piece`, whose draft is `report`.
pub fn columns(piece: &Piece, draft: &Draft, report: &Report) -> [String; 6] {
    if 0.0 < report.worst {
        return ["0", "0.0", "proved", "0", "", "proved"].map(str::to_owned);
    }
    let found = survey(piece, draft.direction);
    let area = undercut_area(piece, draft.direction).at_most;
    let height = found.lines.iter().map(|line| line.height).reduce(f64::max);
    [
        found.regions.len().to_string(),
        format!("{area:.1}"),
        "bounded".to_owned(),
        found.lines.len().to_string(),
        height.map_or_else(String::new, |height| format!("{height:.2}")),
        "sampled".to_owned(),
    ]
}

impl Drawing {
    /// Counts the columns of piece `number`.
    pub fn count(&mut self, number: &str, columns: &[&str]) {
        let value = |column: usize| columns.get(column)?.parse::<f64>().ok();
        self.undercut += u64::from(value(0).is_some_and(|regions| 0.0 < regions));
        for (most, column) in [(&mut self.largest, 1), (&mut self.steepest, 4)] {
            let Some(value) = value(column) else {
                continue;
            };
            let is_more = most.as_ref().is_none_or(|(most, _)| *most < value);
            if is_more && 0.0 < value {
                *most = Some((value, number.to_owned()));
            }
        }
    }

    /// Describes the undercuts; returns nothing when there are none.
    pub fn told(&self) -> Option<String> {
        let (area, piece) = self.largest.as_ref()?;
        let pieces = if self.undercut == 1 {
            "1 piece has an undercut".to_owned()
        } else {
            format!("{} pieces have an undercut", self.undercut)
        };
        let steepest = self
            .steepest
            .as_ref()
            .map_or_else(String::new, |(height, piece)| {
                format!(
                    "; the parting line that departs most from level does so by {}, on piece {piece}",
                    words::millimetres(*height)
                )
            });
        Some(format!(
            "{pieces}, the largest at most {area:.0} mm² on piece {piece} (bounded){steepest} (sampled)."
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_largest_and_the_steepest_are_told() {
        let mut drawing = Drawing::default();
        assert_eq!(drawing.told(), None);
        drawing.count("1", &["0", "0.0", "proved", "0", "", "proved"]);
        assert_eq!(drawing.told(), None);
        drawing.count("2", &["1", "40.0", "bounded", "2", "3.50", "sampled"]);
        drawing.count("3", &["2", "90.5", "bounded", "1", "1.25", "sampled"]);
        let told = drawing.told().unwrap();
        for part in [
            "2 pieces have",
            "at most 90 mm² on piece 3",
            "3.50 mm, on piece 2",
        ] {
            assert!(told.contains(part), "{part} is missing in: {told}");
        }
    }
}
