//! A change that costs nothing, made in a family. It proves nothing: whoever
//! makes the change has it judged.

use crate::family::{Family, Settings};
use crate::profile::{Profile, ProfileError};
use crate::verdict::Remedy;
use thiserror::Error;

/// Why a change cannot be made. Positions are shown from 1.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum RemedyError {
    /// A profile that does not exist.
    #[error("there is no profile {}: the family has {count}", .profile + 1)]
    NoSuchProfile {
        /// The profile asked for, from 0.
        profile: usize,
        /// How many there are.
        count: usize,
    },
    /// A seam that the profile cannot have.
    #[error(transparent)]
    Profile(#[from] ProfileError),
}

impl Remedy {
    /// The family after this change.
    ///
    /// # Errors
    /// A [`RemedyError`] when the profile or its new seam does not exist.
    pub fn made_in(self, family: &Family) -> Result<Family, RemedyError> {
        let (profile, changed) = match self {
            Self::Reverse { profile } => (profile, known(family, profile)?.reversed()),
            Self::MoveSeam { profile, node } => (profile, known(family, profile)?.with_seam(node)?),
            Self::SwapPacing => {
                let settings = Settings {
                    pacing: family.settings.pacing.swapped(),
                    ..family.settings
                };
                return Ok(Family {
                    settings,
                    ..family.clone()
                });
            }
        };
        let mut family = family.clone();
        family.profiles[profile] = changed;
        Ok(family)
    }
}

fn known(family: &Family, profile: usize) -> Result<&Profile, RemedyError> {
    let count = family.profiles.len();
    let known = family.profiles.get(profile);
    known.ok_or(RemedyError::NoSuchProfile { profile, count })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::family::Pacing;
    use crate::profile::Node;

    fn family() -> Family {
        let corners = [(0, 0), (4000, 0), (4000, 3000), (0, 3000)];
        let rim = Profile::closed(corners.map(|(x, y)| Node::smooth(x, y)).to_vec());
        Family {
            profiles: vec![rim.clone(), rim],
            ..Family::default()
        }
    }

    #[test]
    fn each_change_is_made_where_it_is_meant_and_nowhere_else() {
        let before = family();
        let reversed = Remedy::Reverse { profile: 1 }.made_in(&before).unwrap();
        let seam = Remedy::MoveSeam {
            profile: 0,
            node: 2,
        };
        let turned = seam.made_in(&before).unwrap();
        let paced = Remedy::SwapPacing.made_in(&before).unwrap();
        assert_eq!(reversed.profiles[1], before.profiles[1].reversed());
        assert_eq!(
            Ok(&turned.profiles[0]),
            before.profiles[0].with_seam(2).as_ref()
        );
        assert_eq!(reversed.profiles[0], before.profiles[0]);
        assert_eq!(turned.profiles[1], before.profiles[1]);
        assert_eq!(paced.settings.pacing, Pacing::Node);
        assert_eq!(paced.profiles, before.profiles);
    }

    #[test]
    fn what_is_not_there_is_named() {
        let before = family();
        let error = Remedy::Reverse { profile: 2 }.made_in(&before).unwrap_err();
        assert_eq!(error.to_string(), "there is no profile 3: the family has 2");
        let seam = Remedy::MoveSeam {
            profile: 0,
            node: 4,
        };
        let error = ProfileError::NoSuchNode { node: 5, count: 4 };
        assert_eq!(seam.made_in(&before), Err(error.into()));
    }
}
