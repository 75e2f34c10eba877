//! Pictures of the chosen pair: its sections, its surface, its double curves.

use super::Bridge;
use crate::measure;
use crate::picture::{self, Map};
use nalgebra::Point2;
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
        self.board
            .pair_bounds()
            .map_or_else(Vec::new, |(low, high)| vec![low.x, low.y, high.x, high.y])
    }

    /// The surface, if there is one, with a map: 0 nothing, 1 twist in
    /// degrees, 2 Gaussian curvature in 1/mm^2.
    pub fn surface(&self, steps: usize, rows: usize, map: u32) -> Option<SurfaceMessage> {
        let map = match map {
            1 => Map::Twist,
            2 => Map::Curvature,
            _ => Map::Nothing,
        };
        picture::surface(&self.board, steps, rows, map).map(SurfaceMessage)
    }

    /// How far apart the planes of a stack stand in the picture, in mm.
    pub fn rise(&self) -> f64 {
        self.board.rise()
    }

    /// Asks for another distance; none goes back to the one that suits the pair.
    #[wasm_bindgen(js_name = setRise)]
    pub fn set_rise(&mut self, rise: Option<f64>) {
        self.board.set_rise(rise);
    }

    /// The angle between the half-planes of a ring in the picture, in degrees.
    pub fn opening(&self) -> f64 {
        self.board.opening()
    }

    /// Asks for another angle.
    #[wasm_bindgen(js_name = setOpening)]
    pub fn set_opening(&mut self, opening: f64) {
        self.board.set_opening(opening);
    }

    /// What is measured at a place, in words: where, twist, angle of ruling and
    /// section, curvature; or nothing.
    #[wasm_bindgen(js_name = measureAt)]
    pub fn measure_at(&self, along: f64, across: f64) -> Vec<String> {
        measure::at_place(&self.board, along, across).map_or_else(Vec::new, |found| {
            vec![found.place, found.twist, found.meeting, found.curvature]
        })
    }

    /// What is measured between two places, in words: the distance, and how far
    /// the skin turns; or nothing.
    #[wasm_bindgen(js_name = measureBetween)]
    pub fn measure_between(
        &self,
        along: f64,
        across: f64,
        other_along: f64,
        other_across: f64,
    ) -> Vec<String> {
        let found = measure::between(&self.board, (along, across), (other_along, other_across));
        found.map_or_else(Vec::new, |found| vec![found.distance, found.turn])
    }

    /// A curvature in words.
    #[wasm_bindgen(js_name = curvatureWords)]
    pub fn curvature_words(&self, curvature: f64) -> String {
        measure::curvature(curvature)
    }

    /// The fraction along of the place of a section nearest to x, y mm.
    #[wasm_bindgen(js_name = nearestAlong)]
    pub fn nearest_along(&self, x: f64, y: f64, across: f64) -> Option<f64> {
        measure::nearest_along(&self.board, Point2::new(x, y), across)
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

    /// The direction that the skin faces at each point, x, y, z; zero where it
    /// is singular.
    pub fn facing(&self) -> Vec<f32> {
        self.0.facing.clone()
    }

    /// The figure of the map at each point; empty without a map.
    pub fn figures(&self) -> Vec<f64> {
        self.0.figures.clone()
    }

    /// The fraction along of each point of a row.
    pub fn along(&self) -> Vec<f64> {
        self.0.along.clone()
    }
}
