//! Families out of files, for the page: a reader of each kind weighs more than a first visit should.

use loftkin_exchange::any::{self, ImportError};
use loftkin_exchange::import::Take;
use loftkin_exchange::point_list::Reading;
use loftkin_exchange::share;
use serde::Serialize;

/// What a file holds.
#[derive(Debug, PartialEq, Eq, Serialize)]
pub struct FileMessage {
    /// The share code of its family; none when it mixes open and closed profiles
    /// and nobody has said which are to be taken.
    pub code: Option<String>,
    /// What the reader had to decide, a sentence each.
    pub notes: Vec<String>,
    /// How many open and how many closed profiles it mixes.
    pub mixed: Option<[usize; 2]>,
}

/// Reads a file of any kind that is known: family, SVG drawing, point list, share
/// link. `name` names a family without a name of its own. Of a file that mixes open and closed profiles `kind`
/// names those that are taken, "open" or "closed"; with any other word none are,
/// and the answer says how many there are.
///
/// # Errors
/// An [`ImportError`] that says what is wrong with it.
pub fn read_file(name: &str, bytes: &[u8], kind: &str) -> Result<FileMessage, ImportError> {
    let take = match kind {
        "open" => Some(Take::Open),
        "closed" => Some(Take::Closed),
        _ => None,
    };
    let reading = Reading {
        take,
        ..Reading::default()
    };
    match any::read(name, bytes, reading) {
        Ok(import) => Ok(FileMessage {
            code: Some(share::encode(&import.family)),
            notes: import.notes.iter().map(ToString::to_string).collect(),
            mixed: None,
        }),
        Err(error) => match error.mixed() {
            Some(mixed) => Ok(FileMessage {
                code: None,
                notes: Vec::new(),
                mixed: Some(mixed),
            }),
            None => Err(error),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two open paths and a closed one.
    const MIXED: &[u8] =
        b"<svg xmlns='http://www.w3.org/2000/svg' width='90mm' height='90mm' viewBox='0 0 90 90'>\
        <path d='M0 0L40 0'/><path d='M0 10L40 10'/><path d='M0 20L40 20L20 40Z'/></svg>";

    #[test]
    fn a_file_is_its_family_with_what_the_reader_decided() {
        let read = read_file("hoods.txt", b"0 0\n50 80\n90 0\n", "").unwrap();
        let family = share::decode(&read.code.unwrap()).unwrap();
        assert_eq!(family.name, "hoods");
        assert_eq!(family.profiles.len(), 1);
        assert_eq!(read.mixed, None);
    }

    #[test]
    fn a_mixed_file_is_asked_about_and_then_taken_in_part() {
        let asked = read_file("", MIXED, "").unwrap();
        assert_eq!((asked.code, asked.mixed), (None, Some([2, 1])));
        for (kind, count) in [("open", 2), ("closed", 1)] {
            let code = read_file("", MIXED, kind).unwrap().code.unwrap();
            let profiles = share::decode(&code).unwrap().profiles;
            assert_eq!(profiles.len(), count, "{kind}");
            assert!(
                profiles
                    .iter()
                    .all(|profile| profile.closed == (kind == "closed"))
            );
        }
    }

    #[test]
    fn what_is_no_family_is_refused_in_words() {
        let refused = read_file("a.txt", b"", "").unwrap_err();
        assert_eq!(refused, ImportError::Empty);
    }
}
