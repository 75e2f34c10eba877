//! The active profile scaled, turned and shifted by figures, and copies that vary.

use super::{Board, BoardError};
use loftkin_editor::edit::{self, Reshape};
use loftkin_editor::identity::Rearrangement;
use loftkin_kernel::profile::Profile;
use nalgebra::Vector2;

/// The most copies at once.
const MOST_COPIES: u32 = 100;

/// Copies of a profile, each changed once more than the one before.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Copies {
    /// How many.
    pub count: u32,
    /// What each differs by from the one before.
    pub change: Reshape,
    /// How far nodes wander by chance, in mm, at most.
    pub wander: f64,
}

impl Board {
    /// Whether grips scale about the middle, and not about the opposite end.
    pub fn about_middle(&self) -> bool {
        self.about_middle
    }

    /// Makes grips scale about the middle, or about the opposite end.
    pub fn set_about_middle(&mut self, about_middle: bool) {
        self.about_middle = about_middle;
        self.changed(super::Changes::SELECTION);
    }

    /// Scales, turns and shifts the active profile.
    ///
    /// # Errors
    /// [`BoardError::NoProfile`], or figures that would spoil it.
    pub fn reshape(&mut self, change: &Reshape) -> Result<(), BoardError> {
        self.edit(verb(change), |profile, _| edit::reshape(profile, change))
    }

    /// Adds copies of the active profile right after it, each one changed once
    /// more, and makes the first of them active.
    ///
    /// # Errors
    /// [`BoardError::NoProfile`], figures that would spoil a copy, or a family
    /// that is full; nothing is changed then.
    pub fn add_copies(&mut self, copies: &Copies) -> Result<(), BoardError> {
        if !(1..=MOST_COPIES).contains(&copies.count) {
            return Err(BoardError::Copies(copies.count));
        }
        let (index, profile) = self.active_profile()?;
        let made = (1..=copies.count)
            .map(|times| copy(&profile, copies, times))
            .collect::<Result<Vec<_>, _>>()?;
        let step = match copies.count {
            1 => format!("Copy and vary profile {}", index + 1),
            count => format!("Copy and vary profile {} {count} times", index + 1),
        };
        let (at, count) = (index + 1, made.len());
        self.rearrange(&step, Some(Rearrangement::Added { at, count }), |family| {
            family.profiles.splice(at..at, made);
        })?;
        self.activate(index + 1);
        self.choose_pair(index, index + 1)
    }
}

fn copy(profile: &Profile, copies: &Copies, times: u32) -> Result<Profile, BoardError> {
    let changed = edit::reshape(profile, &copies.change.repeated(times))?;
    Ok(edit::wander(&changed, copies.wander, u64::from(times))?)
}

fn verb(change: &Reshape) -> &'static str {
    let scaled = change.scale != Vector2::repeat(1.0);
    let turned = change.turn != 0.0;
    let shifted = change.shift != Vector2::zeros();
    match (scaled, turned, shifted) {
        (true, false, false) => "Scale",
        (false, true, false) => "Turn",
        (false, false, _) => "Shift",
        (true, false, true) => "Scale and shift",
        (true, true, false) => "Scale and turn",
        (false, true, true) => "Turn and shift",
        (true, true, true) => "Scale, turn and shift",
    }
}
