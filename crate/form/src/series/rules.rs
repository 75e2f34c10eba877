//! Rules that a person sets for the arrangements of a series.

use thiserror::Error;

/// What is asked of arrangements besides that they are proved.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Rules {
    /// Whether a profile may not stand beside itself.
    pub no_equal_neighbours: bool,
    /// Which profiles (from 0) may stand at each station: none named at all means
    /// any; a station without its own list takes any; a list of one fixes it.
    pub allowed: Vec<Option<Vec<usize>>>,
}

/// Why rules cannot be kept. Positions count from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum RulesError {
    /// Lists for another number of stations.
    #[error("{lists} lists of allowed profiles for {stations} stations: give one a station")]
    Lists {
        /// How many lists there are.
        lists: usize,
        /// How many stations there are.
        stations: usize,
    },
    /// A list without any profile.
    #[error("no profile is allowed at station {station}: name at least one, or allow all")]
    NothingAllowed {
        /// Which station.
        station: usize,
    },
    /// A profile that the family does not have.
    #[error("station {station} allows profile {profile}, but the family has {count}")]
    NoSuchProfile {
        /// Which station.
        station: usize,
        /// The profile named.
        profile: usize,
        /// How many there are.
        count: usize,
    },
}

impl Rules {
    /// The same rules with the profile of `station` (both from 0) fixed, for
    /// `stations` stations.
    pub fn with_fixed(mut self, stations: usize, station: usize, profile: usize) -> Self {
        self.allowed.resize(stations.max(station + 1), None);
        self.allowed[station] = Some(vec![profile]);
        self
    }

    /// Whether `profile` may stand at `station`, both from 0.
    pub fn allows(&self, station: usize, profile: usize) -> bool {
        match self.allowed.get(station) {
            Some(Some(list)) => list.contains(&profile),
            _ => true,
        }
    }

    /// Checks the lists against the numbers of stations and profiles.
    ///
    /// # Errors
    /// The first [`RulesError`] found.
    pub fn validate(&self, stations: usize, profiles: usize) -> Result<(), RulesError> {
        let lists = self.allowed.len();
        if lists != 0 && lists != stations {
            return Err(RulesError::Lists { lists, stations });
        }
        for (index, list) in self.allowed.iter().enumerate() {
            let Some(list) = list else { continue };
            let station = index + 1;
            if list.is_empty() {
                return Err(RulesError::NothingAllowed { station });
            }
            if let Some(&profile) = list.iter().find(|&&profile| profiles <= profile) {
                return Err(RulesError::NoSuchProfile {
                    station,
                    profile: profile.saturating_add(1),
                    count: profiles,
                });
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_that_cannot_be_kept_are_named() {
        let rules = |allowed| Rules {
            allowed,
            ..Rules::default()
        };
        assert_eq!(rules(vec![]).validate(3, 2), Ok(()));
        assert_eq!(
            rules(vec![None]).validate(3, 2),
            Err(RulesError::Lists {
                lists: 1,
                stations: 3
            })
        );
        assert_eq!(
            rules(vec![None, Some(vec![])]).validate(2, 2),
            Err(RulesError::NothingAllowed { station: 2 })
        );
        assert_eq!(
            rules(vec![None, Some(vec![0, 2])]).validate(2, 2),
            Err(RulesError::NoSuchProfile {
                station: 2,
                profile: 3,
                count: 2
            })
        );
        let fixed = Rules::default().with_fixed(2, 1, 0);
        assert!(fixed.allows(0, 1) && fixed.allows(1, 0) && !fixed.allows(1, 1));
    }
}
