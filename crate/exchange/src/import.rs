//! What reading gives: a family, and notes on what was changed or left out.
//!
//! Nothing that could be read is thrown away because something else could not.

use loftkin_kernel::family::Family;
use std::fmt;

/// A family as read, with everything that the reader had to decide.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Import {
    /// What could be read.
    pub family: Family,
    /// What was rounded, converted, skipped or is wrong, in reading order.
    pub notes: Vec<Note>,
}

/// One sentence about an import.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Note {
    /// The profile of the import that it is about, from 0, if any.
    pub profile: Option<usize>,
    /// A whole sentence.
    pub text: String,
}

impl Note {
    /// A note on the whole import.
    pub fn general(text: impl Into<String>) -> Self {
        Self {
            profile: None,
            text: text.into(),
        }
    }

    /// A note on profile `index` (from 0) of the import.
    pub fn on_profile(index: usize, text: impl Into<String>) -> Self {
        Self {
            profile: Some(index),
            text: text.into(),
        }
    }
}

impl fmt::Display for Note {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.profile {
            Some(index) => write!(out, "Profile {}: {}", index + 1, self.text),
            None => out.write_str(&self.text),
        }
    }
}

/// Notes on what was read but cannot be judged as it is.
pub(crate) fn notes_on_faulty_drawings(family: &Family) -> Vec<Note> {
    let whole = family.validate().err().map(|error| {
        Note::general(format!(
            "Kept, but the family cannot be judged as it is: {error}."
        ))
    });
    let profiles = family.profiles.iter().enumerate();
    let each = profiles.filter_map(|(index, profile)| {
        let error = profile.validate().err()?;
        Some(Note::on_profile(
            index,
            format!("kept, but it cannot be judged as drawn: {error}."),
        ))
    });
    whole.into_iter().chain(each).collect()
}
