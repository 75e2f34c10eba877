//! A change that costs nothing, as reports for programs name it.

use loftkin_kernel::verdict::Remedy;
use serde::Serialize;

/// What the change is, and of what; positions count from 1.
#[derive(Serialize)]
pub struct ChangeReport {
    kind: &'static str,
    profile: Option<usize>,
    node: Option<usize>,
}

impl From<Remedy> for ChangeReport {
    fn from(remedy: Remedy) -> Self {
        let (kind, profile, node) = match remedy {
            Remedy::Reverse { profile } => ("reverse", Some(profile), None),
            Remedy::MoveSeam { profile, node } => ("move-seam", Some(profile), Some(node)),
            Remedy::SwapPacing => ("swap-pacing", None, None),
        };
        Self {
            kind,
            profile: profile.map(|index| index + 1),
            node: node.map(|index| index + 1),
        }
    }
}
