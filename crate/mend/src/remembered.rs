//! What went wrong where, remembered from one look to the next: the rows of a
//! setting must know what was found at another.

use crate::scope::Pair;
use loftkin_kernel::verdict::{Doubt, Judgement};
use std::collections::BTreeMap;

/// How a wish is raised when a pair that ought to be clear is not, or is one
/// that the proof cannot decide: each time, and at the most.
const RAISED: f64 = 1.5;
const MOST_RAISED: f64 = 20.0;
/// Witnesses closer than this, as parameters, count as one.
const SAME_PLACE: f64 = 1e-6;

/// What is remembered of every pair.
#[derive(Default)]
pub struct Remembered {
    noted: BTreeMap<Pair, Vec<(f64, f64)>>,
    witnesses: BTreeMap<Pair, Vec<f64>>,
    raised: BTreeMap<Pair, f64>,
}

impl Remembered {
    /// The places to look at again, in place of those before.
    pub fn note(&mut self, pair: Pair, places: Vec<(f64, f64)>) {
        self.noted.insert(pair, places);
    }

    /// Places looked at, to be looked at again.
    pub fn noted(&self, pair: Pair) -> &[(f64, f64)] {
        self.noted.get(&pair).map_or(&[], Vec::as_slice)
    }

    /// Adds parameters at which the table showed a fault.
    pub fn witness(&mut self, pair: Pair, parameters: impl IntoIterator<Item = f64>) {
        let known = self.witnesses.entry(pair).or_default();
        for u in parameters {
            if known.iter().all(|known| SAME_PLACE < (known - u).abs()) {
                known.push(u);
            }
        }
    }

    /// All parameters at which the table showed a fault.
    pub fn witnesses(&self, pair: Pair) -> &[f64] {
        self.witnesses.get(&pair).map_or(&[], Vec::as_slice)
    }

    /// By how much the wish of a pair is raised, where what is proved of it falls
    /// behind what its places show.
    pub fn raised(&self, pair: Pair) -> f64 {
        self.raised.get(&pair).copied().unwrap_or(1.0)
    }

    /// Raises it once more.
    pub fn raise(&mut self, pair: Pair) {
        let raised = self.raised(pair);
        self.raised
            .insert(pair, f64::min(raised * RAISED, MOST_RAISED));
    }

    /// Raises it by `factor`, by no more than once.
    pub fn raise_to(&mut self, pair: Pair, factor: f64) {
        let raised = self.raised(pair);
        self.raised.insert(pair, raised * factor.clamp(1.0, RAISED));
    }
}

/// The parameters at which a judgement shows or suspects a fault.
pub fn places(judgement: &Judgement) -> Vec<f64> {
    let doubted = match judgement.doubt {
        Some(Doubt::Contact { place, .. } | Doubt::Limit { place }) => Some(place),
        _ => None,
    };
    let places = judgement.faults().map(|fault| fault.place).chain(doubted);
    places
        .flat_map(|place| [place.along, place.other_along])
        .collect()
}
