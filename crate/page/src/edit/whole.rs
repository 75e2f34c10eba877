//! Edits of a profile as a whole.

use super::{EditError, checked, joints};
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Outline, PathSpan, Profile};

/// Mirrors the profile left to right about the middle of its nodes.
///
/// # Errors
/// [`EditError::Grid`] when a handle would leave the drawing.
pub fn mirror(profile: &Profile) -> Result<Profile, EditError> {
    let xs = || joints(profile).into_iter().map(|node| node.at.x);
    let twice = xs().min().unwrap_or(0) + xs().max().unwrap_or(0);
    let flip = |at: GridPoint| checked(twice - at.x, at.y);
    let mut changed = profile.clone();
    match &mut changed.outline {
        Outline::Nodes(nodes) => {
            for node in nodes {
                node.at = flip(node.at)?;
            }
        }
        Outline::Path { start, spans } => {
            *start = flip(*start)?;
            for span in spans {
                *span = match *span {
                    PathSpan::Line { to } => PathSpan::Line { to: flip(to)? },
                    PathSpan::Cubic { first, second, to } => PathSpan::Cubic {
                        first: flip(first)?,
                        second: flip(second)?,
                        to: flip(to)?,
                    },
                };
            }
        }
    }
    Ok(changed)
}

#[cfg(test)]
mod tests {
    use super::super::samples::{arch, leaf};
    use super::*;

    #[test]
    fn mirroring_twice_changes_nothing() {
        for profile in [arch(), leaf()] {
            let once = mirror(&profile).unwrap();
            assert_ne!(once, profile);
            assert_eq!(mirror(&once).unwrap(), profile);
        }
    }
}
