//! A profile made ready for the proof, once an edit: a dyadic tree of bounds
//! over the parameter, and samples that tell where to look for faults.
//!
//! The samples guide the search only; no verdict rests on them.

use super::axis::{self, AxisState};
use super::bounds;
use super::cone::Cone;
use super::piece::{Part, parts_of};
use super::spread::Spread;
use crate::curve::Curve;
use crate::family::{Placement, Settings};
use crate::profile::{Profile, ProfileError};
use nalgebra::{Point2, Vector2};

/// How many samples guide the search for faults.
pub const SAMPLES: usize = 32;

/// Where in its interval a sample sits: an off-centre place, since symmetric
/// profiles put their exact zeros on round fractions.
const SAMPLE_OFFSET: f64 = 0.381_966;

/// Leaves of the tree: a power of two between these, about two a span.
const FEWEST_LEAVES: usize = 8;
const MOST_LEAVES: usize = 256;

/// The parameter of sample `index`.
pub fn sample_parameter(index: usize) -> f64 {
    (index as f64 + SAMPLE_OFFSET) / SAMPLES as f64
}

/// Bounds of one curve over one stretch.
#[derive(Clone, Copy, Debug)]
pub struct Bounds {
    /// The directions of its hodograph.
    pub cone: Cone,
    /// Where it lies.
    pub spread: Spread,
}

impl Bounds {
    /// The bounds of one part of a span.
    pub fn of(part: &Part) -> Self {
        Self {
            cone: Cone::of(part.headings(), part.reach),
            spread: Spread::of(&part.points),
        }
    }

    /// The bounds of two stretches together.
    pub fn joined(&self, other: &Self) -> Self {
        Self {
            cone: self.cone.joined(other.cone),
            spread: self.spread.joined(&other.spread),
        }
    }
}

/// What the proof keeps of a curve.
#[derive(Clone, Debug)]
pub struct Ready {
    /// The judged curve.
    pub curve: Curve,
    /// The largest coordinate about the centre, grid steps.
    pub size: f64,
    /// The largest component of any hodograph vector, grid steps by parameter.
    pub steepest: f64,
    /// Levels of the tree below the root.
    pub depth: u32,
    /// The tree in heap order: the root is 1, the halves of k are 2k and 2k+1.
    pub tree: Vec<Bounds>,
    /// The curve at each sample parameter.
    pub points: [Point2<f64>; SAMPLES],
    /// Its slope there.
    pub slopes: [Vector2<f64>; SAMPLES],
    /// Whether the derivative by the parameter is continuous at every smooth
    /// joint: no pair of such profiles can crease.
    pub even_speed: bool,
    /// Whether it keeps off the axis, when it stands in a ring.
    pub axis: Option<AxisState>,
}

/// A profile made ready for the proof, or the reason why it cannot be judged.
#[derive(Clone, Debug)]
pub struct Prepared {
    ready: Result<Box<Ready>, ProfileError>,
}

impl Prepared {
    /// Prepares `profile`; one that is wrong in itself is kept with its error.
    pub fn new(profile: &Profile, settings: &Settings) -> Self {
        let ready = Curve::new(profile, settings.pacing)
            .map(|curve| Box::new(Ready::new(curve, settings.placement)));
        Self { ready }
    }

    /// Prepares `curve` as it stands; one that was scaled out of what the bounds
    /// of the proof cover is kept with an error.
    pub fn of(curve: Curve, placement: Placement) -> Self {
        let ready = within_bounds(&curve).map(|()| Box::new(Ready::new(curve, placement)));
        Self { ready }
    }

    /// The judged curve, or why there is none.
    ///
    /// # Errors
    /// What [`Profile::validate`] found.
    pub fn curve(&self) -> Result<&Curve, ProfileError> {
        self.ready().map(|ready| &ready.curve)
    }

    pub(crate) fn ready(&self) -> Result<&Ready, ProfileError> {
        self.ready.as_deref().map_err(|&error| error)
    }
}

impl Ready {
    /// Prepares `curve`.
    pub fn new(curve: Curve, placement: Placement) -> Self {
        let steepest = (0..curve.span_count()).fold(0.0, |most: f64, span| {
            let length = curve.breaks()[span + 1] - curve.breaks()[span];
            most.max(3.0 * curve.longest_step(span) / length)
        });
        let leaves = (2 * curve.span_count())
            .next_power_of_two()
            .clamp(FEWEST_LEAVES, MOST_LEAVES);
        let axis = (placement == Placement::Ring).then(|| axis::keeps_off(&curve));
        Self {
            size: curve.size(),
            steepest,
            depth: leaves.trailing_zeros(),
            tree: tree(&curve, leaves),
            points: std::array::from_fn(|k| curve.point(sample_parameter(k))),
            slopes: std::array::from_fn(|k| curve.slope(sample_parameter(k))),
            even_speed: curve.has_even_speed(),
            axis,
            curve,
        }
    }
}

/// Refuses what is no number, too far out or too small; a drawn curve never is.
fn within_bounds(curve: &Curve) -> Result<(), ProfileError> {
    for span in 0..curve.span_count() {
        let reached = |point: Point2<f64>| point.iter().all(|x| x.abs() <= bounds::FURTHEST);
        if !curve.span(span).into_iter().all(reached) {
            return Err(ProfileError::OutOfReach { node: span + 1 });
        }
        if curve.longest_step(span) < bounds::SHORTEST {
            return Err(ProfileError::EmptySpan { span: span + 1 });
        }
    }
    Ok(())
}

fn tree(curve: &Curve, leaves: usize) -> Vec<Bounds> {
    let mut tree = vec![
        Bounds {
            cone: Cone::WIDE,
            spread: Spread::of(&[]),
        };
        2 * leaves
    ];
    for leaf in 0..leaves {
        let at = |leaf: usize| leaf as f64 / leaves as f64;
        let parts = parts_of(curve, at(leaf), at(leaf + 1));
        let bounds = parts.iter().map(Bounds::of);
        if let Some(bounds) = bounds.reduce(|one, other| one.joined(&other)) {
            tree[leaves + leaf] = bounds;
        }
    }
    for node in (1..leaves).rev() {
        tree[node] = tree[2 * node].joined(&tree[2 * node + 1]);
    }
    tree
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::family::Pacing;
    use crate::profile::Node;

    #[test]
    fn the_tree_bounds_what_it_covers() {
        let nodes = [(0, 0), (400, 800), (900, 700), (1500, 1600), (2400, 0)]
            .map(|(x, y)| Node::smooth(x, y))
            .to_vec();
        let curve = Curve::new(&Profile::open(nodes), Pacing::Parameter).unwrap();
        let ready = Ready::new(curve, Placement::Stack);
        let leaves = 1 << ready.depth;
        for step in 0..1000 {
            let u = f64::from(step) / 1000.0;
            let mut node = leaves + (u * leaves as f64) as usize;
            let slope = ready.curve.slope(u);
            let angle = libm::atan2(slope.y, slope.x);
            while 0 < node {
                let cone = ready.tree[node].cone;
                if cone.is_narrow() {
                    let ahead = super::super::cone::wrapped(angle - cone.from);
                    assert!((-1e-9..=cone.sweep + 1e-9).contains(&ahead));
                }
                node /= 2;
            }
        }
    }
}
