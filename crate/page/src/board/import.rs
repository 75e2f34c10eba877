//! Profiles of another family added to the one on the board.

use super::{Board, BoardError, Changes};
use loftkin_editor::identity::Rearrangement;
use loftkin_kernel::family::{Family, MOST_PROFILES};
use loftkin_kernel::profile::Profile;

/// What became of the profiles to be added.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Added {
    /// How many were added.
    pub count: usize,
    /// A sentence for what was left out, and why.
    pub notes: Vec<String>,
}

impl Board {
    /// Adds the profiles of `other` at the end of the family, as the one step
    /// `step`, and makes the first of them active. What cannot stand in this
    /// family (closed beside open, more than it holds) is left out and told.
    ///
    /// # Errors
    /// [`BoardError::NothingAdded`] with the reasons; nothing is changed then.
    pub fn add_profiles_from(&mut self, other: &Family, step: &str) -> Result<Added, BoardError> {
        self.let_go();
        let mut family = self.family().clone();
        let first = family.profiles.len();
        let closed = family.profiles.first().or(other.profiles.first());
        let closed = closed.is_some_and(|profile| profile.closed);
        let (fitting, unlike): (Vec<&Profile>, Vec<&Profile>) =
            other.profiles.iter().partition(|p| p.closed == closed);
        let room = MOST_PROFILES.saturating_sub(first);
        let count = fitting.len().min(room);
        let notes = notes(other, (unlike.len(), closed), fitting.len() - count);
        if count == 0 {
            return Err(BoardError::NothingAdded(notes.join(" ")));
        }
        family
            .profiles
            .extend(fitting.into_iter().take(room).cloned());
        if family.name.is_empty() && first == 0 {
            family.name.clone_from(&other.name);
        }
        self.document
            .rearrange(family, Rearrangement::Added { at: first, count })?;
        self.document.record(step);
        self.active = Some(first);
        self.chosen.clear();
        self.settle();
        self.fit();
        self.changed(Changes::ALL);
        Ok(Added { count, notes })
    }
}

fn notes(other: &Family, (unlike, closed): (usize, bool), beyond: usize) -> Vec<String> {
    let mut notes = Vec::new();
    if other.profiles.is_empty() {
        notes.push("There is no profile in it.".to_owned());
    }
    if 0 < unlike {
        let (theirs, ours) = if closed {
            ("open", "closed")
        } else {
            ("closed", "open")
        };
        notes.push(format!(
            "{unlike} of its {} profiles are {theirs}: this family has {ours} profiles only.",
            other.profiles.len()
        ));
    }
    if 0 < beyond {
        notes.push(format!(
            "{beyond} profiles are left out: a family holds {MOST_PROFILES} at most."
        ));
    }
    notes
}
