//! The grid, its figures, and the lines of x = 0 and y = 0.

use super::{Ink, Scene};
use loftkin_kernel::family::Placement;
use nalgebra::Point2;

/// Fine grid lines to one labelled line, at least.
const FINE_TO_BOLD: f64 = 5.0;
/// Pixels between fine lines, at least: of a finer grid only some lines are drawn.
const NEAREST_LINES: f64 = 6.0;
/// Pixels between labelled lines, at least.
const NEAREST_LABELS: f64 = 56.0;
/// Pixels that a digit of a label takes, at most.
const DIGIT: f64 = 7.5;

impl Scene<'_> {
    pub(super) fn grid(&mut self) {
        let view = *self.board.view();
        let (fine, bold) = self.grid_steps();
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
            let figure = number(x, bold);
            // One that the edge would cut could be read as another number.
            if at.x + figure.len() as f64 * DIGIT < view.size.x {
                self.label(Ink::Label, at, figure);
            }
        }
        for y in multiples(low.y, high.y, bold) {
            let at = Point2::new(4.0, self.screen(Point2::new(0.0, y)).y - 3.0);
            // The corner belongs to the figures of x.
            if at.y < view.size.y - 20.0 {
                self.label(Ink::Label, at, number(y, bold));
            }
        }
    }

    /// The steps between drawn lines and between labelled lines, in mm.
    fn grid_steps(&self) -> (f64, f64) {
        let (step, scale) = (self.board.grid_step(), self.board.view().scale);
        let fine = step * round_at_least(NEAREST_LINES / (step * scale));
        let bold = fine * round_at_least(FINE_TO_BOLD.max(NEAREST_LABELS / (fine * scale)));
        (fine, bold)
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

/// The smallest of 1, 2, 5, 10, 20, 50, ... that is not below `least`.
fn round_at_least(least: f64) -> f64 {
    let mut power = 1.0;
    loop {
        for lead in [1.0, 2.0, 5.0] {
            if least <= lead * power {
                return lead * power;
            }
        }
        power *= 10.0;
    }
}

/// The multiples of `step` from `low` to `high`.
fn multiples(low: f64, high: f64, step: f64) -> impl Iterator<Item = f64> {
    let (from, to) = ((low / step).ceil() as i64, (high / step).floor() as i64);
    (from..=to).map(move |i| i as f64 * step)
}

/// A grid label: as many decimals as the step needs.
fn number(value: f64, step: f64) -> String {
    let whole = |places: &usize| {
        let scaled = step * 10_f64.powi(*places as i32);
        (scaled - scaled.round()).abs() < 1e-6
    };
    let places = (0..2).find(whole).unwrap_or(2);
    format!("{value:.places$}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_grid_that_is_too_fine_to_draw_shows_round_numbers_of_its_lines() {
        assert_eq!(round_at_least(0.3), 1.0);
        assert_eq!(round_at_least(5.0), 5.0);
        assert_eq!(round_at_least(5.01), 10.0);
        assert_eq!(round_at_least(1234.0), 2000.0);
    }

    #[test]
    fn labels_have_the_decimals_of_the_grid() {
        assert_eq!(number(20.0, 10.0), "20");
        assert_eq!(number(12.5, 2.5), "12.5");
        assert_eq!(number(-0.25, 0.25), "-0.25");
        assert_eq!(number(0.30000000000000004, 0.1), "0.3");
        let found: Vec<f64> = multiples(-1.2, 2.0, 0.5).collect();
        assert_eq!(found, [-1.0, -0.5, 0.0, 0.5, 1.0, 1.5, 2.0]);
    }
}
