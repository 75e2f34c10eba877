//! Families in and out: files, share codes and examples.

use super::Bridge;
use crate::board::Board;
use crate::examples::EXAMPLES;
use crate::fingerprint;
use loftkin_exchange::any::{self, ImportError};
use loftkin_exchange::import::{Import, Take};
use loftkin_exchange::point_list::Reading;
use loftkin_exchange::{family_json, share, words};
use loftkin_kernel::family::Family;
use loftkin_kernel::table::Table;
use wasm_bindgen::prelude::*;

fn notes_of(import: &Import) -> Vec<String> {
    import.notes.iter().map(ToString::to_string).collect()
}

/// The names of the example families, in order.
#[wasm_bindgen(js_name = exampleNames)]
pub fn example_names() -> Vec<String> {
    EXAMPLES
        .iter()
        .map(|example| example.name.to_owned())
        .collect()
}

/// The share code of the series that comes with example `index`; empty for none.
#[wasm_bindgen(js_name = exampleSeries)]
pub fn example_series(index: usize) -> String {
    let series = EXAMPLES.get(index).map(|example| example.series);
    series.unwrap_or_default().to_owned()
}

/// Whether a text begins like a share code.
#[wasm_bindgen(js_name = isShareCode)]
pub fn is_share_code(text: &str) -> bool {
    share::is_code(text)
}

/// What a list calls the family of a share code: its name, and how many profiles it has.
#[wasm_bindgen(js_name = nameOfShareCode)]
pub fn name_of_share_code(code: &str) -> Result<String, JsError> {
    let family = share::decode(code)?;
    let name = match family.name.trim() {
        "" => "Family without a name",
        name => name,
    };
    let count = words::counted(family.profiles.len(), "profile", "profiles");
    Ok(format!("{name}, {count}"))
}

/// The fingerprint of everything proved of a family file, as hexadecimal digits.
#[wasm_bindgen(js_name = fingerprintOfFile)]
pub fn fingerprint_of_file(text: &str) -> Result<String, JsError> {
    let table = Table::new(family_json::read(text)?.family)?;
    Ok(format!("{:016x}", fingerprint::of(&table)))
}

#[wasm_bindgen(js_class = Board)]
impl Bridge {
    /// The share code of the family to keep.
    #[wasm_bindgen(js_name = shareCode)]
    pub fn share_code(&self) -> String {
        share::encode(self.board.family_to_keep())
    }

    /// The share code of the family as shown: of a trial, what is tried.
    #[wasm_bindgen(js_name = shownCode)]
    pub fn shown_code(&self) -> String {
        share::encode(self.board.family())
    }

    /// The number of the work on the board: another family that is opened is another one.
    pub fn work(&self) -> u32 {
        self.board.document().identity().work()
    }

    /// A number for each profile that stays with it, in their order.
    #[wasm_bindgen(js_name = profileKeys)]
    pub fn profile_keys(&self) -> Vec<u32> {
        self.board.document().identity().profiles().to_vec()
    }

    /// Whether the family of a share code is still the drawing to keep; names
    /// aside.
    #[wasm_bindgen(js_name = isStill)]
    pub fn is_still(&self, code: &str) -> bool {
        share::decode(code)
            .is_ok_and(|family| loftkin_work::same_drawing(&family, self.board.family_to_keep()))
    }

    /// Opens the family of a share code as one step of the history.
    #[wasm_bindgen(js_name = openShareCode)]
    pub fn open_share_code(&mut self, code: &str, step: &str) -> Result<(), JsError> {
        let family = share::decode(code)?;
        Ok(self.board.open(family, step)?)
    }

    /// Begins anew with the family of a share code, without a history.
    #[wasm_bindgen(js_name = beginWithShareCode)]
    pub fn begin_with_share_code(&mut self, code: &str) -> Result<(), JsError> {
        let family = share::decode(code)?;
        let view = *self.board.view();
        self.board = Board::new(family)?;
        self.board.resize(view.size.x, view.size.y);
        self.board.fit();
        Ok(())
    }

    /// The family file.
    #[wasm_bindgen(js_name = fileText)]
    pub fn file_text(&self) -> String {
        family_json::write(self.board.family_to_keep())
    }

    /// Reads a file of any kind that is known and leaves the board alone: an
    /// error says what is wrong with it. A file that only mixes open and closed
    /// profiles is not wrong: see [`Self::mixed_in`].
    #[wasm_bindgen(js_name = checkFile)]
    pub fn check_file(&self, name: &str, bytes: &[u8]) -> Result<(), JsError> {
        match any::read(name, bytes, Reading::default()) {
            Err(error) if error.mixed().is_none() => Err(error.into()),
            _ => Ok(()),
        }
    }

    /// How many open and how many closed profiles a file mixes; empty when it
    /// mixes none.
    #[wasm_bindgen(js_name = mixedIn)]
    pub fn mixed_in(&self, name: &str, bytes: &[u8]) -> Vec<usize> {
        let read = any::read(name, bytes, Reading::default());
        let mixed = read.err().and_then(|error| error.mixed());
        mixed.map_or_else(Vec::new, Vec::from)
    }

    /// Opens a file of any kind that is known (family, SVG drawing, point list,
    /// share link) as one step of the history and gives notes on it. Of one that
    /// mixes open and closed profiles `kind` names those that are taken: "open"
    /// or "closed".
    #[wasm_bindgen(js_name = openFile)]
    pub fn open_file(
        &mut self,
        name: &str,
        bytes: &[u8],
        kind: &str,
    ) -> Result<Vec<String>, JsError> {
        let import = any::read(name, bytes, taking(kind))?;
        let notes = notes_of(&import);
        self.board.open(import.family, "Open a file")?;
        Ok(notes)
    }

    /// Adds the profiles of a file of any kind that is known to the family on
    /// the board, as one step of the history, and gives notes on it. Of one that
    /// mixes open and closed profiles those that fit the family are taken; an
    /// empty family takes those that `kind` names.
    #[wasm_bindgen(js_name = addFile)]
    pub fn add_file(
        &mut self,
        name: &str,
        bytes: &[u8],
        kind: &str,
    ) -> Result<Vec<String>, JsError> {
        let import = self.fitting(name, bytes, kind)?;
        let mut notes = notes_of(&import);
        let added = self
            .board
            .add_profiles_from(&import.family, "Add profiles of a file")?;
        notes.extend(added.notes);
        let count = words::counted(added.count, "profile", "profiles");
        notes.insert(0, format!("{count} added."));
        Ok(notes)
    }

    /// Opens example `index` as one step of the history.
    #[wasm_bindgen(js_name = openExample)]
    pub fn open_example(&mut self, index: usize) -> Result<(), JsError> {
        let example = EXAMPLES
            .get(index)
            .ok_or_else(|| JsError::new("There is no such example."))?;
        let import = family_json::read(example.file)?;
        let step = format!("Open the example “{}”", example.name);
        Ok(self.board.open(import.family, &step)?)
    }

    /// Opens an empty family as one step of the history.
    #[wasm_bindgen(js_name = openEmpty)]
    pub fn open_empty(&mut self) -> Result<(), JsError> {
        Ok(self.board.open(Family::default(), "Begin anew")?)
    }
}

impl Bridge {
    /// A file, and where it mixes open and closed profiles those that the
    /// family on the board can take; an empty one takes those of `kind`.
    fn fitting(&self, name: &str, bytes: &[u8], kind: &str) -> Result<Import, ImportError> {
        let ours = self.board.family().profiles.first();
        match any::read(name, bytes, taking(kind)) {
            Err(error) if error.mixed().is_some() && ours.is_some() => {
                let kind =
                    ours.map_or("", |profile| if profile.closed { "closed" } else { "open" });
                any::read(name, bytes, taking(kind))
            }
            read => read,
        }
    }
}

/// How a source is read of which the profiles of `kind` are taken: "open",
/// "closed", or all for an empty one.
fn taking(kind: &str) -> Reading {
    let take = match kind {
        "open" => Some(Take::Open),
        "closed" => Some(Take::Closed),
        _ => None,
    };
    Reading {
        take,
        ..Reading::default()
    }
}
