//! The window on the drawing: millimetres to pixels and back, pan and zoom.
//!
//! The drawing's y runs upward, the screen's downward. Nothing here knows what
//! is drawn.

use nalgebra::{Point2, Vector2, center};

/// The closest look: pixels for one millimetre (a grid step is then 4 pixels).
const LARGEST_SCALE: f64 = 400.0;
/// The widest look: 100 m on about a thousand pixels.
const SMALLEST_SCALE: f64 = 0.01;
/// The part of the window that a fitted drawing fills.
const FILLED: f64 = 0.84;

/// What part of the drawing is seen, and how large.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// The point of the drawing in the middle of the window, in mm.
    pub centre: Point2<f64>,
    /// Pixels for one millimetre.
    pub scale: f64,
    /// Width and height of the window, in pixels.
    pub size: Vector2<f64>,
}

impl Default for View {
    fn default() -> Self {
        Self {
            centre: Point2::new(60.0, 40.0),
            scale: 4.0,
            size: Vector2::new(640.0, 480.0),
        }
    }
}

impl View {
    /// Where the point `mm` of the drawing stands on the screen, in pixels.
    pub fn to_screen(&self, mm: Point2<f64>) -> Point2<f64> {
        let offset = (mm - self.centre) * self.scale;
        Point2::new(self.size.x / 2.0 + offset.x, self.size.y / 2.0 - offset.y)
    }

    /// The point of the drawing, in mm, under the pixel `screen`.
    pub fn to_mm(&self, screen: Point2<f64>) -> Point2<f64> {
        self.centre
            + Vector2::new(screen.x - self.size.x / 2.0, self.size.y / 2.0 - screen.y) / self.scale
    }

    /// Moves the drawing by `pixels` on the screen.
    pub fn pan(&mut self, pixels: Vector2<f64>) {
        self.centre -= Vector2::new(pixels.x, -pixels.y) / self.scale;
    }

    /// Enlarges by `factor` about the pixel `screen`, which stays where it is.
    pub fn zoom(&mut self, screen: Point2<f64>, factor: f64) {
        let before = self.to_mm(screen);
        self.scale = (self.scale * factor).clamp(SMALLEST_SCALE, LARGEST_SCALE);
        self.centre += before - self.to_mm(screen);
    }

    /// The pixel in the middle of the window.
    pub fn middle(&self) -> Point2<f64> {
        Point2::from(self.size / 2.0)
    }

    /// Shows the whole box from `low` to `high` (mm) with some air around it.
    pub fn fit(&mut self, low: Point2<f64>, high: Point2<f64>) {
        self.centre = center(&low, &high);
        let extent = (high - low).map(|side| side.max(0.1));
        let scale = (self.size.x / extent.x).min(self.size.y / extent.y) * FILLED;
        self.scale = scale.clamp(SMALLEST_SCALE, LARGEST_SCALE);
    }

    /// Whether the window shows any of a cubic with these control points (mm), to a pixel.
    pub fn shows(&self, cubic: [Point2<f64>; 4]) -> bool {
        meets(cubic.map(|point| self.to_screen(point)), self.size)
    }

    /// Moves the window to `mm` unless it is well in sight.
    pub fn reveal(&mut self, mm: Point2<f64>) {
        let screen = self.to_screen(mm);
        let sight = |value: f64, size: f64| 0.05 * size <= value && value <= 0.95 * size;
        if !sight(screen.x, self.size.x) || !sight(screen.y, self.size.y) {
            self.centre = mm;
        }
    }

    /// The distance between visible grid lines in mm: 1, 2 or 5 times a power
    /// of ten, at least `pixels` apart, and never finer than the drawing grid.
    pub fn grid_step(&self, pixels: f64) -> f64 {
        let wanted = (pixels / self.scale).max(0.01);
        let power = 10_f64.powf(wanted.log10().floor());
        [1.0, 2.0, 5.0, 10.0]
            .into_iter()
            .map(|lead| lead * power)
            // A hair of slack, for a power of ten is not exact below one.
            .find(|&step| wanted <= step * (1.0 + 1e-9))
            .unwrap_or(10.0 * power)
    }
}

/// Whether a cubic comes into the window. It lies in the box around its control
/// points: halves are looked at until their boxes are outside or a pixel small.
fn meets(cubic: [Point2<f64>; 4], size: Vector2<f64>) -> bool {
    let (low, high) = cubic
        .iter()
        .fold((cubic[0], cubic[0]), |(low, high), point| {
            (low.inf(point), high.sup(point))
        });
    if high.x < 0.0 || high.y < 0.0 || size.x < low.x || size.y < low.y {
        return false;
    }
    if (high - low).max() <= 1.0 {
        return true;
    }
    let [a, b, c, d] = cubic;
    let (ab, bc, cd) = (center(&a, &b), center(&b, &c), center(&c, &d));
    let (abc, bcd) = (center(&ab, &bc), center(&bc, &cd));
    let middle = center(&abc, &bcd);
    meets([a, ab, abc, middle], size) || meets([middle, bcd, cd, d], size)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: Point2<f64>, b: Point2<f64>) -> bool {
        (a - b).norm() < 1e-9
    }

    #[test]
    fn screen_and_drawing_undo_each_other() {
        let mut view = View::default();
        view.pan(Vector2::new(13.0, -7.0));
        let screen = Point2::new(100.0, 321.0);
        assert!(near(view.to_screen(view.to_mm(screen)), screen));
        let above = view.to_mm(Point2::new(100.0, 100.0));
        assert!(view.to_mm(screen).y < above.y);
    }

    #[test]
    fn zooming_keeps_the_place_under_the_pointer() {
        let mut view = View::default();
        let screen = Point2::new(222.0, 40.0);
        let before = view.to_mm(screen);
        view.zoom(screen, 1.7);
        assert!(near(view.to_mm(screen), before));
        assert!((view.scale - 6.8).abs() < 1e-12);
        view.zoom(screen, 1e9);
        assert_eq!(view.scale, LARGEST_SCALE);
    }

    #[test]
    fn a_fitted_box_is_seen_whole() {
        let mut view = View::default();
        let (low, high) = (Point2::new(-5.0, 10.0), Point2::new(300.0, 60.0));
        view.fit(low, high);
        for corner in [low, high] {
            let screen = view.to_screen(corner);
            assert!(0.0 < screen.x && screen.x < view.size.x);
            assert!(0.0 < screen.y && screen.y < view.size.y);
        }
    }

    #[test]
    fn only_what_is_out_of_sight_is_moved_to() {
        let mut view = View::default();
        let before = view;
        view.reveal(before.centre);
        assert_eq!(view, before);
        view.reveal(Point2::new(900.0, 0.0));
        assert!(near(view.to_screen(Point2::new(900.0, 0.0)), view.middle()));
    }

    #[test]
    fn a_curve_is_in_sight_where_it_passes_though_its_ends_are_not() {
        // Its middle is at x 0, y 75: an eighth of the first, three eighths of
        // the second control point, and so on.
        let arch = [(-100.0, 0.0), (-100.0, 100.0), (100.0, 100.0), (100.0, 0.0)]
            .map(|(x, y)| Point2::new(x, y));
        let mut view = View {
            scale: LARGEST_SCALE,
            ..View::default()
        };
        for (x, y, seen) in [
            (0.0, 75.0, true),
            (0.0, 74.0, false),
            (0.0, 0.0, false),
            (100.0, 0.0, true),
            (500.0, 75.0, false),
        ] {
            view.centre = Point2::new(x, y);
            assert_eq!(view.shows(arch), seen, "at {x}, {y}");
        }
        (view.centre, view.scale) = (Point2::new(0.0, 0.0), 1.0);
        assert!(view.shows(arch));
    }

    #[test]
    fn grid_lines_stand_on_round_numbers() {
        let step = |scale| {
            View {
                scale,
                ..View::default()
            }
            .grid_step(12.0)
        };
        assert_eq!(step(12.0), 1.0);
        assert_eq!(step(4.0), 5.0);
        assert_eq!(step(10.0), 2.0);
        assert!((step(1e9) - 0.01).abs() < 1e-12);
    }
}
