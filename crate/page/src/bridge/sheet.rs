//! The sheet as the person likes it: the grid, and what is shown on it.

use super::Bridge;
use crate::board::Looks;
use wasm_bindgen::prelude::*;

#[wasm_bindgen(js_class = Board)]
impl Bridge {
    /// The step of the visible grid in mm.
    #[wasm_bindgen(js_name = gridStep)]
    pub fn grid_step(&self) -> f64 {
        self.board.grid_step()
    }

    /// The step that the person chose, in mm; none when it follows the zoom.
    #[wasm_bindgen(js_name = chosenGridStep)]
    pub fn chosen_grid_step(&self) -> Option<f64> {
        self.board.chosen_grid_step()
    }

    /// Sets the step in mm, or lets it follow the zoom.
    #[wasm_bindgen(js_name = chooseGridStep)]
    pub fn choose_grid_step(&mut self, step: Option<f64>) -> Result<(), JsError> {
        Ok(self.board.choose_grid_step(step)?)
    }

    /// Whether nodes keep to the visible grid.
    pub fn snapping(&self) -> bool {
        self.board.snapping()
    }

    /// Makes nodes keep to the visible grid.
    #[wasm_bindgen(js_name = setSnapping)]
    pub fn set_snapping(&mut self, snapping: bool) {
        self.board.set_snapping(snapping);
    }

    /// What is shown: siblings, tangents, bend.
    pub fn looks(&self) -> Vec<u8> {
        let looks = self.board.looks();
        [looks.siblings, looks.tangents, looks.bend]
            .map(u8::from)
            .to_vec()
    }

    /// Shows siblings, tangents, bend, or not.
    #[wasm_bindgen(js_name = setLooks)]
    pub fn set_looks(&mut self, siblings: bool, tangents: bool, bend: bool) {
        self.board.set_looks(Looks {
            siblings,
            tangents,
            bend,
        });
    }
}
