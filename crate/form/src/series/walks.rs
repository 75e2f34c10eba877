//! The numbers of arrangements: from 1, in the order of words, both ways.
//!
//! How many arrangements begin in each way is counted once, see [`counting`]; then
//! a number is found, or an arrangement for it, station by station.

mod counting;

use super::grammar::{Grammar, Misfit};
use crate::piece::Arrangement;
use counting::{Counter, Head};
use loftkin_kernel::quote::quoted;
use num_bigint::BigUint;
use thiserror::Error;

/// The most steps of counting: under a second on common machines.
const MOST_WORK: usize = 8_000_000;

/// More profiles than can be counted over these stations.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
#[error(
    "{profiles} profiles are too many to count over these stations with this blend: allow fewer at each station, leave the ring open, or choose a ruled or eased blend"
)]
pub struct TooLarge {
    /// How many profiles may stand somewhere.
    pub profiles: usize,
}

/// Why there is no such piece. Positions count from 1.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum NumberError {
    /// A number that no piece has.
    #[error("there is no piece {}: the series counts from 1 to {count}", quoted(&number.to_string()))]
    OutOfRange {
        /// The number asked for.
        number: BigUint,
        /// How many pieces there are.
        count: BigUint,
    },
    /// Not one profile a station.
    #[error("{profiles} profiles for {stations} stations: name one profile a station")]
    Length {
        /// How many profiles are named.
        profiles: usize,
        /// How many stations there are.
        stations: usize,
    },
    /// A profile that may not stand at its station.
    #[error(
        "profile {profile} may not stand at station {station}: it is not allowed there, or not proved there by itself"
    )]
    NotAllowed {
        /// Which station.
        station: usize,
        /// Which profile.
        profile: usize,
    },
    /// Neighbours that may not stand beside each other.
    #[error(
        "profile {profile} may not stand at station {station} beside {before}: the pair is not proved clear there, or the rules forbid it"
    )]
    NotBeside {
        /// The second station of the joint.
        station: usize,
        /// The profile there.
        profile: usize,
        /// The profile of the station before it.
        before: usize,
    },
    /// Neighbours that are not proved for any blend.
    #[error(
        "profile {profile} at station {station} is not proved for a blend with the stations before it"
    )]
    NotBlended {
        /// The last of the stations.
        station: usize,
        /// The profile there.
        profile: usize,
    },
}

/// All arrangements that a grammar allows, counted.
#[derive(Clone, Debug)]
pub struct Walks {
    grammar: Grammar,
    heads: Vec<Head>,
    count: BigUint,
}

impl Walks {
    /// Counts what `grammar` allows.
    ///
    /// # Errors
    /// [`TooLarge`].
    pub fn new(grammar: Grammar) -> Result<Self, TooLarge> {
        let size = grammar.size();
        let states = size.saturating_pow(grammar.reach as u32 - 1);
        let starts = if grammar.all_round { states } else { 1 };
        let work = [states, starts, size, grammar.allowed.len()]
            .iter()
            .fold(1_usize, |work, &factor| work.saturating_mul(factor.max(1)));
        if MOST_WORK < work {
            return Err(TooLarge { profiles: size });
        }
        let counter = Counter { grammar: &grammar };
        let heads: Vec<Head> = counter
            .beginnings()
            .into_iter()
            .map(|profiles| counter.head(profiles))
            .filter(|head| head.total != BigUint::ZERO)
            .collect();
        let count = heads.iter().map(|head| &head.total).sum();
        Ok(Self {
            heads,
            count,
            grammar,
        })
    }

    /// How many arrangements there are.
    pub fn count(&self) -> &BigUint {
        &self.count
    }

    /// The arrangement of `number`, from 1.
    ///
    /// # Errors
    /// [`NumberError::OutOfRange`].
    pub fn arrangement(&self, number: &BigUint) -> Result<Arrangement, NumberError> {
        if *number == BigUint::ZERO || self.count < *number {
            return Err(NumberError::OutOfRange {
                number: number.clone(),
                count: self.count.clone(),
            });
        }
        let mut before = number - 1_u32;
        let head = self.heads.iter().find(|head| {
            let is_it = before < head.total;
            if !is_it {
                before -= &head.total;
            }
            is_it
        });
        let Some(head) = head else {
            unreachable!("the totals of all heads sum to the count")
        };
        let counter = Counter {
            grammar: &self.grammar,
        };
        let mut chosen = head.profiles.clone();
        while chosen.len() < self.grammar.allowed.len() {
            let mut next = None;
            counter.each_next(head, &chosen, |profile, ways| {
                if before < *ways {
                    next = Some(profile);
                    return false;
                }
                before -= ways;
                true
            });
            // Every number within the count has its way on.
            let Some(next) = next else { break };
            chosen.push(next);
        }
        let profiles = chosen.iter().map(|&index| self.grammar.palette[index]);
        Ok(Arrangement(profiles.collect()))
    }

    /// The number of `arrangement`, from 1.
    ///
    /// # Errors
    /// Why it is none of these arrangements.
    pub fn number(&self, arrangement: &Arrangement) -> Result<BigUint, NumberError> {
        let word = self.checked(arrangement)?;
        let mut number = BigUint::from(1_u32);
        let Some(head) = self.heads.iter().find(|head| {
            let is_it = word.starts_with(&head.profiles);
            if !is_it {
                number += &head.total;
            }
            is_it
        }) else {
            unreachable!("a word that suits everywhere begins with a head that can be completed")
        };
        let counter = Counter {
            grammar: &self.grammar,
        };
        for place in head.profiles.len()..word.len() {
            counter.each_next(head, &word[..place], |profile, ways| {
                if profile < word[place] {
                    number += ways;
                }
                profile < word[place]
            });
        }
        Ok(number)
    }

    /// The arrangement by the palette, if the grammar allows it.
    fn checked(&self, arrangement: &Arrangement) -> Result<Vec<usize>, NumberError> {
        let (stations, reach) = (self.grammar.allowed.len(), self.grammar.reach);
        let profiles = &arrangement.0;
        if profiles.len() != stations {
            return Err(NumberError::Length {
                profiles: profiles.len(),
                stations,
            });
        }
        let mut word = Vec::with_capacity(stations + reach);
        for (index, &profile) in profiles.iter().enumerate() {
            let place = self.grammar.palette.binary_search(&profile);
            word.push(place.map_err(|_| NumberError::NotAllowed {
                station: index + 1,
                profile: profile.saturating_add(1),
            })?);
        }
        let round = if self.grammar.all_round { reach - 1 } else { 0 };
        for place in 0..round {
            word.push(word[place]);
        }
        for place in 0..word.len() {
            let from = (place + 1).saturating_sub(reach);
            let at = place % stations;
            let (station, profile) = (at + 1, profiles[at] + 1);
            let suits = self.grammar.suits(at, &word[from..place], word[place]);
            suits.map_err(|misfit| match misfit {
                Misfit::NotAllowed => NumberError::NotAllowed { station, profile },
                Misfit::NotBeside => NumberError::NotBeside {
                    station,
                    profile,
                    before: profiles[(at + stations - 1) % stations] + 1,
                },
                Misfit::NotBlended => NumberError::NotBlended { station, profile },
            })?;
        }
        word.truncate(stations);
        Ok(word)
    }
}

#[cfg(test)]
mod tests;
