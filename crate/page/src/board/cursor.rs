//! The crosshair that keys move where the pointer would place nodes.

use super::{Board, BoardError, Changes, Hand};
use nalgebra::{Point2, Vector2};

impl Board {
    /// Where the crosshair stands, in mm, once a key has moved it.
    pub fn cursor(&self) -> Option<Point2<f64>> {
        self.cursor.filter(|_| self.hand == Hand::Place)
    }

    /// Moves the crosshair by `x` and `y` steps of the visible grid and gives
    /// its place in mm; it first appears in the middle of the window.
    pub fn move_cursor(&mut self, x: f64, y: f64) -> Point2<f64> {
        let middle = self.view.to_mm(self.view.middle());
        let from = self.cursor.unwrap_or_else(|| self.on_grid(middle));
        let by = Vector2::new(x, y) * self.grid_step();
        let to = if self.cursor.is_some() {
            from + by
        } else {
            from
        };
        // Whole hundredths, as nodes are.
        let to = to.map(|mm| (mm * 100.0).round() / 100.0);
        self.cursor = Some(to);
        if let Some(sketch) = &mut self.sketch {
            sketch.pointer = Some(to);
        }
        self.view.reveal(to);
        self.changed(Changes::VIEW);
        to
    }

    /// Sets the next node of the sketch at the crosshair.
    ///
    /// # Errors
    /// As [`Board::sketch_node`].
    pub fn place_at_cursor(&mut self) -> Result<(), BoardError> {
        let at = match self.cursor() {
            Some(at) => at,
            None => self.move_cursor(0.0, 0.0),
        };
        self.sketch_at(at.x, at.y)
    }
}
