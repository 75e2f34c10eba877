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

    /// Moves the crosshair by steps of the visible grid and gives its x and y in mm.
    #[wasm_bindgen(js_name = moveCursor)]
    pub fn move_cursor(&mut self, x: f64, y: f64) -> Vec<f64> {
        let at = self.board.move_cursor(x, y);
        vec![at.x, at.y]
    }

    /// Sets the next node of the sketch at the crosshair.
    #[wasm_bindgen(js_name = placeAtCursor)]
    pub fn place_at_cursor(&mut self) -> Result<(), JsError> {
        Ok(self.board.place_at_cursor()?)
    }

    /// How far a freehand stroke may lie from its fit, in mm.
    pub fn tolerance(&self) -> f64 {
        self.board.tolerance()
    }

    /// The tolerance that the person chose, in mm; none when it follows the zoom.
    #[wasm_bindgen(js_name = chosenTolerance)]
    pub fn chosen_tolerance(&self) -> Option<f64> {
        self.board.chosen_tolerance()
    }

    /// Sets the tolerance in mm, or lets it follow the zoom.
    #[wasm_bindgen(js_name = chooseTolerance)]
    pub fn choose_tolerance(&mut self, tolerance: Option<f64>) -> Result<(), JsError> {
        Ok(self.board.choose_tolerance(tolerance)?)
    }
}
