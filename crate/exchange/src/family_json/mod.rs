//! The family file: JSON in mm, documented by `family.schema.json` beside this
//! crate.
//!
//! Reading is strict about the form (unknown fields, wrong kinds of value and
//! numbers without a place are refused, with the profile and node named) and
//! keeps what a person drew: a profile that cannot be judged is read and noted,
//! a value between two grid points is rounded and noted.

mod convert;
mod form;
mod write;

pub use write::write;

use crate::import::Import;
use crate::json;
use crate::json::form::{Misfit, head};
use loftkin_kernel::family::FamilyError;
use loftkin_kernel::grid::GridError;
use loftkin_kernel::quote::quoted;
use thiserror::Error;

/// What the field `format` says.
pub const FORMAT: &str = "loftkin-family";
/// The version of the form that is written and read here.
pub const VERSION: u32 = 1;
/// The largest file that is looked at: a family of 256 profiles of 200 cubic
/// spans with every number in full and one number a line stays below it.
pub const MOST_BYTES: usize = 32 << 20;

/// Why a text is not a family file. Positions count from 1.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum JsonError {
    /// More than [`MOST_BYTES`].
    #[error("the file has {bytes} bytes: a family file has at most {MOST_BYTES}")]
    TooLarge {
        /// How many bytes there are.
        bytes: usize,
    },
    /// The text is no JSON, or not of the form.
    #[error("{place}: {problem} (line {line}, column {column})")]
    Form {
        /// The profile, node or field in words.
        place: String,
        /// What is wrong and what was expected.
        problem: String,
        /// The line of the text.
        line: usize,
        /// The column of that line.
        column: usize,
    },
    /// JSON of another kind.
    #[error("this is no family file: its field \"format\" should say \"{FORMAT}\"")]
    Foreign,
    /// A version that did not exist when this was built.
    #[error(
        "the file is of version {version}, this program reads version {VERSION}: open it with a newer Loftkin"
    )]
    Newer {
        /// The version of the file.
        version: u32,
    },
    /// A unit other than mm.
    #[error(
        "the unit is \"{}\": only \"mm\" is read, so convert the coordinates first",
        quoted(unit)
    )]
    Unit {
        /// What the file says.
        unit: String,
    },
    /// A grid other than 0.01 mm.
    #[error("the grid is {}: only 0.01 (mm) is read", quoted(&grid.to_string()))]
    Grid {
        /// What the file says.
        grid: f64,
    },
    /// A coordinate without a place on the grid.
    #[error("{place}: {error}")]
    Coordinate {
        /// The profile and node in words.
        place: String,
        /// Why it has no place.
        error: GridError,
    },
    /// A profile with neither nodes nor a path, or with both.
    #[error("profile {profile}: give either \"nodes\" or \"path\"")]
    Outline {
        /// Which profile.
        profile: usize,
    },
    /// Too many profiles, or a limit out of range.
    #[error("{0}")]
    Family(FamilyError),
}

/// Reads the JSON form.
///
/// # Errors
/// A [`JsonError`] that names the place. A profile that is wrong only in
/// itself (too few nodes, a repeated node) is no error but a note.
pub fn read(text: &str) -> Result<Import, JsonError> {
    if MOST_BYTES < text.len() {
        return Err(JsonError::TooLarge { bytes: text.len() });
    }
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let refused = |misfit: Misfit| {
        let (place, line, column) = misfit.told(text);
        let problem = misfit.problem;
        JsonError::Form {
            place,
            problem,
            line,
            column,
        }
    };
    let item = json::read(text).map_err(|syntax| refused(syntax.into()))?;
    let (format, version) = head(&item);
    if format != Some(FORMAT) {
        return Err(JsonError::Foreign);
    }
    if let Some(version) = version.filter(|&version| VERSION < version) {
        return Err(JsonError::Newer { version });
    }
    let form = form::family(&item).map_err(refused)?;
    if form.unit != "mm" {
        return Err(JsonError::Unit { unit: form.unit });
    }
    if form.grid != 0.01 {
        return Err(JsonError::Grid { grid: form.grid });
    }
    convert::convert(form)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(profiles: &str) -> String {
        format!(
            r#"{{"format": "loftkin-family", "version": 1, "unit": "mm", "grid": 0.01, "profiles": {profiles}}}"#
        )
    }

    fn refusal(text: &str) -> String {
        read(text).unwrap_err().to_string()
    }

    #[test]
    fn what_is_written_reads_back() {
        let import = read(&file(
            r#"[{"name": "Brim \"low\"", "nodes": [[0, 0], [12.5, -0.07, "corner"], [30.01, 4]]},
                {"path": {"start": [0, 0], "spans": [{"line": [1, 0]}, {"cubic": [[1, 2], [3, 4], [5, 6]]}]}}]"#,
        ))
        .unwrap();
        assert!(import.notes.is_empty(), "{:?}", import.notes);
        assert_eq!(read(&write(&import.family)), Ok(import));
    }

    #[test]
    fn refusals_name_the_place() {
        let text = refusal(&file(
            r#"[{"nodes": [[0,0],[1,1]]}, {"nodes": [[0,0],[1,"a"]]}]"#,
        ));
        assert!(text.starts_with("profile 2, node 2"), "{text}");
        let text = refusal(&file(r#"[{"nodes": [[0,0],[1,1]], "colour": "red"}]"#));
        assert!(
            text.contains("profile 1") && text.contains("colour"),
            "{text}"
        );
        let text = refusal(&file(r#"[{"nodes": [[0,0],[1,1,"edge"]]}]"#));
        assert!(text.contains("\"edge\" is no kind of node"), "{text}");
        let text = refusal(&file(r#"[{"nodes": [[0,0],[1,1,"corner",4]]}]"#));
        assert!(text.starts_with("profile 1, node 2"), "{text}");
        let text = refusal(&file(r#"[{"nodes": [[0,0],[1e300,1]]}]"#));
        assert!(
            text.starts_with("profile 1, node 2: the coordinate"),
            "{text}"
        );
        let text = refusal(&file(r#"[{"name": "empty"}]"#));
        assert_eq!(text, "profile 1: give either \"nodes\" or \"path\"");
        let text = refusal(&file(
            r#"[{"path": {"start": [0,0], "spans": [{"arc": [1,1]}]}}]"#,
        ));
        assert!(text.starts_with("profile 1, path, span 1"), "{text}");
    }

    #[test]
    fn other_files_and_newer_ones_are_told_apart() {
        assert_eq!(read("{}"), Err(JsonError::Foreign));
        assert_eq!(
            read(r#"{"format": "loftkin-family", "version": 2, "new": {}}"#),
            Err(JsonError::Newer { version: 2 })
        );
        assert!(matches!(read("{\"format\": "), Err(JsonError::Form { .. })));
        let inches = file("[]").replace("\"mm\"", "\"inch\"");
        assert!(matches!(read(&inches), Err(JsonError::Unit { .. })));
    }

    #[test]
    fn rounding_and_undrawable_profiles_are_noted_and_kept() {
        let import = read(&file(r#"[{"nodes": [[0.001, 0], [0, 0.004]]}]"#)).unwrap();
        let notes: Vec<String> = import.notes.iter().map(ToString::to_string).collect();
        assert_eq!(
            notes[0],
            "Profile 1: 2 coordinates were rounded to the grid of 0.01 mm, the first is 0.001 at node 1."
        );
        assert!(
            notes[1].contains("nodes 1 and 2 stand on the same point"),
            "{notes:?}"
        );
        assert_eq!(import.family.profiles[0].node_count(), 2);
    }

    #[test]
    fn limits_out_of_range_are_refused() {
        let with = |limits: &str| {
            file("[]").replace(
                "\"profiles\"",
                &format!("\"settings\": {{{limits}}}, \"profiles\""),
            )
        };
        assert!(matches!(
            read(&with("\"twist_limit\": 180")),
            Err(JsonError::Family(_))
        ));
        assert!(matches!(
            read(&with("\"crease_limit\": -3")),
            Err(JsonError::Family(_))
        ));
        let import = read(&with("\"twist_limit\": 45.04")).unwrap();
        assert_eq!(
            import.notes[0].text,
            "The twist limit of 45.04 degrees was rounded to 45 degrees."
        );
    }

    #[test]
    fn deep_nesting_is_refused_and_not_followed() {
        assert!(matches!(
            read(&"[".repeat(1_000_000)),
            Err(JsonError::Form { .. })
        ));
    }
}
