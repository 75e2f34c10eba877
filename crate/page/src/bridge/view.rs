//! The part of the drawing that is seen, and between millimetres and pixels.

use super::Bridge;
use nalgebra::Point2;
use wasm_bindgen::prelude::*;

#[wasm_bindgen(js_class = Board)]
impl Bridge {
    /// Tells the size of the board in pixels.
    pub fn resize(&mut self, width: f64, height: f64) {
        self.board.resize(width, height);
    }

    /// Enlarges about a pixel.
    #[wasm_bindgen(js_name = zoomAt)]
    pub fn zoom_at(&mut self, x: f64, y: f64, factor: f64) {
        self.board.zoom(Some(Point2::new(x, y)), factor);
    }

    /// Enlarges about the middle.
    pub fn zoom(&mut self, factor: f64) {
        self.board.zoom(None, factor);
    }

    /// Moves the drawing by pixels.
    pub fn pan(&mut self, x: f64, y: f64) {
        self.board.pan(x, y);
    }

    /// Whether any profile is seen, or none could be.
    #[wasm_bindgen(js_name = inSight)]
    pub fn in_sight(&self) -> bool {
        self.board.in_sight()
    }

    /// Shows all profiles.
    pub fn fit(&mut self) {
        self.board.fit();
    }

    /// Where a place of the drawing (mm) stands on the board, in pixels.
    #[wasm_bindgen(js_name = toScreen)]
    pub fn to_screen(&self, x: f64, y: f64) -> Vec<f64> {
        let screen = self.board.view().to_screen(Point2::new(x, y));
        vec![screen.x, screen.y]
    }

    /// The place of the drawing (mm) under a pixel.
    #[wasm_bindgen(js_name = toMm)]
    pub fn to_mm(&self, x: f64, y: f64) -> Vec<f64> {
        let mm = self.board.view().to_mm(Point2::new(x, y));
        vec![mm.x, mm.y]
    }
}
