//! Pictures of the chosen pair: its sections, its surface, its double curves.

use super::Bridge;
use crate::picture;
use wasm_bindgen::prelude::*;

#[wasm_bindgen(js_class = Board)]
impl Bridge {
    /// A section in mm: x, y, x, y, ...
    pub fn section(&self, across: f64, steps: usize) -> Vec<f64> {
        picture::section(&self.board, across, steps)
    }

    /// Lowest x and y, highest x and y of the pair in mm, or nothing.
    #[wasm_bindgen(js_name = pairBounds)]
    pub fn pair_bounds(&self) -> Vec<f64> {
        picture::pair_bounds(&self.board)
            .map_or_else(Vec::new, |(low, high)| vec![low.x, low.y, high.x, high.y])
    }

    /// The surface, if there is one.
    pub fn surface(&self, steps: usize, rows: usize) -> Option<SurfaceMessage> {
        picture::surface(&self.board, steps, rows).map(SurfaceMessage)
    }

    /// A section in space: x, y, z, ...
    #[wasm_bindgen(js_name = sectionInSpace)]
    pub fn section_in_space(&self, across: f64, steps: usize) -> Vec<f32> {
        picture::section_in_space(&self.board, across, steps)
    }

    /// The ruling through a place and the place itself, in space: both ends of
    /// the ruling, then the place, x, y, z each; or nothing.
    #[wasm_bindgen(js_name = rulingInSpace)]
    pub fn ruling_in_space(&self, along: f64, across: f64) -> Vec<f32> {
        picture::ruling_in_space(&self.board, along, across)
    }

    /// The ruling through a place in the drawing, in mm: both ends, then the
    /// place, x and y each; or nothing.
    pub fn ruling(&self, along: f64, across: f64) -> Vec<f64> {
        picture::ruling(&self.board, along, across)
    }

    /// The double curves in space, as separate chords.
    #[wasm_bindgen(js_name = doubleCurves)]
    pub fn double_curves(&self) -> Vec<f32> {
        picture::double_curves(&self.board)
    }

    /// The two ends of the axis of a ring in space, or nothing.
    #[wasm_bindgen(js_name = axisInSpace)]
    pub fn axis_in_space(&self) -> Vec<f32> {
        picture::axis_in_space(&self.board)
    }

    /// The worst places in space.
    #[wasm_bindgen(js_name = worstPlaces)]
    pub fn worst_places(&self) -> Vec<f32> {
        picture::worst_places(&self.board)
    }
}

/// A surface on its way to the page.
#[wasm_bindgen(js_name = Surface)]
pub struct SurfaceMessage(picture::Surface);

#[wasm_bindgen(js_class = Surface)]
impl SurfaceMessage {
    /// x, y, z of each point, row by row.
    pub fn points(&self) -> Vec<f32> {
        self.0.points.clone()
    }

    /// For each point: 0 no concern, 1 a limit is passed, 2 folded.
    pub fn concern(&self) -> Vec<u8> {
        self.0.concern.clone()
    }

    /// How many points a row has.
    pub fn row(&self) -> usize {
        self.0.row
    }
}
