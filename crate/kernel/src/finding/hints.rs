//! Hints: changes that cost nothing, proved to make the pair clear.
//!
//! Reverse one profile, move the seam of one, or pace the family by the other
//! rule. Each is judged by the proof before it is given, with what it does to
//! the other pairs. No node moves here.

use super::largest_twist;
use crate::family::{Family, Settings};
use crate::profile::Profile;
use crate::proof::{Memory, Prepared, judge_pair, judge_profile};
use crate::verdict::{Hint, Remedy, Verdict};

/// What the hints need of the table.
pub struct Sheet<'a> {
    /// The family.
    pub family: &'a Family,
    /// Its profiles, prepared.
    pub prepared: &'a [Prepared],
    /// The verdict of a pair as it stands.
    pub verdict: &'a dyn Fn(usize, usize) -> Verdict,
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

    /// The hint to put `changed` for `profile`, if that clears it with `other`.
    fn tried(
        &self,
        remedy: Remedy,
        profile: usize,
        other: usize,
        changed: &Profile,
        memory: &mut Memory,
    ) -> Option<Hint> {
        let changed = Prepared::new(changed, self.settings());
        if !is_clear(&changed, &self.prepared[other], self.settings(), memory) {
            return None;
        }
        let mut hint = Hint {
            remedy,
            mends: 0,
            breaks: 0,
        };
        for another in (0..self.prepared.len()).filter(|&another| another != profile) {
            let is = is_clear(&changed, &self.prepared[another], self.settings(), memory);
            let was = (self.verdict)(profile, another) == Verdict::Clear;
            count(&mut hint, was, is);
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
                let clear = is_clear(&changed, &self.prepared[other], self.settings(), memory);
                let twist = || {
                    let pair = [changed.ready().ok()?, self.prepared[other].ready().ok()?];
                    Some(largest_twist(pair).0.abs())
                };
                clear
                    .then(twist)
                    .flatten()
                    .map(|twist| (twist, node, moved))
            })
            .min_by(|one, other| one.0.total_cmp(&other.0));
        let (_, node, moved) = least?;
        let remedy = Remedy::MoveSeam { profile, node };
        self.tried(remedy, profile, other, &moved, memory)
    }

    fn other_pacing(&self, first: usize, second: usize, memory: &mut Memory) -> Option<Hint> {
        let settings = Settings {
            pacing: self.settings().pacing.swapped(),
            ..*self.settings()
        };
        let prepare = |profile: &Profile| Prepared::new(profile, &settings);
        let profiles = &self.family.profiles;
        let pair = [prepare(&profiles[first]), prepare(&profiles[second])];
        if !is_clear(&pair[0], &pair[1], &settings, memory) {
            return None;
        }
        let prepared: Vec<Prepared> = profiles.iter().map(prepare).collect();
        let mut hint = Hint {
            remedy: Remedy::SwapPacing,
            mends: 0,
            breaks: 0,
        };
        for later in 0..prepared.len() {
            for earlier in 0..later {
                let is = is_clear(&prepared[earlier], &prepared[later], &settings, memory);
                let was = (self.verdict)(earlier, later) == Verdict::Clear;
                count(&mut hint, was, is);
            }
        }
        Some(hint)
    }
}

fn count(hint: &mut Hint, was_clear: bool, is_clear: bool) {
    hint.mends += usize::from(is_clear && !was_clear);
    hint.breaks += usize::from(was_clear && !is_clear);
}

/// Whether both are simple and their pair is clear.
fn is_clear(one: &Prepared, other: &Prepared, settings: &Settings, memory: &mut Memory) -> bool {
    let (Ok(one), Ok(other)) = (one.ready(), other.ready()) else {
        return false;
    };
    judge_profile(one, memory).is_simple()
        && judge_profile(other, memory).is_simple()
        && judge_pair(one, other, settings, memory).verdict == Verdict::Clear
}
