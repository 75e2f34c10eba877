//! The part of a report that tells of a run of pieces: read from its manifests a
//! line at a time, so that it takes no more memory for many pieces than for few.

use super::{escaped, paragraph};
use crate::make::{Failure, manifest};
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

/// Columns whose values are told, by how their names end, with the unit shown.
const UNITS: [(&str, &str); 8] = [
    ("_mm", "mm"),
    ("_mm2", "mm²"),
    ("_mm3", "mm³"),
    ("_kg", "kg"),
    ("_deg", "degrees"),
    ("_mpa", "MPa"),
    ("_ratio", ""),
    ("_passes", ""),
];

/// What one column says of all pieces.
struct Column {
    name: String,
    unit: &'static str,
    count: u64,
    sum: f64,
    least: Option<(f64, String)>,
    largest: Option<(f64, String)>,
    yes: u64,
    no: u64,
}

/// Adds the part on the run in `folder` to `text`.
///
/// # Errors
/// What the system says.
pub fn part(text: &mut String, folder: &Path) -> Result<(), Failure> {
    let mut columns: Vec<Option<Column>> = Vec::new();
    let (mut pieces, mut bytes, mut files) = (0_u64, 0_u64, 0_u64);
    let manifests = manifests(folder)?;
    for path in &manifests {
        let names = manifest::column_names(path)?;
        if columns.is_empty() {
            columns = names.iter().map(|name| Column::new(name)).collect();
        }
        for line in manifest::lines(path)? {
            let line = line?;
            if line.is_empty() {
                // Cut short by a kill: not whole, so not told.
                continue;
            }
            pieces += 1;
            let values: Vec<&str> = line.split(',').collect();
            for ((value, name), column) in values.iter().zip(&names).zip(&mut columns) {
                if let Some(column) = column {
                    column.add(value, values[0]);
                } else if name.ends_with("_bytes") && !value.is_empty() {
                    files += 1;
                    bytes += value.parse().unwrap_or(0);
                }
            }
        }
    }
    text.push_str("<h2>The run of pieces</h2>\n");
    if manifests.is_empty() {
        paragraph(text, "", "That folder has no manifest: no piece is made.");
        return Ok(());
    }
    let megabytes = bytes as f64 / 1e6;
    let sentence = format!("{pieces} pieces are whole, in {files} files of {megabytes:.1} MB.");
    paragraph(text, "", &sentence);
    table(text, columns.iter().flatten());
    paragraph(text, "facts", loftkin_form::making::DESIGN_ESTIMATE);
    Ok(())
}

fn table<'a>(text: &mut String, columns: impl Iterator<Item = &'a Column>) {
    text.push_str("<div class=\"scroll\"><table>\n<thead><tr><th scope=\"col\">of each piece</th><th scope=\"col\">least</th><th scope=\"col\">mean</th><th scope=\"col\">largest</th></tr></thead>\n<tbody>\n");
    for column in columns.filter(|column| 0 < column.count) {
        let name = escaped(&column.name);
        let _ = match (&column.least, &column.largest) {
            (Some(least), Some(largest)) => writeln!(
                text,
                "<tr><th scope=\"row\">{name}</th><td>{}</td><td>{:.3} {}</td><td>{}</td></tr>",
                column.told(least),
                column.sum / column.count as f64,
                column.unit,
                column.told(largest)
            ),
            _ => writeln!(
                text,
                "<tr><th scope=\"row\">{name}</th><td colspan=\"3\">{} yes, {} no</td></tr>",
                column.yes, column.no
            ),
        };
    }
    text.push_str("</tbody>\n</table></div>\n");
}

impl Column {
    fn new(name: &str) -> Option<Self> {
        let (ending, unit) = UNITS
            .into_iter()
            .find(|(ending, _)| name.ends_with(ending))?;
        let words = if ending == "_passes" {
            name
        } else {
            name.strip_suffix(ending)?
        };
        Some(Self {
            name: words.replace('_', " "),
            unit,
            count: 0,
            sum: 0.0,
            least: None,
            largest: None,
            yes: 0,
            no: 0,
        })
    }

    fn add(&mut self, value: &str, piece: &str) {
        match (value, value.parse::<f64>()) {
            ("yes", _) => self.yes += 1,
            ("no", _) => self.no += 1,
            (_, Ok(value)) => {
                self.sum += value;
                let here = || Some((value, piece.to_owned()));
                if self.least.as_ref().is_none_or(|(least, _)| value < *least) {
                    self.least = here();
                }
                if self.largest.as_ref().is_none_or(|(most, _)| *most < value) {
                    self.largest = here();
                }
            }
            (_, Err(_)) => return,
        }
        self.count += 1;
    }

    fn told(&self, (value, piece): &(f64, String)) -> String {
        let piece = escaped(piece);
        format!("{value:.3} {}<small>piece {piece}</small>", self.unit)
    }
}

/// All manifests in `folder`, by name.
fn manifests(folder: &Path) -> Result<Vec<PathBuf>, Failure> {
    let failed = |error| Failure::at(folder, error);
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).map_err(failed)? {
        let path = entry.map_err(failed)?.path();
        let name = path
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        if name.starts_with("manifest") && name.ends_with(".csv") {
            found.push(path);
        }
    }
    found.sort();
    Ok(found)
}
