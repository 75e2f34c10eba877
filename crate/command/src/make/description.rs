//! The description of a run, run.json: all that decides the bytes of its pieces.
//! A folder knows its run again by it, and a report reads back from it how the
//! pieces stand and what was checked.

use super::limits::{Limits, Lying};
use loftkin_exchange::series::blend_of;
use loftkin_form::blend::{Layout, LayoutError};
use loftkin_form::stations::{Station, Stations};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use std::collections::BTreeMap;

/// The name of the file.
pub const NAME: &str = "run.json";

/// The kind of file, so that no other JSON is taken for one.
pub const FORMAT: &str = "loftkin-run";

/// The version of the structure.
pub const VERSION: u32 = 4;

/// What run.json holds.
#[derive(Debug, Serialize, Deserialize)]
pub struct Description {
    /// [`FORMAT`].
    pub format: String,
    /// [`VERSION`].
    pub version: u32,
    /// The version of the command: another one may give other bytes.
    pub program: String,
    /// The share code of the family.
    pub family: String,
    /// How many shares the run is parted into.
    pub shares: u64,
    /// The stations in order.
    pub stations: Vec<StationForm>,
    /// Whether they are angles round an axis, else heights.
    pub ring: bool,
    /// Whether the last is joined to the first.
    pub all_round: bool,
    /// As series files call it.
    pub blend: String,
    /// Whether no profile stands beside itself.
    pub no_equal_neighbours: bool,
    /// Profiles that alone may stand at a station.
    pub allowed: Vec<AllowedForm>,
    /// How many pieces the series has.
    pub series: String,
    /// Which are made.
    pub pieces: Value,
    /// What is written of each.
    pub files: Vec<String>,
    /// How far meshes may be from the piece, mm.
    pub tolerance: f64,
    /// Of the sheet, mm.
    pub gauge: Option<f64>,
    /// Where it lies against the drawn skin, when it has a gauge.
    pub sheet: Option<Lying>,
    /// Of the sheet, g/cm³.
    pub density: Option<f64>,
    /// What is checked, when anything is.
    pub checks: Option<Limits>,
    /// How the values of columns of the manifest are known, by their names.
    pub columns: BTreeMap<String, String>,
}

/// A station as run.json holds it.
#[derive(Debug, Serialize, Deserialize)]
pub struct StationForm {
    at: f64,
    scale: f64,
    turn: f64,
    shift: [f64; 2],
}

/// A rule as run.json holds it; all from 1.
#[derive(Debug, Serialize, Deserialize)]
pub struct AllowedForm {
    /// The station.
    pub station: usize,
    /// The profiles.
    pub profiles: Vec<usize>,
}

impl From<&Station> for StationForm {
    fn from(station: &Station) -> Self {
        Self {
            at: station.at,
            scale: station.scale,
            turn: station.turn,
            shift: [station.shift.x, station.shift.y],
        }
    }
}

impl From<&StationForm> for Station {
    fn from(form: &StationForm) -> Self {
        Self::at(form.at)
            .scaled(form.scale)
            .turned(form.turn)
            .shifted(form.shift[0], form.shift[1])
    }
}

impl Description {
    /// As text, the same for the same run.
    pub fn text(&self) -> String {
        // Strings, numbers and lists only: nothing that serialising refuses.
        serde_json::to_string_pretty(self).unwrap_or_default() + "\n"
    }

    /// Reads `text`; none when it describes no run.
    pub fn read(text: &str) -> Option<Self> {
        let described: Self = serde_json::from_str(text).ok()?;
        (described.format == FORMAT && described.version == VERSION).then_some(described)
    }

    /// Where the profiles of this run stand.
    ///
    /// # Errors
    /// [`LayoutError`], when it was edited.
    pub fn layout(&self) -> Result<Layout, LayoutError> {
        let stations = self.stations.iter().map(Station::from).collect();
        let stations = if self.ring {
            Stations::ring(stations, self.all_round)?
        } else {
            Stations::stack(stations)?
        };
        Layout::new(stations, blend_of(&self.blend).unwrap_or_default())
    }
}

/// What `one` and `other` differ in, in words: "stations and blend".
pub fn differences(one: &str, other: &str) -> String {
    let fields = |text: &str| match serde_json::from_str(text) {
        Ok(Value::Object(fields)) => fields,
        _ => serde_json::Map::new(),
    };
    let (one, other) = (fields(one), fields(other));
    let differ: Vec<String> = other
        .keys()
        // What columns there are follows from all else.
        .filter(|&key| key != "columns" && one.get(key) != other.get(key))
        .map(|key| key.replace('_', " "))
        .collect();
    match &differ[..] {
        [] => "it was edited".to_owned(),
        [only] if only == "pieces" => {
            "pieces differ; a run can grow: name those that it has and more".to_owned()
        }
        [only] => format!("{only} differ"),
        [first @ .., last] => format!("{} and {last} differ", first.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_differs_is_named() {
        let one = r#"{"blend": "ruled", "shares": 1, "stations": [1]}"#;
        let other = r#"{"blend": "eased", "shares": 1, "stations": [2]}"#;
        assert_eq!(differences(one, other), "blend and stations differ");
        assert_eq!(differences("{", r#"{"shares": 2}"#), "shares differ");
        assert_eq!(differences(one, one), "it was edited");
        let pieces = differences(r#"{"pieces": "all"}"#, r#"{"pieces": 1}"#);
        assert!(pieces.starts_with("pieces differ; a run can grow"));
    }
}
