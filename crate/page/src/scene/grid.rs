//! The grid, its figures, and the lines of x = 0 and y = 0.

use super::{Ink, Scene};
use crate::board::FINEST_GRID;
use loftkin_kernel::family::Placement;
use nalgebra::Point2;

/// Fine grid lines to one labelled line.
const FINE_TO_BOLD: f64 = 5.0;

impl Scene<'_> {
    pub(super) fn grid(&mut self) {
        let view = *self.board.view();
        let fine = view.grid_step(FINEST_GRID);
        let bold = view.grid_step(FINEST_GRID * FINE_TO_BOLD);
        let (low, high) = (
            view.to_mm(Point2::new(0.0, view.size.y)),
            view.to_mm(Point2::new(view.size.x, 0.0)),
        );
        for (step, ink) in [(fine, Ink::Grid), (bold, Ink::GridBold)] {
            for x in multiples(low.x, high.x, step) {
                self.line(ink, 1.0, vec![self.crisp(x, low.y), self.crisp(x, high.y)]);
            }
            for y in multiples(low.y, high.y, step) {
                self.line(ink, 1.0, vec![self.crisp(low.x, y), self.crisp(high.x, y)]);
            }
        }
        self.origin(low, high);
        for x in multiples(low.x, high.x, bold) {
            let at = Point2::new(self.screen(Point2::new(x, 0.0)).x + 3.0, view.size.y - 6.0);
            self.label(Ink::Label, at, number(x, bold));
        }
        for y in multiples(low.y, high.y, bold) {
            let at = Point2::new(4.0, self.screen(Point2::new(0.0, y)).y - 3.0);
            self.label(Ink::Label, at, number(y, bold));
        }
    }

    fn origin(&mut self, low: Point2<f64>, high: Point2<f64>) {
        let ring = self.board.family().settings.placement == Placement::Ring;
        let width = if ring { 2.5 } else { 1.0 };
        let upright = vec![self.crisp(0.0, low.y), self.crisp(0.0, high.y)];
        self.line(Ink::Origin, width, upright);
        self.line(
            Ink::Origin,
            1.0,
            vec![self.crisp(low.x, 0.0), self.crisp(high.x, 0.0)],
        );
        if ring {
            let at = Point2::new(self.screen(Point2::origin()).x + 6.0, 16.0);
            self.label(Ink::Origin, at, "axis of the ring".to_owned());
        }
    }

    /// A point of a grid line, on the middle of a pixel.
    fn crisp(&self, x: f64, y: f64) -> Point2<f64> {
        self.screen(Point2::new(x, y))
            .map(|pixel| pixel.floor() + 0.5)
    }
}

/// The multiples of `step` from `low` to `high`.
fn multiples(low: f64, high: f64, step: f64) -> impl Iterator<Item = f64> {
    let (from, to) = ((low / step).ceil() as i64, (high / step).floor() as i64);
    (from..=to).map(move |i| i as f64 * step)
}

/// A grid label: as many decimals as the step needs.
fn number(value: f64, step: f64) -> String {
    let places = if 1.0 <= step {
        0
    } else if 0.1 <= step {
        1
    } else {
        2
    };
    format!("{value:.places$}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_have_the_decimals_of_the_grid() {
        assert_eq!(number(20.0, 10.0), "20");
        assert_eq!(number(0.30000000000000004, 0.1), "0.3");
        let found: Vec<f64> = multiples(-1.2, 2.0, 0.5).collect();
        assert_eq!(found, [-1.0, -0.5, 0.0, 0.5, 1.0, 1.5, 2.0]);
    }
}
