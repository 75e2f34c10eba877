//! The reference picture under the curves: where it stands. The page holds the picture.

use super::Bridge;
use wasm_bindgen::prelude::*;

#[wasm_bindgen(js_class = Board)]
impl Bridge {
    /// x, y, width, height in mm and strength of the picture, or nothing.
    pub fn reference(&self) -> Vec<f64> {
        self.board.reference().map_or_else(Vec::new, |reference| {
            let height = reference.width * reference.aspect;
            let low = reference.low;
            vec![low.x, low.y, reference.width, height, reference.strength]
        })
    }

    /// Lays a picture of so many pixels in the middle of the window.
    #[wasm_bindgen(js_name = layReference)]
    pub fn lay_reference(&mut self, width: f64, height: f64) -> Result<(), JsError> {
        Ok(self.board.lay_reference(width, height)?)
    }

    /// Puts its left lower corner at x, y mm, makes it `width` mm wide and `strength` strong.
    #[wasm_bindgen(js_name = placeReference)]
    pub fn place_reference(
        &mut self,
        x: f64,
        y: f64,
        width: f64,
        strength: f64,
    ) -> Result<(), JsError> {
        Ok(self.board.place_reference((x, y), width, strength)?)
    }

    /// Takes it away.
    #[wasm_bindgen(js_name = removeReference)]
    pub fn remove_reference(&mut self) {
        self.board.remove_reference();
    }
}
