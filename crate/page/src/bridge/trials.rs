//! Trying a remedy, keeping it or dropping it.

use super::Bridge;
use crate::board::BoardError;
use loftkin_exchange::words;
use wasm_bindgen::prelude::*;

#[wasm_bindgen(js_class = Board)]
impl Bridge {
    /// Tries hint `index` of the finding.
    #[wasm_bindgen(js_name = tryHint)]
    pub fn try_hint(&mut self, index: usize) -> Result<(), JsError> {
        let hint = self.board.hint(index).ok_or(BoardError::NoPair)?;
        Ok(self.board.try_remedy(hint.remedy)?)
    }

    /// Keeps the remedy on trial.
    #[wasm_bindgen(js_name = keepRemedy)]
    pub fn keep_remedy(&mut self) {
        self.board.keep_remedy();
    }

    /// Goes back to what was before the trial.
    #[wasm_bindgen(js_name = dropRemedy)]
    pub fn drop_remedy(&mut self) {
        self.board.drop_remedy();
    }

    /// What is on trial, in words.
    #[wasm_bindgen(js_name = onTrial)]
    pub fn on_trial(&self) -> Option<String> {
        let preview = self.board.preview()?;
        Some(words::remedy(&preview.before, &preview.remedy))
    }
}
