//! The manifest of a selection: one line a file, as comma-separated values; and
//! the measures of a piece as every manifest has them.
//!
//! Lines and quotes follow RFC 4180. A checksum (SHA-256, FIPS 180-4) tells
//! whether a file came through whole.

use loftkin_form::body::Measures;
use sha2::{Digest, Sha256};
use std::fmt::Write;

/// The columns of [`measures`].
pub const MEASURES: [&str; 6] = [
    "skin_area_mm2",
    "volume_mm3",
    "volume_difference",
    "centre_x_mm",
    "centre_y_mm",
    "centre_z_mm",
];

/// Area, volume and by how much its two ways of computing differ (empty for a
/// piece that encloses nothing), and the centre of what it encloses, else of its
/// skin.
pub fn measures(of: &Measures) -> [String; 6] {
    let volume = of.volume.as_ref();
    let difference = volume.and_then(|volume| volume.disagreement());
    let centre = of.solid_centre.unwrap_or(of.skin_centre);
    [
        decimal(of.skin_area.value),
        volume.map_or_else(String::new, |volume| decimal(volume.by_sections)),
        difference.map_or_else(String::new, |share| format!("{share:.1e}")),
        decimal(centre.x),
        decimal(centre.y),
        decimal(centre.z),
    ]
}

/// "1 4 2": the profiles by station, from 1; given from 0.
pub fn profiles(arrangement: &[usize]) -> String {
    let numbers: Vec<String> = arrangement
        .iter()
        .map(|one| (one + 1).to_string())
        .collect();
    numbers.join(" ")
}

/// Four decimals, and never a negative zero.
pub fn decimal(value: f64) -> String {
    let text = format!("{value:.4}");
    match text.as_str() {
        "-0.0000" => "0.0000".to_owned(),
        _ => text,
    }
}

/// The lines of a manifest.
#[derive(Clone, Debug)]
pub struct Manifest {
    text: String,
}

/// What all lines of one piece begin with.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PieceColumns {
    /// Its number.
    pub piece: String,
    /// Its [`profiles`].
    pub profiles: String,
    /// A value for each figure of the manifest.
    pub figures: Vec<String>,
}

impl Manifest {
    /// A manifest whose lines tell piece, profiles and what `figures` names, then
    /// the file, its length in bytes and its checksum, or why there is none.
    pub fn new(figures: &[&str]) -> Self {
        let mut manifest = Self {
            text: String::new(),
        };
        let names = ["piece", "profiles"].iter().chain(figures);
        manifest.line(names.chain(&["file", "bytes", "sha256", "problem"]));
        manifest
    }

    /// Adds the file `name` of a piece.
    pub fn add(&mut self, piece: &PieceColumns, name: &str, content: &[u8]) {
        let length = content.len().to_string();
        let sum = Sha256::digest(content);
        let sum = sum
            .iter()
            .fold(String::new(), |text, byte| text + &format!("{byte:02x}"));
        self.line(piece.fields().chain([name, &length, &sum, ""]));
    }

    /// Adds that a piece lacks a file, and `why`.
    pub fn add_problem(&mut self, piece: &PieceColumns, why: &str) {
        self.line(piece.fields().chain(["", "", "", why]));
    }

    /// The whole text.
    pub fn text(&self) -> &str {
        &self.text
    }

    fn line(&mut self, fields: impl Iterator<Item = impl AsRef<str>>) {
        for (index, field) in fields.enumerate() {
            let field = field.as_ref();
            if 0 < index {
                self.text.push(',');
            }
            if field.contains([',', '"', '\r', '\n']) {
                let _ = write!(self.text, "\"{}\"", field.replace('"', "\"\""));
            } else {
                self.text.push_str(field);
            }
        }
        self.text.push_str("\r\n");
    }
}

impl PieceColumns {
    fn fields(&self) -> impl Iterator<Item = &str> {
        let figures = self.figures.iter().map(String::as_str);
        [self.piece.as_str(), &self.profiles]
            .into_iter()
            .chain(figures)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fields_with_commas_and_quotes_are_quoted() {
        let mut manifest = Manifest::new(&["area_mm2"]);
        let piece = PieceColumns {
            piece: "12".to_owned(),
            profiles: "1, 2 \"x\"".to_owned(),
            figures: vec!["3.5".to_owned()],
        };
        // The digest of "abc" is the example of FIPS 180-2, appendix B.1.
        manifest.add(&piece, "12.stl", b"abc");
        manifest.add_problem(&piece, "too fine");
        assert_eq!(
            manifest.text(),
            "piece,profiles,area_mm2,file,bytes,sha256,problem\r\n\
             12,\"1, 2 \"\"x\"\"\",3.5,12.stl,3,ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad,\r\n\
             12,\"1, 2 \"\"x\"\"\",3.5,,,,too fine\r\n"
        );
    }

    #[test]
    fn no_zero_is_negative() {
        assert_eq!(
            [-0.00001, 0.0, -1.25].map(decimal),
            ["0.0000", "0.0000", "-1.2500"]
        );
        assert_eq!(profiles(&[0, 3, 1]), "1 4 2");
    }
}
