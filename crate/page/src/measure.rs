//! Measures at places of the loft that a person points at: fractions, angles,
//! curvature, and the distance of two places.
//!
//! In words with their units. They are figures of the picture's own standing
//! (the distance of the planes, the angle of the half-planes), not verdicts.

use crate::board::Board;
use crate::picture::{Skin, Spot};
use loftkin_exchange::words::{degrees, millimetres};
use nalgebra::Point2;

/// Steps along when the nearest place of a section is looked for.
const STEPS: usize = 480;
/// Halvings of a step after that.
const HALVINGS: usize = 30;
/// Below this curvature, times the square of the size, the skin is called flat.
const FLAT: f64 = 1e-9;

/// What is measured at one place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AtPlace {
    /// Where it is in the drawing and in space.
    pub place: String,
    /// The twist of its ruling.
    pub twist: String,
    /// The angle between ruling and section.
    pub meeting: String,
    /// The Gaussian curvature.
    pub curvature: String,
}

/// What is measured between two places.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Between {
    /// The straight distance.
    pub distance: String,
    /// How far the skin turns from the one to the other.
    pub turn: String,
}

/// Measures the skin of the chosen pair at a place.
pub fn at_place(board: &Board, along: f64, across: f64) -> Option<AtPlace> {
    let spot = Skin::of(board)?.at(along, across);
    let point = board.loft()?.point(along, across);
    let singular = || "none: the skin is singular there".to_owned();
    Some(AtPlace {
        place: format!("x {:.2}, y {:.2} mm", point.x, point.y),
        twist: degrees(spot.twist),
        meeting: angle(&spot).map_or_else(singular, degrees),
        curvature: spot
            .facing()
            .map_or_else(singular, |_| curvature(spot.curvature)),
    })
}

/// Measures between two places, each given by its fractions along and across.
pub fn between(board: &Board, one: (f64, f64), other: (f64, f64)) -> Option<Between> {
    let skin = Skin::of(board)?;
    let [one, other] = [one, other].map(|(along, across)| skin.at(along, across));
    let turn = one.facing().zip(other.facing()).map(|(one, other)| {
        let turn = one.cross(&other).norm().atan2(one.dot(&other));
        degrees(turn.to_degrees())
    });
    Some(Between {
        distance: millimetres((one.point - other.point).norm()),
        turn: turn.unwrap_or_else(|| "none: the skin is singular there".to_owned()),
    })
}

/// The angle between ruling and section, from 0 to 90 degrees.
fn angle(spot: &Spot) -> Option<f64> {
    let (along, across) = (
        spot.along.try_normalize(1e-12)?,
        spot.across.try_normalize(1e-12)?,
    );
    let turn = along.cross(&across).norm().atan2(along.dot(&across).abs());
    Some(turn.to_degrees())
}

/// A Gaussian curvature by the radius of which it is one over the square.
pub fn curvature(curvature: f64) -> String {
    if curvature.abs() < FLAT * 1e-4 {
        return "0: flat".to_owned();
    }
    let radius = 1.0 / curvature.abs().sqrt();
    let radius = if radius < 100.0 {
        format!("{radius:.2}")
    } else {
        format!("{radius:.0}")
    };
    if curvature < 0.0 {
        format!("−1/({radius} mm)², a saddle")
    } else {
        format!("1/({radius} mm)², a dome or a bowl")
    }
}

/// The fraction along of the place of the section at `across` that is nearest
/// to `point` (mm of the drawing).
pub fn nearest_along(board: &Board, point: Point2<f64>, across: f64) -> Option<f64> {
    let loft = board.loft()?;
    let off = |along: f64| (loft.point(along, across) - point).norm_squared();
    let step = 1.0 / STEPS as f64;
    let best = (0..=STEPS)
        .map(|k| k as f64 * step)
        .min_by(|one, other| off(*one).total_cmp(&off(*other)))?;
    let (mut low, mut high) = ((best - step).max(0.0), (best + step).min(1.0));
    for _ in 0..HALVINGS {
        let third = (high - low) / 3.0;
        if off(low + third) < off(high - third) {
            high -= third;
        } else {
            low += third;
        }
    }
    Some(f64::midpoint(low, high))
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::family::Family;
    use loftkin_kernel::profile::{Node, Profile};

    /// A flat board, 40 mm wide, between lines 30 mm apart in the drawing.
    fn board() -> Board {
        let line = |y| Profile::open(vec![Node::corner(0, y), Node::corner(4000, y)]);
        let family = Family {
            profiles: vec![line(0), line(3000)],
            ..Family::default()
        };
        let mut board = Board::new(family).unwrap();
        board.set_rise(Some(40.0));
        board
    }

    #[test]
    fn a_plane_is_flat_and_square_to_its_sections() {
        let found = at_place(&board(), 0.25, 0.5).unwrap();
        assert_eq!(found.place, "x 10.00, y 15.00 mm");
        assert_eq!(found.twist, "0.0 degrees");
        assert_eq!(found.meeting, "90.0 degrees");
        assert_eq!(found.curvature, "0: flat");
    }

    /// The ruling is the hypotenuse of 30 and 40 mm.
    #[test]
    fn the_distance_is_straight_through_space() {
        let found = between(&board(), (0.5, 0.0), (0.5, 1.0)).unwrap();
        assert_eq!(found.distance, "50.00 mm");
        assert_eq!(found.turn, "0.0 degrees");
    }

    #[test]
    fn the_nearest_place_of_a_section_is_found() {
        let along = nearest_along(&board(), Point2::new(13.0, 99.0), 0.5).unwrap();
        assert!((along - 0.325).abs() < 1e-6, "{along}");
        assert_eq!(
            nearest_along(&board(), Point2::new(-5.0, 0.0), 0.0).map(|u| (u * 1e6).round()),
            Some(0.0)
        );
    }

    #[test]
    fn curvature_is_told_by_a_radius() {
        assert_eq!(curvature(-1.0 / 2500.0), "−1/(50.00 mm)², a saddle");
        assert_eq!(curvature(1e-6), "1/(1000 mm)², a dome or a bowl");
    }
}
