//! The table of pairs, the finding of the chosen pair, and the family as a whole.

use super::{Bridge, as_value};
use crate::message;
use crate::picture;
use loftkin_kernel::table::Table;
use loftkin_work::BlendMessage;
use wasm_bindgen::prelude::*;

/// The words for the second byte of a cell, in order.
#[wasm_bindgen(js_name = reasonWords)]
pub fn reason_words() -> Vec<String> {
    message::REASONS.map(str::to_owned).to_vec()
}

#[wasm_bindgen(js_class = Board)]
impl Bridge {
    /// Verdict and reason of every cell, two bytes each, in the order (1,1), (2,1), (2,2), ...
    pub fn cells(&self) -> Vec<u8> {
        self.board
            .document()
            .table()
            .map_or_else(Vec::new, message::cells)
    }

    /// The picture of a cell: path data of its profiles and of its inner sections.
    #[wasm_bindgen(js_name = cellPicture)]
    pub fn cell_picture(&self, first: usize, second: usize) -> Vec<String> {
        let (ends, inner) = picture::of_cell(self.board.document(), first, second);
        vec![ends, inner]
    }

    /// The proved margin of a cell in mm, if it has one.
    pub fn margin(&self, first: usize, second: usize) -> Option<f64> {
        self.board.margin(first, second)
    }

    /// The chosen pair: two indices, or nothing.
    pub fn pair(&self) -> Vec<u32> {
        self.board
            .pair()
            .map_or_else(Vec::new, |(a, b)| vec![a as u32, b as u32])
    }

    /// Chooses a pair.
    #[wasm_bindgen(js_name = choosePair)]
    pub fn choose_pair(&mut self, first: usize, second: usize) -> Result<(), JsError> {
        Ok(self.board.choose_pair(first, second)?)
    }

    /// Everything to say about the chosen pair, or null.
    pub fn finding(&mut self) -> JsValue {
        message::finding(&mut self.board).map_or(JsValue::NULL, |message| as_value(&message))
    }

    /// Whether any two and any blend of the family are free, or null of fewer
    /// than two profiles.
    #[wasm_bindgen(js_name = anyBlend)]
    pub fn any_blend(&self) -> JsValue {
        let table = self.whole();
        table.map_or(JsValue::NULL, |table| {
            as_value(&loftkin_work::any_blend(table))
        })
    }

    /// How true the family must be made, or null. It takes longer than a
    /// verdict.
    #[wasm_bindgen(js_name = familyTolerance)]
    pub fn family_tolerance(&self) -> JsValue {
        let table = self.whole();
        table.map_or(JsValue::NULL, |table| {
            as_value(&loftkin_work::tolerance(table))
        })
    }

    /// Which sets of profiles agree, a sentence each. It takes longer than a
    /// verdict.
    pub fn sets(&self) -> Vec<String> {
        self.whole().map_or_else(Vec::new, loftkin_work::sets)
    }

    /// Shows all of the blend that is drawn, as large as it can be.
    #[wasm_bindgen(js_name = fitBlend)]
    pub fn fit_blend(&mut self) {
        self.board.fit_blend();
    }

    /// Draws a blend of the family, as the whole family's message gives it, or
    /// none for null.
    #[wasm_bindgen(js_name = showBlend)]
    pub fn show_blend(&mut self, blend: JsValue) -> Result<(), JsError> {
        let blend: Option<BlendMessage> = serde_wasm_bindgen::from_value(blend)?;
        self.board.show_blend(blend.as_ref());
        Ok(())
    }

    /// The fraction across of the section that is shown.
    pub fn across(&self) -> f64 {
        self.board.across()
    }

    /// Shows another section.
    #[wasm_bindgen(js_name = setAcross)]
    pub fn set_across(&mut self, across: f64) {
        self.board.set_across(across);
    }

    /// Shows the worst place of region `index` of the finding.
    #[wasm_bindgen(js_name = showRegion)]
    pub fn show_region(&mut self, index: usize) {
        self.board.show_region(index);
    }
}

impl Bridge {
    /// The table of a family that has two profiles at least.
    fn whole(&self) -> Option<&Table> {
        self.board
            .document()
            .table()
            .filter(|table| 1 < table.size())
    }
}
