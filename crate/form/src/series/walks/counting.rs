//! Counting arrangements by transfer matrix.
//!
//! The number of ways to go on from a station depends only on the profiles of
//! the last `reach` - 1 stations, so it is worked out from the last station
//! backward, once (Stanley, Enumerative Combinatorics I, 1986, section 4.7). A
//! closed ring is unfolded: for each beginning (*head*) of `reach` - 1 profiles
//! the walk must end in that head again.

use crate::series::grammar::Grammar;
use num_bigint::BigUint;

/// The arrangements that begin in one way.
#[derive(Clone, Debug)]
pub struct Head {
    /// Of the first stations, by the palette.
    pub profiles: Vec<usize>,
    /// By position after the head: the ways to go on from each state.
    layers: Vec<Layer>,
    /// How many there are.
    pub total: BigUint,
}

/// The ways to go on from each state that can be reached, states ascending.
#[derive(Clone, Debug)]
struct Layer {
    states: Vec<usize>,
    ways: Vec<BigUint>,
}

impl Layer {
    fn ways(&self, state: usize) -> Option<&BigUint> {
        let index = self.states.binary_search(&state).ok()?;
        Some(&self.ways[index])
    }
}

/// Counts by one grammar.
pub struct Counter<'a> {
    /// What may stand where.
    pub grammar: &'a Grammar,
}

impl Counter<'_> {
    /// The state after `profiles`: the last `reach` - 1 of them as the digits of
    /// one number; before the first station the digit `size` stands for none.
    fn state(&self, profiles: &[usize]) -> usize {
        let (size, kept) = (self.grammar.size(), self.grammar.reach - 1);
        (0..kept).rev().fold(0, |state, back| {
            let digit = profiles.len().checked_sub(back + 1);
            state * (size + 1) + digit.map_or(size, |place| profiles[place])
        })
    }

    /// The profiles of `state`, nearest last.
    fn profiles(&self, mut state: usize) -> Vec<usize> {
        let size = self.grammar.size();
        let mut profiles = Vec::with_capacity(self.grammar.reach - 1);
        for _ in 1..self.grammar.reach {
            let digit = state % (size + 1);
            if digit < size {
                profiles.push(digit);
            }
            state /= size + 1;
        }
        profiles.reverse();
        profiles
    }

    /// The heads: one empty for open rows, else all beginnings that suit.
    pub fn beginnings(&self) -> Vec<Vec<usize>> {
        let mut heads = vec![Vec::new()];
        if !self.grammar.all_round {
            return heads;
        }
        for station in 0..self.grammar.reach - 1 {
            let longer = heads.iter().flat_map(|head: &Vec<usize>| {
                let next = (0..self.grammar.size())
                    .filter(|&profile| self.grammar.suits(station, head, profile).is_ok());
                next.map(|profile| head.iter().copied().chain([profile]).collect())
            });
            heads = longer.collect();
        }
        heads
    }

    /// How many positions are filled after the head: all round, the head again.
    fn end(&self, head: &[usize]) -> usize {
        self.grammar.allowed.len() + head.len()
    }

    /// The profiles that may stand at `position` after `before` (of a state).
    fn next(&self, head: &[usize], position: usize, before: &[usize]) -> Vec<usize> {
        let count = self.grammar.allowed.len();
        let suits = |profile: &usize| {
            let station = position % count;
            self.grammar.suits(station, before, *profile).is_ok()
        };
        match position.checked_sub(count) {
            Some(again) => Some(head[again]).filter(suits).into_iter().collect(),
            None => (0..self.grammar.size()).filter(suits).collect(),
        }
    }

    /// The arrangements that begin with `profiles`.
    pub fn head(&self, profiles: Vec<usize>) -> Head {
        let (start, end) = (profiles.len(), self.end(&profiles));
        let mut reached = vec![vec![self.state(&profiles)]];
        for position in start..end {
            let states = &reached[position - start];
            let mut next: Vec<usize> = states
                .iter()
                .flat_map(|&state| self.after(&profiles, position, state))
                .collect();
            next.sort_unstable();
            next.dedup();
            reached.push(next);
        }
        let mut layers: Vec<Layer> = Vec::with_capacity(reached.len());
        for (index, states) in reached.into_iter().enumerate().rev() {
            let position = start + index;
            let ways = match layers.last() {
                None => vec![BigUint::from(1_u32); states.len()],
                Some(later) => states
                    .iter()
                    .map(|&state| {
                        let after = self.after(&profiles, position, state);
                        after.iter().filter_map(|&next| later.ways(next)).sum()
                    })
                    .collect(),
            };
            layers.push(Layer { states, ways });
        }
        layers.reverse();
        let total = layers[0].ways.first().cloned().unwrap_or_default();
        Head {
            profiles,
            layers,
            total,
        }
    }

    /// The states that `state` leads to when `position` is filled.
    fn after(&self, head: &[usize], position: usize, state: usize) -> Vec<usize> {
        let mut before = self.profiles(state);
        let place = before.len();
        before.push(0);
        let next = self.next(head, position, &before[..place]);
        next.into_iter()
            .map(|profile| {
                before[place] = profile;
                self.state(&before)
            })
            .collect()
    }

    /// Calls `visit` with each profile that may follow `chosen` and the number
    /// of ways to go on then, ascending, until it returns false.
    pub fn each_next(
        &self,
        head: &Head,
        chosen: &[usize],
        mut visit: impl FnMut(usize, &BigUint) -> bool,
    ) {
        let position = chosen.len();
        let from = (position + 1).saturating_sub(self.grammar.reach);
        let mut before = chosen[from..].to_vec();
        let place = before.len();
        before.push(0);
        let later = &head.layers[position + 1 - head.profiles.len()];
        for profile in self.next(&head.profiles, position, &before[..place]) {
            before[place] = profile;
            let Some(ways) = later.ways(self.state(&before)) else {
                continue;
            };
            if !visit(profile, ways) {
                return;
            }
        }
    }
}
