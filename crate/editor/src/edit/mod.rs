//! Edits of one profile: each takes a profile and gives the edited one.
//!
//! An edit keeps whole grid steps and never changes what it was not asked to.
//! Nothing here knows of selection, screen or undo.

mod movement;
mod nodes;
mod path;
#[cfg(test)]
mod samples;
mod whole;

pub use movement::{Handle, handles, place, shift, shift_handle};
pub use nodes::{delete, insert, set_corner};
pub use whole::{About, Mirror, Reshape, bounds, mirror, reshape, wander};

use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Pacing;
use loftkin_kernel::grid::{GridError, GridPoint, REACH};
use loftkin_kernel::profile::{MOST_NODES, Node, Outline, Profile, ProfileError};
use nalgebra::Point2;
use thiserror::Error;

/// Why an edit was not made.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum EditError {
    /// The profile would have too few nodes left.
    #[error("this profile needs at least {0} nodes: delete the whole profile instead")]
    TooFewLeft(usize),
    /// The profile would have too many nodes.
    #[error("this profile has {MOST_NODES} nodes already, the most there may be")]
    TooMany,
    /// Two neighbouring nodes would stand on the same point.
    #[error("two neighbouring nodes would stand on one point: keep them 0.01 mm apart at least")]
    Occupied,
    /// Corner and smooth cannot be chosen on an exact path.
    #[error("an exact path has its corners from its handles: turn it into nodes first")]
    ExactPath,
    /// No such handle.
    #[error("there is no handle: only the curved spans of an exact path have any")]
    NoHandle,
    /// It goes through nodes already.
    #[error("this profile goes through nodes already")]
    NodesAlready,
    /// A scale, in percent, that leaves nothing or too much.
    #[error("a scale of {0} %: give 0.1 to 100 000, or the same below zero to mirror as well")]
    Scale(f64),
    /// A figure that is no number, or beyond all measure.
    #[error(
        "give a number in each field: degrees, and millimetres up to 1 000 for wandering nodes"
    )]
    Figure,
    /// The coordinate has no place on the grid.
    #[error(transparent)]
    Grid(#[from] GridError),
    /// The profile cannot be drawn as it stands.
    #[error(transparent)]
    Profile(#[from] ProfileError),
}

/// The nodes of `profile`, or the joints of its exact path, and whether each
/// is a corner.
pub fn joints(profile: &Profile) -> Vec<Node> {
    match &profile.outline {
        Outline::Nodes(nodes) => nodes.clone(),
        Outline::Path { start, spans } => {
            let mut ends = vec![*start];
            ends.extend(spans.iter().map(|span| span.to()));
            ends.truncate(profile.node_count());
            let curve = Curve::new(profile, Pacing::Node);
            let corner = |index| curve.as_ref().is_ok_and(|curve| curve.is_corner(index));
            ends.iter()
                .enumerate()
                .map(|(index, &at)| Node {
                    at,
                    corner: corner(index),
                })
                .collect()
        }
    }
}

/// Whether two neighbouring nodes stand on one point.
fn occupied_check(profile: &Profile) -> Result<(), EditError> {
    match profile.validate() {
        Err(ProfileError::RepeatedNode { .. } | ProfileError::EmptySpan { .. }) => {
            Err(EditError::Occupied)
        }
        _ => Ok(()),
    }
}

fn checked(x: i32, y: i32) -> Result<GridPoint, EditError> {
    let point = GridPoint::new(x, y);
    if point.in_reach() {
        return Ok(point);
    }
    let mm = f64::from(if REACH < x.abs() { x } else { y }) / 100.0;
    Err(GridError::OutOfReach { mm }.into())
}

fn shifted(at: GridPoint, dx: i32, dy: i32) -> Result<GridPoint, EditError> {
    checked(at.x.saturating_add(dx), at.y.saturating_add(dy))
}

fn grid(mm: Point2<f64>) -> Result<GridPoint, EditError> {
    Ok(GridPoint::from_mm(mm.x, mm.y)?)
}
