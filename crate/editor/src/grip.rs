//! A box with eight grips round it: scales what it holds about an end or the middle.
//!
//! Millimetres and pixels only; what is scaled is the board's business.

use crate::edit;
use crate::view::View;
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::Profile;
use nalgebra::{Point2, Vector2};

/// How far the grips stand off the box, in pixels, so that they hide no node.
const STAND_OFF: f64 = 14.0;
/// A grip makes nothing smaller than this part of it: a drag never turns it inside out.
const SMALLEST: f64 = 0.02;

/// One grip: -1, 0 or 1 for left, middle or right, and for bottom, middle or top.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Grip {
    /// Left, middle or right.
    pub x: i8,
    /// Bottom, middle or top.
    pub y: i8,
}

/// All grips, the corners first.
pub const GRIPS: [Grip; 8] = [
    Grip { x: -1, y: -1 },
    Grip { x: 1, y: -1 },
    Grip { x: 1, y: 1 },
    Grip { x: -1, y: 1 },
    Grip { x: 0, y: -1 },
    Grip { x: 1, y: 0 },
    Grip { x: 0, y: 1 },
    Grip { x: -1, y: 0 },
];

/// A box in the drawing, in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Its left lower corner.
    pub low: Point2<f64>,
    /// Its right upper corner.
    pub high: Point2<f64>,
}

/// What a moved grip does: factors of width and height about a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// What stays in place, in mm.
    pub about: Point2<f64>,
    /// Factors of width and height.
    pub scale: Vector2<f64>,
}

impl Grip {
    /// Whether it changes width and height at once.
    pub fn is_corner(self) -> bool {
        self.x != 0 && self.y != 0
    }

    fn sides(self) -> Vector2<f64> {
        Vector2::new(f64::from(self.x), f64::from(self.y))
    }
}

impl Bounds {
    /// The box around the nodes of a profile: scaling them scales it exactly,
    /// while the curve between them may bulge more or less than before.
    pub fn of_nodes(profile: &Profile) -> Option<Self> {
        let mm = |at: GridPoint| {
            let (x, y) = at.to_mm();
            Point2::new(x, y)
        };
        edit::bounds(profile).map(|(low, high)| Self {
            low: mm(low),
            high: mm(high),
        })
    }

    /// Its middle, in mm.
    pub fn middle(&self) -> Point2<f64> {
        nalgebra::center(&self.low, &self.high)
    }

    /// Where a grip belongs, in mm.
    pub fn place(&self, grip: Grip) -> Point2<f64> {
        let half = (self.high - self.low) / 2.0;
        self.middle() + half.component_mul(&grip.sides())
    }

    /// Where a grip is shown: a little off the box, in pixels.
    pub fn shown(&self, view: &View, grip: Grip) -> Point2<f64> {
        let off = grip
            .sides()
            .component_mul(&Vector2::new(STAND_OFF, -STAND_OFF));
        view.to_screen(self.place(grip)) + off
    }

    /// The grip nearest to `screen`, within `reach` pixels.
    pub fn grip_at(&self, view: &View, screen: Point2<f64>, reach: f64) -> Option<Grip> {
        GRIPS
            .into_iter()
            .map(|grip| (grip, (self.shown(view, grip) - screen).norm()))
            .filter(|&(_, distance)| distance <= reach)
            .min_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(grip, _)| grip)
    }

    /// Whether `screen` lies between the grips.
    pub fn holds(&self, view: &View, screen: Point2<f64>) -> bool {
        let low = self.shown(view, Grip { x: -1, y: 1 });
        let high = self.shown(view, Grip { x: 1, y: -1 });
        low.x <= screen.x && screen.x <= high.x && low.y <= screen.y && screen.y <= high.y
    }

    /// What moving `grip` to `to` (mm) does: about the middle, or about what
    /// lies opposite; a corner with equal factors if `alike`.
    pub fn stretch(&self, grip: Grip, to: Point2<f64>, middle: bool, alike: bool) -> Stretch {
        let opposite = Grip {
            x: -grip.x,
            y: -grip.y,
        };
        let about = if middle {
            self.middle()
        } else {
            self.place(opposite)
        };
        let (was, is) = (self.place(grip) - about, to - about);
        let scale = if alike && grip.is_corner() {
            let factor = is.dot(&was) / was.norm_squared();
            Vector2::repeat(factor)
        } else {
            was.zip_map(&is, |was, is| if was == 0.0 { 1.0 } else { is / was })
        };
        // A grip of a side leaves the other direction alone.
        let keep = grip.sides().zip_map(&scale, |side, factor| {
            if side == 0.0 || !factor.is_finite() {
                1.0
            } else {
                factor.max(SMALLEST)
            }
        });
        Stretch { about, scale: keep }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BOX: Bounds = Bounds {
        low: Point2::new(10.0, 20.0),
        high: Point2::new(50.0, 40.0),
    };

    #[test]
    fn a_corner_scales_about_the_opposite_one_or_the_middle() {
        let corner = Grip { x: 1, y: 1 };
        let stretch = BOX.stretch(corner, Point2::new(90.0, 50.0), false, false);
        assert_eq!(stretch.about, BOX.low);
        assert_eq!(stretch.scale, Vector2::new(2.0, 1.5));
        let stretch = BOX.stretch(corner, Point2::new(70.0, 30.0), true, false);
        assert_eq!(stretch.about, Point2::new(30.0, 30.0));
        assert_eq!(stretch.scale, Vector2::new(2.0, SMALLEST));
        let stretch = BOX.stretch(corner, Point2::new(90.0, 60.0), false, true);
        assert_eq!(stretch.scale, Vector2::new(2.0, 2.0));
    }

    #[test]
    fn a_side_scales_one_way_only() {
        let left = Grip { x: -1, y: 0 };
        let stretch = BOX.stretch(left, Point2::new(30.0, 99.0), false, true);
        assert_eq!(stretch.about, Point2::new(50.0, 30.0));
        assert_eq!(stretch.scale, Vector2::new(0.5, 1.0));
    }

    #[test]
    fn a_box_without_height_keeps_it() {
        let flat = Bounds {
            high: Point2::new(50.0, 20.0),
            ..BOX
        };
        let top = Grip { x: 0, y: 1 };
        let stretch = flat.stretch(top, Point2::new(30.0, 60.0), false, false);
        assert_eq!(stretch.scale, Vector2::new(1.0, 1.0));
        let corner = Grip { x: 1, y: 1 };
        let stretch = flat.stretch(corner, Point2::new(90.0, 60.0), false, false);
        assert_eq!(stretch.scale, Vector2::new(2.0, 1.0));
    }

    #[test]
    fn grips_stand_apart_from_the_box_and_are_found_there() {
        let view = View::default();
        for grip in GRIPS {
            let shown = BOX.shown(&view, grip);
            assert_eq!(BOX.grip_at(&view, shown, 1.0), Some(grip));
            assert!(BOX.holds(&view, shown));
        }
        let inside = view.to_screen(BOX.middle());
        assert_eq!(BOX.grip_at(&view, inside, 12.0), None);
        assert!(BOX.holds(&view, inside));
        assert!(!BOX.holds(&view, view.to_screen(Point2::new(0.0, 0.0))));
    }
}
