//! The window on the drawing: its size, and what of the drawing is seen.

use super::{Board, Changes};
use loftkin_editor::view::View;
use nalgebra::Point2;

impl Board {
    /// Tells the size of the window, in pixels.
    pub fn resize(&mut self, width: f64, height: f64) {
        self.view.size = nalgebra::Vector2::new(width.max(1.0), height.max(1.0));
        self.changed(Changes::VIEW);
    }

    /// Enlarges by `factor` about `screen` (pixels), or about the middle.
    pub fn zoom(&mut self, screen: Option<Point2<f64>>, factor: f64) {
        self.view.zoom(screen.unwrap_or(self.view.middle()), factor);
        self.changed(Changes::VIEW);
    }

    /// Moves the drawing by `x`, `y` pixels.
    pub fn pan(&mut self, x: f64, y: f64) {
        self.view.pan(nalgebra::Vector2::new(x, y));
        self.changed(Changes::VIEW);
    }

    /// Whether any profile is seen, or none could be.
    pub fn in_sight(&self) -> bool {
        let mut curves = (0..self.family().profiles.len())
            .filter_map(|index| self.document.curve(index))
            .peekable();
        curves.peek().is_none()
            || curves.any(|curve| {
                (0..curve.span_count()).any(|span| self.view.shows(curve.span_mm(span)))
            })
    }

    /// Shows all profiles.
    pub fn fit(&mut self) {
        let points = (0..self.family().profiles.len())
            .filter_map(|index| self.document.curve(index))
            .flat_map(|curve| (0..=64).map(|i| curve.point_mm(f64::from(i) / 64.0)));
        let boxed = points.fold(None, |bounds: Option<(Point2<f64>, Point2<f64>)>, p| {
            let (low, high) = bounds.unwrap_or((p, p));
            Some((low.inf(&p), high.sup(&p)))
        });
        match boxed {
            Some((low, high)) => self.view.fit(low, high),
            None => {
                let size = self.view.size;
                self.view = View {
                    size,
                    ..View::default()
                };
            }
        }
        self.changed(Changes::VIEW);
    }
}
