//! The printed report, and the drawing of all profiles as a file.

use super::{Bridge, as_value};
use crate::report;
use loftkin_exchange::svg;
use wasm_bindgen::prelude::*;

#[wasm_bindgen(js_class = Board)]
impl Bridge {
    /// Every cell of the table in words, with its margin: see [`report::CellReport`].
    #[wasm_bindgen(js_name = cellReports)]
    pub fn cell_reports(&self) -> JsValue {
        as_value(&report::cells(&self.board))
    }

    /// The profiles as an SVG drawing, in mm.
    #[wasm_bindgen(js_name = drawingText)]
    pub fn drawing_text(&self) -> String {
        svg::write(self.board.family_to_keep())
    }
}
