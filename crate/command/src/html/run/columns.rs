//! What a column of the manifests says of all pieces: its least, mean and
//! largest value, or how often each word stands in it.

use crate::html::escaped;
use crate::make::basis;
use std::fmt::Write;

/// Columns whose values are told, by how their names end, with the unit shown.
const UNITS: [(&str, &str); 8] = [
    ("_mm", " mm"),
    ("_mm2", " mm²"),
    ("_mm3", " mm³"),
    ("_kg", " kg"),
    ("_deg", " degrees"),
    ("_mpa", " MPa"),
    ("_ratio", ""),
    ("_regions", ""),
];

/// A value with the piece that has it.
#[derive(Clone, Debug, PartialEq)]
pub struct Extreme {
    /// In the unit of the column.
    pub value: f64,
    /// The number of the piece.
    pub piece: String,
    /// Its profiles by station, as the manifest gives them.
    pub profiles: String,
}

/// What one column says of all pieces.
#[derive(Debug)]
pub struct Column {
    /// As in the manifest.
    pub name: String,
    words: String,
    unit: &'static str,
    count: u64,
    sum: f64,
    /// The least value.
    pub least: Option<Extreme>,
    /// The largest value.
    pub largest: Option<Extreme>,
}

impl Column {
    /// The column `name`; none when it holds no values to be told.
    pub fn new(name: &str) -> Option<Self> {
        let (ending, unit) = UNITS
            .into_iter()
            .find(|(ending, _)| name.ends_with(ending))?;
        let words = match ending {
            "_regions" => name,
            _ => name.strip_suffix(ending)?,
        };
        Some(Self {
            words: words.replace('_', " "),
            name: name.to_owned(),
            unit,
            count: 0,
            sum: 0.0,
            least: None,
            largest: None,
        })
    }

    /// Counts `value` of a piece; what is no number is left out.
    pub fn add(&mut self, value: &str, piece: &str, profiles: &str) {
        let Ok(value) = value.parse::<f64>() else {
            return;
        };
        self.count += 1;
        self.sum += value;
        let here = || {
            Some(Extreme {
                value,
                piece: piece.to_owned(),
                profiles: profiles.to_owned(),
            })
        };
        if self.least.as_ref().is_none_or(|least| value < least.value) {
            self.least = here();
        }
        if self.largest.as_ref().is_none_or(|most| most.value < value) {
            self.largest = here();
        }
    }

    fn told(&self, extreme: &Extreme) -> String {
        let piece = escaped(&extreme.piece);
        let (value, unit) = (figure(extreme.value), self.unit);
        format!("{value}{unit}<small>piece {piece}</small>")
    }
}

/// The table of `columns`.
pub fn table<'a>(text: &mut String, columns: impl Iterator<Item = &'a Column>) {
    text.push_str("<div class=\"scroll\"><table>\n<thead><tr><th scope=\"col\">of each piece</th><th scope=\"col\">least</th><th scope=\"col\">mean</th><th scope=\"col\">largest</th><th scope=\"col\">known</th></tr></thead>\n<tbody>\n");
    for column in columns {
        let Some((least, largest)) = column.least.as_ref().zip(column.largest.as_ref()) else {
            continue;
        };
        let _ = writeln!(
            text,
            "<tr><th scope=\"row\">{}</th><td>{}</td><td>{}{}</td><td>{}</td><td>{}</td></tr>",
            escaped(&column.words),
            column.told(least),
            figure(column.sum / column.count as f64),
            column.unit,
            column.told(largest),
            basis::of(&column.name)
        );
    }
    text.push_str("</tbody>\n</table></div>\n");
}

/// A value with as many decimals as its size leaves worth telling.
fn figure(value: f64) -> String {
    match value.abs() {
        size if 10_000.0 <= size => format!("{value:.0}"),
        size if 100.0 <= size => format!("{value:.1}"),
        _ => format!("{value:.3}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_extremes_are_told_with_their_pieces() {
        let mut column = Column::new("skin_area_mm2").unwrap();
        for (value, piece) in [("20.5", "1"), ("", "2"), ("7026990.349", "3"), ("-1", "4")] {
            column.add(value, piece, "1 1");
        }
        let mut text = String::new();
        table(&mut text, [column].iter());
        for part in [
            ">skin area<",
            "-1.000 mm²<small>piece 4",
            ">2342337 mm²<",
            "7026990 mm²<small>piece 3",
        ] {
            assert!(text.contains(part), "{part} is missing in {text}");
        }
        assert!(Column::new("draft_passes").is_none());
    }
}
