//! Families in and out: share codes, examples and the family file that is written. What reads files is in the worker's
//! module.

use super::Bridge;
use crate::board::Board;
use crate::examples::EXAMPLES;
use loftkin_exchange::{family_json, share, words};
use loftkin_kernel::family::Family;
use wasm_bindgen::prelude::*;

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

    /// Adds the profiles of a share code's family to the family on the board, as
    /// one step of the history, and says what became of them.
    #[wasm_bindgen(js_name = addShareCode)]
    pub fn add_share_code(&mut self, code: &str, step: &str) -> Result<Vec<String>, JsError> {
        let added = self.board.add_profiles_from(&share::decode(code)?, step)?;
        let count = words::counted(added.count, "profile", "profiles");
        let mut notes = added.notes;
        notes.insert(0, format!("{count} added."));
        Ok(notes)
    }

    /// Opens example `index` as one step of the history.
    #[wasm_bindgen(js_name = openExample)]
    pub fn open_example(&mut self, index: usize) -> Result<(), JsError> {
        let example = EXAMPLES
            .get(index)
            .ok_or_else(|| JsError::new("There is no such example."))?;
        let family = share::decode(example.code)?;
        let step = format!("Open the example “{}”", example.name);
        Ok(self.board.open(family, &step)?)
    }

    /// Opens an empty family as one step of the history.
    #[wasm_bindgen(js_name = openEmpty)]
    pub fn open_empty(&mut self) -> Result<(), JsError> {
        Ok(self.board.open(Family::default(), "Begin anew")?)
    }
}
