//! Edits of a profile as a whole: mirrored, scaled, turned and shifted, varied.

use super::{EditError, checked, grid, joints, occupied_check, shift};
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Outline, PathSpan, Profile};
use nalgebra::{Point2, Rotation2, Vector2};
use std::collections::BTreeSet;

/// The smallest and the largest scale, either way round.
const SCALES: std::ops::RangeInclusive<f64> = 0.001..=1000.0;

/// Which way a mirror turns a profile.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mirror {
    /// Left becomes right.
    Sideways,
    /// Top becomes bottom.
    Upright,
}

/// What stays where it is when a profile is scaled or turned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum About {
    /// The middle of the box around its nodes.
    Middle,
    /// The middle of the lower edge of that box.
    Foot,
    /// Its first node.
    Start,
    /// Its last node.
    End,
    /// x = 0, y = 0.
    Origin,
    /// Any other place, in mm.
    Place(Point2<f64>),
}

/// Scaled, then turned, both about one point, then shifted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reshape {
    /// The point that scaling and turning leave in place.
    pub about: About,
    /// Factors of width and height; a negative one mirrors.
    pub scale: Vector2<f64>,
    /// Degrees, anticlockwise.
    pub turn: f64,
    /// In mm.
    pub shift: Vector2<f64>,
}

impl Reshape {
    /// What leaves a profile as it is.
    pub const NONE: Self = Self {
        about: About::Middle,
        scale: Vector2::new(1.0, 1.0),
        turn: 0.0,
        shift: Vector2::new(0.0, 0.0),
    };

    /// The same change `times` over.
    pub fn repeated(&self, times: u32) -> Self {
        let exponent = i32::try_from(times).unwrap_or(i32::MAX);
        let count = f64::from(times);
        Self {
            about: self.about,
            scale: self.scale.map(|factor| factor.powi(exponent)),
            turn: self.turn * count,
            shift: self.shift * count,
        }
    }

    fn check(&self) -> Result<(), EditError> {
        let bad = |factor: &&f64| !SCALES.contains(&factor.abs());
        if let Some(factor) = self.scale.iter().find(bad) {
            return Err(EditError::Scale(factor * 100.0));
        }
        let figures = [self.turn, self.shift.x, self.shift.y];
        if figures.iter().all(|figure| figure.is_finite()) {
            Ok(())
        } else {
            Err(EditError::Figure)
        }
    }
}

/// Mirrors the profile about the middle of its nodes.
///
/// # Errors
/// [`EditError::Grid`] when a handle would leave the drawing.
pub fn mirror(profile: &Profile, way: Mirror) -> Result<Profile, EditError> {
    let twice = bounds(profile).map_or((0, 0), |(low, high)| (low.x + high.x, low.y + high.y));
    mapped(profile, |at| match way {
        Mirror::Sideways => checked(twice.0 - at.x, at.y),
        Mirror::Upright => checked(at.x, twice.1 - at.y),
    })
}

/// Scales, turns and shifts the profile; every node and handle rounds to the grid.
///
/// # Errors
/// [`EditError::Scale`] or [`EditError::Figure`], [`EditError::Grid`] when it
/// would leave the drawing, [`EditError::Occupied`] when it would become so
/// small that two neighbouring nodes meet.
pub fn reshape(profile: &Profile, change: &Reshape) -> Result<Profile, EditError> {
    change.check()?;
    let about = place_of(profile, change.about);
    let turn = Rotation2::new(change.turn.to_radians());
    let changed = mapped(profile, |at| {
        let (x, y) = at.to_mm();
        let arm = (Point2::new(x, y) - about).component_mul(&change.scale);
        grid(about + turn * arm + change.shift)
    })?;
    occupied_check(&changed)?;
    Ok(changed)
}

/// Moves every node by chance, at most `mm` in x and in y; handles go with
/// their joints. The same `seed` gives the same profile.
///
/// # Errors
/// [`EditError::Figure`], or [`EditError::Grid`] when a node would leave the drawing.
pub fn wander(profile: &Profile, mm: f64, seed: u64) -> Result<Profile, EditError> {
    if !(0.0..=1000.0).contains(&mm) {
        return Err(EditError::Figure);
    }
    let mut chance = Chance(seed);
    let mut changed = profile.clone();
    for node in 0..profile.node_count() {
        let mut step = || (chance.between_one_and_minus_one() * mm * 100.0).round() as i32;
        let (dx, dy) = (step(), step());
        let moved = shift(&changed, &BTreeSet::from([node]), dx, dy)?;
        // A node that would come to stand on its neighbour stays.
        if occupied_check(&moved).is_ok() {
            changed = moved;
        }
    }
    Ok(changed)
}

/// The corners of the box around the nodes, unless there are none.
pub fn bounds(profile: &Profile) -> Option<(GridPoint, GridPoint)> {
    let mut nodes = joints(profile).into_iter().map(|node| node.at);
    let first = nodes.next()?;
    Some(nodes.fold((first, first), |(low, high), at| {
        (
            GridPoint::new(low.x.min(at.x), low.y.min(at.y)),
            GridPoint::new(high.x.max(at.x), high.y.max(at.y)),
        )
    }))
}

fn place_of(profile: &Profile, about: About) -> Point2<f64> {
    let nodes = joints(profile);
    let (low, high) = bounds(profile).unwrap_or_default();
    let middle = f64::from(low.x + high.x) / 200.0;
    let mm = |node: Option<GridPoint>| {
        let (x, y) = node.unwrap_or_default().to_mm();
        Point2::new(x, y)
    };
    match about {
        About::Middle => Point2::new(middle, f64::from(low.y + high.y) / 200.0),
        About::Foot => Point2::new(middle, f64::from(low.y) / 100.0),
        About::Start => mm(nodes.first().map(|node| node.at)),
        About::End => mm(nodes.last().map(|node| node.at)),
        About::Origin => Point2::origin(),
        About::Place(place) => place,
    }
}

/// The profile with every node and handle put where `to` says.
fn mapped(
    profile: &Profile,
    to: impl Fn(GridPoint) -> Result<GridPoint, EditError>,
) -> Result<Profile, EditError> {
    let mut changed = profile.clone();
    match &mut changed.outline {
        Outline::Nodes(nodes) => {
            for node in nodes {
                node.at = to(node.at)?;
            }
        }
        Outline::Path { start, spans } => {
            *start = to(*start)?;
            for span in spans {
                *span = match *span {
                    PathSpan::Line { to: end } => PathSpan::Line { to: to(end)? },
                    PathSpan::Cubic {
                        first,
                        second,
                        to: end,
                    } => PathSpan::Cubic {
                        first: to(first)?,
                        second: to(second)?,
                        to: to(end)?,
                    },
                };
            }
        }
    }
    Ok(changed)
}

/// Knuth's linear congruential generator MMIX (The Art of Computer
/// Programming, volume 2, section 3.3.4): variety for drawings, nothing more.
struct Chance(u64);

impl Chance {
    fn between_one_and_minus_one(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        f64::from((self.0 >> 32) as u32) / f64::from(u32::MAX) * 2.0 - 1.0
    }
}

#[cfg(test)]
mod tests {
    use super::super::samples::{arch, leaf};
    use super::*;
    use loftkin_kernel::profile::Node;

    fn at(profile: &Profile) -> Vec<(i32, i32)> {
        let nodes = joints(profile).into_iter();
        nodes.map(|node| (node.at.x, node.at.y)).collect()
    }

    #[test]
    fn mirroring_twice_changes_nothing() {
        for profile in [arch(), leaf()] {
            for way in [Mirror::Sideways, Mirror::Upright] {
                let once = mirror(&profile, way).unwrap();
                assert_ne!(once, profile);
                assert_eq!(mirror(&once, way).unwrap(), profile);
            }
        }
        let upside_down = mirror(&arch(), Mirror::Upright).unwrap();
        assert_eq!(
            at(&upside_down),
            [(0, 2000), (1000, 0), (3000, 0), (4000, 2000)]
        );
    }

    #[test]
    fn a_scale_keeps_the_point_it_is_about() {
        let wider = |about| Reshape {
            about,
            scale: Vector2::new(2.0, 0.5),
            ..Reshape::NONE
        };
        let scaled = |about| at(&reshape(&arch(), &wider(about)).unwrap());
        assert_eq!(scaled(About::Start)[0], (0, 0));
        assert_eq!(scaled(About::Start)[3], (8000, 0));
        assert_eq!(scaled(About::End)[3], (4000, 0));
        assert_eq!(scaled(About::End)[0], (-4000, 0));
        assert_eq!(scaled(About::Middle)[1], (0, 1500));
        assert_eq!(scaled(About::Foot)[1], (0, 1000));
        let place = About::Place(Point2::new(10.0, 20.0));
        assert_eq!(scaled(place)[1], (1000, 2000));
    }

    #[test]
    fn turning_four_times_a_right_angle_changes_nothing() {
        let quarter = Reshape {
            about: About::Origin,
            turn: 90.0,
            ..Reshape::NONE
        };
        assert_eq!(at(&reshape(&arch(), &quarter).unwrap())[1], (-2000, 1000));
        for profile in [arch(), leaf()] {
            assert_eq!(reshape(&profile, &quarter.repeated(4)).unwrap(), profile);
        }
    }

    #[test]
    fn handles_are_scaled_with_their_joints() {
        let half = Reshape {
            about: About::Origin,
            scale: Vector2::new(0.5, 0.5),
            shift: Vector2::new(1.0, 0.0),
            ..Reshape::NONE
        };
        let changed = reshape(&leaf(), &half).unwrap();
        let Outline::Path { start, spans } = changed.outline else {
            panic!("still a path")
        };
        assert_eq!(start, GridPoint::new(100, 0));
        let PathSpan::Cubic { first, .. } = spans[1] else {
            panic!("still a cubic")
        };
        assert_eq!(first, GridPoint::new(850, 150));
    }

    #[test]
    fn what_would_spoil_a_profile_is_refused() {
        let with = |scale: f64, turn: f64| Reshape {
            scale: Vector2::new(scale, 1.0),
            turn,
            ..Reshape::NONE
        };
        let outcome = |change| reshape(&arch(), &change);
        assert_eq!(outcome(with(0.0, 0.0)), Err(EditError::Scale(0.0)));
        assert!(matches!(
            outcome(with(f64::NAN, 0.0)),
            Err(EditError::Scale(_))
        ));
        assert_eq!(outcome(with(1.0, f64::INFINITY)), Err(EditError::Figure));
        let tiny = Profile::open(vec![Node::smooth(0, 0), Node::smooth(1, 0)]);
        let smaller = Reshape {
            about: About::Start,
            ..with(0.1, 0.0)
        };
        assert_eq!(reshape(&tiny, &smaller), Err(EditError::Occupied));
    }

    #[test]
    fn nodes_wander_no_farther_than_told_and_alike_each_time() {
        for profile in [arch(), leaf()] {
            let wandered = wander(&profile, 0.5, 7).unwrap();
            assert_ne!(wandered, profile);
            assert_eq!(wandered, wander(&profile, 0.5, 7).unwrap());
            assert_ne!(wandered, wander(&profile, 0.5, 8).unwrap());
            for (before, after) in at(&profile).into_iter().zip(at(&wandered)) {
                let far = (before.0 - after.0).abs().max((before.1 - after.1).abs());
                assert!(far <= 50);
            }
            assert_eq!(wandered.validate(), Ok(()));
        }
        assert_eq!(wander(&arch(), -1.0, 1), Err(EditError::Figure));
    }
}
