//! Why a series has no piece at all, in words a person can act on.

use super::grammar::Grammar;
use thiserror::Error;

/// The first reason found. Stations count from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum Empty {
    /// No profile may stand at a station.
    #[error(
        "no profile may stand at station {station}: none of those allowed there is proved simple (and off the axis of a ring) as it stands; allow others, or change its scale, shift or turn"
    )]
    Station {
        /// Which one.
        station: usize,
    },
    /// No two profiles may stand at two neighbouring stations.
    #[error(
        "no two profiles may stand beside each other at stations {low} and {high}: no allowed pair is proved clear there under the rules; mend a pair, allow more profiles, or turn the stations less against each other"
    )]
    Joint {
        /// The lower station.
        low: usize,
        /// The higher one, or the first of a ring.
        high: usize,
    },
    /// Each joint has its pairs, but no chain of them goes through.
    #[error(
        "every two neighbouring stations have pairs that suit, but no arrangement suits all stations at once; allow more profiles or ease the rules"
    )]
    Together,
}

/// Why `grammar`, which allows nothing, does so.
pub fn reason(grammar: &Grammar) -> Empty {
    let count = grammar.allowed.len();
    let nobody = grammar
        .allowed
        .iter()
        .position(|here| !here.contains(&true));
    if let Some(index) = nobody {
        return Empty::Station { station: index + 1 };
    }
    let parted = (0..grammar.beside.len()).find(|&joint| {
        let (low, high) = (joint, (joint + 1) % count);
        let suits = |first: usize, second: usize| {
            grammar.allowed[low][first]
                && grammar.allowed[high][second]
                && grammar.beside[joint][first * grammar.size() + second]
        };
        let profiles = || 0..grammar.size();
        !profiles().any(|first| profiles().any(|second| suits(first, second)))
    });
    match parted {
        Some(joint) => Empty::Joint {
            low: joint + 1,
            high: (joint + 1) % count + 1,
        },
        None => Empty::Together,
    }
}
