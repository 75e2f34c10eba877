//! What is pointed at in one picture, for all the others to show.

use super::Bridge;
use wasm_bindgen::prelude::*;

#[wasm_bindgen(js_class = Board)]
impl Bridge {
    /// Shows profiles as pointed at; none to end it.
    #[wasm_bindgen(js_name = pointProfiles)]
    pub fn point_profiles(&mut self, profiles: &[u32]) {
        let profiles: Vec<usize> = profiles.iter().map(|&index| index as usize).collect();
        self.board.point_profiles(&profiles);
    }

    /// Shows a place of the chosen pair's loft as pointed at; none to end it.
    #[wasm_bindgen(js_name = pointPlace)]
    pub fn point_place(&mut self, along: Option<f64>, across: Option<f64>) {
        self.board.point_place(along.zip(across));
    }

    /// The board's own pointer has gone elsewhere.
    pub fn leave(&mut self) {
        self.board.leave();
    }

    /// The profile under the board's own pointer and the fraction along it, or nothing.
    #[wasm_bindgen(js_name = hoveredPlace)]
    pub fn hovered_place(&self) -> Vec<f64> {
        self.board
            .hovered_place()
            .map_or_else(Vec::new, |(profile, along)| vec![profile as f64, along])
    }
}
