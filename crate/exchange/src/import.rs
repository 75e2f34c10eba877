//! What reading gives: a family, and notes on what was changed or left out.
//!
//! Nothing that could be read is thrown away because something else could not.

use crate::words::counted;
use loftkin_kernel::family::{Family, FamilyError, MOST_PROFILES};
use loftkin_kernel::profile::{LONGEST_NAME, Profile};
use std::fmt;
use thiserror::Error;

/// Which profiles are taken of a source that mixes open and closed ones, for a
/// family is all one or all the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Take {
    /// The open ones.
    Open,
    /// The closed ones.
    Closed,
}

/// Why the profiles of a source are no family.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum TakeError {
    /// Open ones beside closed ones, and nobody has chosen.
    #[error(
        "it mixes open and closed profiles ({open} open, {closed} closed), and a family is all one or all the other: take the open ones or the closed ones"
    )]
    Mixed {
        /// How many are open.
        open: usize,
        /// How many are closed.
        closed: usize,
    },
    /// None of the kind that is to be taken.
    #[error("no profile of it is {wanted}: leave out the choice, or take the others")]
    None {
        /// The kind, in a word.
        wanted: &'static str,
    },
    /// More than a family holds. Nothing is dropped silently.
    #[error("{0}: give them in several files")]
    TooMany(FamilyError),
}

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

/// `name`, cut where it is longer than a profile's may be; the profile, number
/// `index` from 0, is kept all the same, so that no other one takes its number.
pub(crate) fn cut_name(name: String, index: usize, notes: &mut Vec<Note>) -> String {
    let Some((end, _)) = name.char_indices().nth(LONGEST_NAME) else {
        return name;
    };
    notes.push(Note::on_profile(
        index,
        format!("its name was cut to {LONGEST_NAME} characters."),
    ));
    name[..end].to_owned()
}

/// Profiles as they are read one by one, with notes on them.
pub(crate) struct Gathered {
    profiles: Vec<Profile>,
    notes: Vec<Note>,
    /// How many are open, and how many closed, kept or not.
    counts: [usize; 2],
}

impl Gathered {
    pub(crate) fn new(notes: Vec<Note>) -> Self {
        Self {
            profiles: Vec::new(),
            notes,
            counts: [0; 2],
        }
    }

    /// The index that notes on the next profile are to have.
    pub(crate) fn next(&self) -> usize {
        self.profiles.len()
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.profiles.is_empty()
    }

    /// A note on the whole.
    pub(crate) fn note(&mut self, note: Note) {
        self.notes.push(note);
    }

    /// Adds a profile. Beyond what a family holds it is counted only, which
    /// bounds the memory that a hostile file takes.
    pub(crate) fn add(&mut self, mut profile: Profile, notes: Vec<Note>) {
        let count = &mut self.counts[usize::from(profile.closed)];
        *count += 1;
        if *count <= MOST_PROFILES {
            self.notes.extend(notes);
            let index = self.profiles.len();
            profile.name = cut_name(profile.name, index, &mut self.notes);
            self.profiles.push(profile);
        }
    }

    /// The family, all open or all closed as `take` says.
    pub(crate) fn finish(
        mut self,
        name: String,
        problems: Vec<String>,
        take: Option<Take>,
    ) -> Result<Import, TakeError> {
        let [open, closed] = self.counts;
        let (wanted, count) = match take {
            None if 0 < open && 0 < closed => return Err(TakeError::Mixed { open, closed }),
            None => ("", open + closed),
            Some(Take::Open) => ("open", open),
            Some(Take::Closed) => ("closed", closed),
        };
        if count == 0 {
            return Err(TakeError::None { wanted });
        }
        if MOST_PROFILES < count {
            return Err(TakeError::TooMany(FamilyError::TooManyProfiles { count }));
        }
        if let Some(take) = take {
            self.keep_only(take == Take::Closed);
        }
        let problems = problems
            .iter()
            .map(|problem| crate::words::capital(problem));
        let told = problems.map(|problem| Note::general(format!("{problem}.")));
        let mut notes = self.notes;
        notes.extend(told);
        let family = Family {
            name,
            profiles: self.profiles,
            ..Family::default()
        };
        notes.extend(notes_on_faulty_drawings(&family));
        Ok(Import { family, notes })
    }

    /// Drops the profiles of the other kind and what was noted on them.
    fn keep_only(&mut self, closed: bool) {
        let mut kept = 0;
        let places: Vec<Option<usize>> = (self.profiles.iter())
            .map(|profile| {
                let place = (profile.closed == closed).then_some(kept);
                kept += usize::from(place.is_some());
                place
            })
            .collect();
        self.profiles.retain(|profile| profile.closed == closed);
        self.notes.retain_mut(|note| match note.profile {
            None => true,
            Some(index) => {
                note.profile = places.get(index).copied().flatten();
                note.profile.is_some()
            }
        });
        let [open, shut] = self.counts;
        let (others, kind) = if closed {
            (open, "open")
        } else {
            (shut, "closed")
        };
        if 0 < others {
            let profiles = counted(
                others,
                &format!("{kind} profile"),
                &format!("{kind} profiles"),
            );
            self.notes.insert(
                0,
                Note::general(format!("{profiles} left out, as was chosen.")),
            );
        }
    }
}
