//! Hints: changes that cost nothing, proved to make the pair clear.
//!
//! Reverse one profile, move the seam of one, or pace the family by the other
//! rule. Each is judged by the proof before it is given, with what it does to
//! the other pairs. No node moves here.

use super::{Trials, largest_twist};
use crate::family::{Family, Settings};
use crate::profile::Profile;
use crate::proof::{Memory, Prepared, is_clear_pair, judge_profile};
use crate::verdict::{Hint, Judgement, Remedy};
use std::cell::LazyCell;

/// What findings need of the table.
pub struct Sheet<'a> {
    /// The family.
    pub family: &'a Family,
    /// Its profiles, prepared.
    pub prepared: &'a [Prepared],
    /// The judgements of the family as it stands, in the order of the table.
    pub cells: &'a [Judgement],
    /// What was judged of it with one change before.
    pub trials: &'a Trials,
}

/// Where the judgement of a pair stands in the table.
pub(crate) fn cell_index(first: usize, second: usize) -> usize {
    let (low, high) = (first.min(second), first.max(second));
    high * (high + 1) / 2 + low
}

/// All hints for the pair `first`, `second`, those that mend most first.
pub fn hints(sheet: &Sheet, (first, second): (usize, usize), memory: &mut Memory) -> Vec<Hint> {
    let mut hints = Vec::new();
    for (profile, other) in [(second, first), (first, second)] {
        let turned = sheet.family.profiles[profile].reversed();
        let reverse = Remedy::Reverse { profile };
        hints.extend(sheet.tried(reverse, profile, other, &turned, memory));
        hints.extend(sheet.best_seam(profile, other, memory));
    }
    hints.extend(sheet.other_pacing(first, second, memory));
    hints.sort_by_key(|hint| {
        let gain = hint.mends as i64 - hint.breaks as i64;
        (-gain, order(hint.remedy))
    });
    hints
}

/// The lighter change first, among those that gain alike.
fn order(remedy: Remedy) -> u8 {
    match remedy {
        Remedy::Reverse { .. } => 0,
        Remedy::MoveSeam { .. } => 1,
        Remedy::SwapPacing => 2,
    }
}

impl Sheet<'_> {
    fn settings(&self) -> &Settings {
        &self.family.settings
    }

    fn was_clear(&self, first: usize, second: usize) -> bool {
        self.cells[cell_index(first, second)].is_clear()
    }

    /// Whether `profile` is clear with `other` once `remedy` made it `changed`. A
    /// profile that reaches the axis is simple, but its pairs are not clear.
    fn clears(
        &self,
        remedy: Remedy,
        (profile, other): (usize, usize),
        changed: &Prepared,
        memory: &mut Memory,
    ) -> bool {
        let settings = self.settings();
        let partner = &self.prepared[other];
        self.was_clear(other, other)
            && self
                .trials
                .is_clear((remedy, profile, profile), || is_simple(changed, memory))
            && self.trials.is_clear((remedy, profile, other), || {
                is_clear(changed, partner, settings, memory)
            })
    }

    /// The hint to put `drawn` for `profile`, if that clears it with `other`.
    fn tried(
        &self,
        remedy: Remedy,
        profile: usize,
        other: usize,
        drawn: &Profile,
        memory: &mut Memory,
    ) -> Option<Hint> {
        let changed = Prepared::new(drawn, self.settings());
        if !self.clears(remedy, (profile, other), &changed, memory) {
            return None;
        }
        let mut hint = Hint {
            remedy,
            mends: 0,
            breaks: 0,
        };
        for another in (0..self.prepared.len()).filter(|&another| another != profile) {
            let is = self.clears(remedy, (profile, another), &changed, memory);
            count(&mut hint, self.was_clear(profile, another), is);
        }
        Some(hint)
    }

    /// Of all seams that clear the pair, the one that twists it least.
    fn best_seam(&self, profile: usize, other: usize, memory: &mut Memory) -> Option<Hint> {
        let drawn = &self.family.profiles[profile];
        if !drawn.closed {
            return None;
        }
        let least = (1..drawn.node_count())
            .filter_map(|node| {
                let moved = drawn.with_seam(node).ok()?;
                let changed = Prepared::new(&moved, self.settings());
                let remedy = Remedy::MoveSeam { profile, node };
                let clear = self.clears(remedy, (profile, other), &changed, memory);
                let twist = || {
                    let pair = [changed.ready().ok()?, self.prepared[other].ready().ok()?];
                    Some(largest_twist(pair).0.abs())
                };
                clear
                    .then(twist)
                    .flatten()
                    .map(|twist| (twist, remedy, moved))
            })
            .min_by(|one, other| one.0.total_cmp(&other.0));
        let (_, remedy, moved) = least?;
        self.tried(remedy, profile, other, &moved, memory)
    }

    fn other_pacing(&self, first: usize, second: usize, memory: &mut Memory) -> Option<Hint> {
        let settings = Settings {
            pacing: self.settings().pacing.swapped(),
            ..*self.settings()
        };
        let profiles = self.family.profiles.iter();
        let prepared: Vec<LazyCell<Prepared, _>> = profiles
            .map(|profile| LazyCell::new(move || Prepared::new(profile, &settings)))
            .collect();
        let remedy = Remedy::SwapPacing;
        let mut clears = |first: usize, second: usize| {
            let (one, other) = (&prepared[first], &prepared[second]);
            let mut alone = |index: usize| {
                let profile = &prepared[index];
                let trial = (remedy, index, index);
                self.trials.is_clear(trial, || is_simple(profile, memory))
            };
            alone(first)
                && alone(second)
                && self.trials.is_clear((remedy, first, second), || {
                    is_clear(one, other, &settings, memory)
                })
        };
        if !clears(first, second) {
            return None;
        }
        let mut hint = Hint {
            remedy,
            mends: 0,
            breaks: 0,
        };
        for later in 0..prepared.len() {
            for earlier in 0..later {
                let is = clears(earlier, later);
                count(&mut hint, self.was_clear(earlier, later), is);
            }
        }
        Some(hint)
    }
}

fn count(hint: &mut Hint, was_clear: bool, is_clear: bool) {
    hint.mends += usize::from(is_clear && !was_clear);
    hint.breaks += usize::from(was_clear && !is_clear);
}

fn is_simple(profile: &Prepared, memory: &mut Memory) -> bool {
    profile
        .ready()
        .is_ok_and(|ready| judge_profile(ready, memory).is_simple())
}

fn is_clear(one: &Prepared, other: &Prepared, settings: &Settings, memory: &mut Memory) -> bool {
    match (one.ready(), other.ready()) {
        (Ok(one), Ok(other)) => is_clear_pair(one, other, settings, memory),
        _ => false,
    }
}
