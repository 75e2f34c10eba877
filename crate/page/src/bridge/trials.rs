//! Trying a remedy or a mend, keeping it or dropping it; and pinning nodes.

use super::{Bridge, as_value};
use crate::board::{BoardError, Offer, Tried};
use loftkin_exchange::{share, words};
use loftkin_work::{AnswerMessage, Ending, MendWish};
use serde::Serialize;
use wasm_bindgen::prelude::*;

/// The mend on trial, for the page.
#[derive(Serialize)]
struct GhostMessage {
    step: String,
    proved: bool,
}

#[wasm_bindgen(js_class = Board)]
impl Bridge {
    /// Tries hint `index` of the finding.
    #[wasm_bindgen(js_name = tryHint)]
    pub fn try_hint(&mut self, index: usize) -> Result<(), JsError> {
        let hint = self.board.hint(index).ok_or(BoardError::NoPair)?;
        Ok(self.board.try_remedy(hint.remedy)?)
    }

    /// Tries what a mend of the family `asked` (a share code) came to, once it
    /// is judged anew.
    #[wasm_bindgen(js_name = tryMend)]
    pub fn try_mend(&mut self, asked: &str, wish: JsValue, answer: JsValue) -> Result<(), JsError> {
        let wish: MendWish = serde_wasm_bindgen::from_value(wish)?;
        let answer: AnswerMessage = serde_wasm_bindgen::from_value(answer)?;
        let Some(mended) = answer.family else {
            return Ok(());
        };
        Ok(self.board.try_offer(Offer {
            asked: share::decode(asked)?,
            mended: share::decode(&mended)?,
            request: wish.request(),
            claims_proved: answer.ending == Ending::Mended,
            step: answer.step,
        })?)
    }

    /// Keeps what is on trial.
    #[wasm_bindgen(js_name = keepTrial)]
    pub fn keep_trial(&mut self) {
        self.board.keep_trial();
    }

    /// Goes back to what was before the trial.
    #[wasm_bindgen(js_name = dropTrial)]
    pub fn drop_trial(&mut self) {
        self.board.drop_trial();
    }

    /// The remedy on trial, in words.
    #[wasm_bindgen(js_name = onTrial)]
    pub fn on_trial(&self) -> Option<String> {
        let preview = self.board.preview()?;
        match &preview.tried {
            Tried::Remedy(remedy) => Some(words::remedy(&preview.before, remedy)),
            Tried::Mend(_) => None,
        }
    }

    /// The mend on trial, or null: what its step would be called, and whether
    /// it is proved to be as asked.
    #[wasm_bindgen(js_name = mendOnTrial)]
    pub fn mend_on_trial(&self) -> JsValue {
        self.board.ghost().map_or(JsValue::NULL, |ghost| {
            as_value(&GhostMessage {
                step: ghost.step.clone(),
                proved: ghost.proved,
            })
        })
    }

    /// The pinned nodes: profile and node, profile and node, ...
    pub fn pins(&self) -> Vec<u32> {
        let pins = self.board.pins().all();
        pins.flat_map(|(profile, node)| [profile as u32, node as u32])
            .collect()
    }

    /// Pins the chosen nodes, or releases them if all of them are pinned.
    #[wasm_bindgen(js_name = togglePins)]
    pub fn toggle_pins(&mut self) -> Result<(), JsError> {
        Ok(self.board.toggle_pins()?)
    }

    /// Releases every pinned node.
    #[wasm_bindgen(js_name = releasePins)]
    pub fn release_pins(&mut self) {
        self.board.release_pins();
    }
}
