//! Trials: what the proof says of a family with one change, kept for the next pair.
//!
//! The hints of all pairs of a family try the same changes on the same profiles, so
//! each is judged once. Several threads may ask: at worst two judge the same.

use crate::verdict::Remedy;
use std::collections::HashMap;
use std::sync::{Mutex, MutexGuard, PoisonError};

/// A change and the two profiles that are judged after it, the changed one first; the
/// same twice for a profile by itself.
type Trial = (Remedy, usize, usize);

/// Which trials came out clear.
#[derive(Default)]
pub struct Trials(Mutex<HashMap<Trial, bool>>);

impl Trials {
    /// Whether `trial` is clear; `judge` is asked where that is not known yet.
    pub fn is_clear(&self, trial: Trial, judge: impl FnOnce() -> bool) -> bool {
        let known = self.known().get(&trial).copied();
        known.unwrap_or_else(|| {
            let clear = judge();
            self.known().insert(trial, clear);
            clear
        })
    }

    /// Forgets what was judged of profile `index`, which is another now.
    pub fn forget(&mut self, index: usize) {
        self.known()
            .retain(|&(_, first, second), _| first != index && second != index);
    }

    /// Every entry is whole at any time, so a thread that failed left none half made.
    fn known(&self) -> MutexGuard<'_, HashMap<Trial, bool>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::Cell;

    #[test]
    fn a_trial_is_judged_once_until_a_profile_of_it_changes() {
        let calls = Cell::new(0);
        let judge = |clear: bool| {
            calls.set(calls.get() + 1);
            clear
        };
        let mut trials = Trials::default();
        let (one, other) = (Remedy::Reverse { profile: 2 }, Remedy::SwapPacing);
        for _ in 0..3 {
            assert!(trials.is_clear((one, 2, 0), || judge(true)));
            assert!(!trials.is_clear((other, 2, 0), || judge(false)));
            assert!(trials.is_clear((one, 2, 1), || judge(true)));
        }
        assert_eq!(calls.get(), 3);
        trials.forget(0);
        assert!(!trials.is_clear((one, 2, 0), || judge(false)));
        assert!(trials.is_clear((one, 2, 1), || judge(false)));
        assert_eq!(calls.get(), 4);
    }
}
