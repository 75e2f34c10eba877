//! Painting the board, and what has changed since it was last shown.

use super::Bridge;
use crate::paint;
use crate::scene::scene;
use wasm_bindgen::prelude::*;
use web_sys::CanvasRenderingContext2d;

#[wasm_bindgen(js_class = Board)]
impl Bridge {
    /// Bits of what has to be shown anew: 1 drawing, 2 shape, 4 selection,
    /// 8 pair, 16 view, 32 history.
    #[wasm_bindgen(js_name = takeChanges)]
    pub fn take_changes(&mut self) -> u32 {
        self.board.take_changes().0
    }

    /// The theme's colours, in the order of the inks.
    #[wasm_bindgen(js_name = setColours)]
    pub fn set_colours(&mut self, colours: Vec<String>) {
        self.colours = colours;
    }

    /// Paints the board.
    pub fn paint(&self, context: &CanvasRenderingContext2d) {
        let size = self.board.view().size;
        paint::paint(
            context,
            &scene(&self.board),
            &self.colours,
            (size.x, size.y),
        );
    }
}
