//! The sketch in hand: nodes that are not yet a profile.

use super::Bridge;
use wasm_bindgen::prelude::*;

#[wasm_bindgen(js_class = Board)]
impl Bridge {
    /// Ends the sketch.
    #[wasm_bindgen(js_name = endSketch)]
    pub fn end_sketch(&mut self) -> Result<(), JsError> {
        Ok(self.board.end_sketch()?)
    }

    /// Gives the sketch up.
    #[wasm_bindgen(js_name = dropSketch)]
    pub fn drop_sketch(&mut self) {
        self.board.drop_sketch();
    }

    /// Takes the last node of the sketch back.
    #[wasm_bindgen(js_name = sketchBack)]
    pub fn sketch_back(&mut self) {
        self.board.sketch_back();
    }

    /// Adds a node to the sketch at x, y mm.
    #[wasm_bindgen(js_name = sketchAt)]
    pub fn sketch_at(&mut self, x: f64, y: f64) -> Result<(), JsError> {
        Ok(self.board.sketch_at(x, y)?)
    }
}
