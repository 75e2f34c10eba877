//! What is pointed at elsewhere on the page, and how far apart the profiles
//! stand in the loft's picture. None of it is part of the document, and none
//! takes part in a verdict.

use super::{Board, Changes};
use crate::bounds::bounds;
use loftkin_editor::hit::Hit;
use loftkin_kernel::curve::Curve;
use nalgebra::Point2;

/// What is shown beside the drawing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Showing {
    profiles: Vec<usize>,
    place: Option<(f64, f64)>,
    rise: Option<f64>,
    opening: Option<f64>,
}

/// The distance of stacked profiles until another is asked for, as a part of
/// the larger side of the pair.
const RISE: f64 = 0.8;
/// The angle of a ring's half-planes until another is asked for, in degrees.
const OPENING: f64 = 60.0;
/// The bounds of the distance, in mm, and of the angle, in degrees.
const RISES: (f64, f64) = (0.1, 100_000.0);
const OPENINGS: (f64, f64) = (1.0, 180.0);

impl Board {
    /// Shows profiles as pointed at; those that do not exist are passed over.
    pub fn point_profiles(&mut self, profiles: &[usize]) {
        if self.showing.profiles != profiles {
            self.showing.profiles = profiles.to_vec();
            self.changed(Changes::VIEW);
        }
    }

    /// Whether `profile` is pointed at, in the table or on the board.
    pub fn is_pointed(&self, profile: usize) -> bool {
        self.showing.profiles.contains(&profile) || self.hover.map(Hit::profile) == Some(profile)
    }

    /// Shows a place of the chosen pair's loft as pointed at: the fractions
    /// along and across, kept within 0 and 1; or none.
    pub fn point_place(&mut self, place: Option<(f64, f64)>) {
        let finite = |&(along, across): &(f64, f64)| along.is_finite() && across.is_finite();
        let place = place
            .filter(finite)
            .map(|(along, across)| (along.clamp(0.0, 1.0), across.clamp(0.0, 1.0)));
        if self.showing.place != place {
            self.showing.place = place;
            self.changed(Changes::VIEW);
        }
    }

    /// The place pointed at: the fractions along and across.
    pub fn pointed_place(&self) -> Option<(f64, f64)> {
        self.showing.place
    }

    /// How far apart the planes of a stack stand in the loft's picture, in mm.
    pub fn rise(&self) -> f64 {
        let own = || {
            let (low, high) = self.pair_bounds()?;
            Some(((high - low).amax() * RISE).round().max(1.0))
        };
        self.showing.rise.or_else(own).unwrap_or(1.0)
    }

    /// The lowest and highest x and y of both profiles of the chosen pair, in mm.
    pub fn pair_bounds(&self) -> Option<(Point2<f64>, Point2<f64>)> {
        let loft = self.loft()?;
        let ends = [loft.section(0.0, 64), loft.section(1.0, 64)];
        Some(bounds(ends.iter().flatten()))
    }

    /// Asks for another distance in mm, kept within bounds; none goes back to
    /// the one that suits the pair.
    pub fn set_rise(&mut self, rise: Option<f64>) {
        let rise = rise.filter(|rise| rise.is_finite());
        self.showing.rise = rise.map(|rise| rise.clamp(RISES.0, RISES.1));
        self.changed(Changes::DRAWING);
    }

    /// The angle between the half-planes of a ring in the loft's picture, in degrees.
    pub fn opening(&self) -> f64 {
        self.showing.opening.unwrap_or(OPENING)
    }

    /// Asks for another angle in degrees, kept within bounds.
    pub fn set_opening(&mut self, opening: f64) {
        if opening.is_finite() {
            self.showing.opening = Some(opening.clamp(OPENINGS.0, OPENINGS.1));
            self.changed(Changes::DRAWING);
        }
    }

    /// The board's own pointer has gone elsewhere.
    pub fn leave(&mut self) {
        if self.hover.take().is_some() {
            self.changed(Changes::VIEW);
        }
    }

    /// The profile under the board's own pointer, and the fraction along it.
    pub fn hovered_place(&self) -> Option<(usize, f64)> {
        let hit = self.hover?;
        let curve = self.document.curve(hit.profile())?;
        Some((hit.profile(), along(curve, hit)?))
    }
}

fn along(curve: &Curve, hit: Hit) -> Option<f64> {
    let breaks = curve.breaks();
    match hit {
        Hit::Node { node, .. } => breaks.get(node).copied(),
        Hit::Seam { .. } => Some(0.0),
        Hit::Handle { .. } | Hit::Grip { .. } | Hit::Inside { .. } => None,
        Hit::Curve { span, t, .. } => {
            let (from, to) = (breaks.get(span)?, breaks.get(span + 1)?);
            Some(from + (to - from) * t)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::family::Family;
    use loftkin_kernel::profile::{Node, Profile};

    fn board() -> Board {
        let line = |y| Profile::open(vec![Node::corner(0, y), Node::corner(4000, y)]);
        let family = Family {
            profiles: vec![line(0), line(2000)],
            ..Family::default()
        };
        Board::new(family).unwrap()
    }

    #[test]
    fn a_pointed_place_stays_on_the_loft() {
        let mut board = board();
        board.point_place(Some((1.5, -0.25)));
        assert_eq!(board.pointed_place(), Some((1.0, 0.0)));
        board.point_place(Some((f64::NAN, 0.5)));
        assert_eq!(board.pointed_place(), None);
    }

    #[test]
    fn the_planes_stand_as_asked_and_else_as_suits_the_pair() {
        let mut board = board();
        assert_eq!(board.rise(), 32.0);
        board.set_rise(Some(1e9));
        assert_eq!(board.rise(), RISES.1);
        board.set_rise(Some(f64::NAN));
        assert_eq!(board.rise(), 32.0);
        board.set_opening(0.0);
        assert_eq!(board.opening(), 1.0);
    }

    #[test]
    fn the_pointer_on_a_profile_tells_how_far_along_it_is() {
        let mut board = board();
        board.hover = Some(Hit::Curve {
            profile: 1,
            span: 0,
            t: 0.25,
        });
        let (profile, along) = board.hovered_place().unwrap();
        assert_eq!(profile, 1);
        assert_eq!(along, 0.25);
        assert!(board.is_pointed(1) && !board.is_pointed(0));
        board.leave();
        assert_eq!(board.hovered_place(), None);
    }
}
