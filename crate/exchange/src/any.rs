//! One entry for every kind of text that a family can come in.
//!
//! The content decides the kind, not the name of the file: JSON begins
//! with a brace, SVG with an angle bracket, a share code with its mark; all
//! else is held to be a point list.

use crate::family_json::{self, JsonError};
use crate::import::{Import, TakeError};
use crate::point_list::{self, PointsError, Reading};
use crate::share::{self, ShareError};
use crate::svg::{self, SvgError};
use loftkin_kernel::profile::LONGEST_NAME;
use thiserror::Error;

/// Why nothing could be read.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ImportError {
    /// Bytes that are no UTF-8.
    #[error(
        "this is no text in UTF-8 (byte {at} is not): give a family file, an SVG drawing, a point list or a share link"
    )]
    NotText {
        /// The first offending byte, from 1.
        at: usize,
    },
    /// Nothing but white space.
    #[error("this is empty: give a family file, an SVG drawing, a point list or a share link")]
    Empty,
    /// It looks like a family file.
    #[error("{0}")]
    Json(#[from] JsonError),
    /// It looks like an SVG drawing.
    #[error("{0}")]
    Svg(#[from] SvgError),
    /// It looks like a share link.
    #[error("{0}")]
    Share(#[from] ShareError),
    /// It looks like a point list, or like nothing known.
    #[error("{0}")]
    Points(#[from] PointsError),
}

impl ImportError {
    /// How many profiles are open and how many closed, when that is all that
    /// stands in the way: then [`Reading::take`] chooses.
    pub fn mixed(&self) -> Option<[usize; 2]> {
        match self {
            Self::Svg(SvgError::Take(TakeError::Mixed { open, closed }))
            | Self::Points(PointsError::Take(TakeError::Mixed { open, closed })) => {
                Some([*open, *closed])
            }
            _ => None,
        }
    }
}

/// Reads a family of any kind. `name` is the name of the file, or empty; it
/// names a family that brings no name of its own. `reading` is for point lists,
/// and its choice of open or closed profiles for drawings too.
///
/// # Errors
/// An [`ImportError`] of the kind that the text looks like.
pub fn read(name: &str, bytes: &[u8], reading: Reading) -> Result<Import, ImportError> {
    let text = std::str::from_utf8(bytes).map_err(|error| ImportError::NotText {
        at: error.valid_up_to() + 1,
    })?;
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut import = match text.trim_start().chars().next() {
        None => return Err(ImportError::Empty),
        Some('{' | '[') => family_json::read(text)?,
        Some('<') => svg::read(text, reading.take)?,
        Some(_) if is_share(text) => Import {
            family: share::decode(text)?,
            notes: Vec::new(),
        },
        Some(_) => point_list::read(text, reading)?,
    };
    if import.family.name.is_empty() {
        import.family.name = stem(name);
    }
    Ok(import)
}

/// One word that is a share code or a link with one.
fn is_share(text: &str) -> bool {
    let text = text.trim();
    !text.contains(char::is_whitespace) && share::is_code(text)
}

/// The name of a file without its folder and its last ending.
fn stem(name: &str) -> String {
    let file = name.rsplit(['/', '\\']).next().unwrap_or(name);
    let stem = match file.rsplit_once('.') {
        Some((stem, _)) if !stem.is_empty() => stem,
        _ => file,
    };
    stem.chars().take(LONGEST_NAME).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read_text(name: &str, text: &str) -> Result<Import, ImportError> {
        read(name, text.as_bytes(), Reading::default())
    }

    #[test]
    fn the_content_tells_the_kind() {
        let list = read_text("shore/hoods.v2.txt", "0 0\n50 80\n90 0\n").unwrap();
        assert_eq!(list.family.name, "hoods.v2");
        let json = family_json::write(&list.family);
        assert_eq!(read_text("other.dat", &json).unwrap().family, list.family);
        let code = share::encode(&list.family);
        assert_eq!(
            read_text("", &format!("{code}\n")).unwrap().family,
            list.family
        );
        let drawing = read_text("hoods.svg", &svg::write(&list.family)).unwrap();
        assert_eq!(drawing.family.profiles.len(), 1);
    }

    #[test]
    fn each_kind_refuses_in_its_own_words() {
        assert_eq!(read_text("", " \n"), Err(ImportError::Empty));
        assert_eq!(
            read("", b"0 0\n\xff", Reading::default()),
            Err(ImportError::NotText { at: 5 })
        );
        assert!(matches!(read_text("", "[1]"), Err(ImportError::Json(_))));
        assert!(matches!(read_text("", "<html/>"), Err(ImportError::Svg(_))));
        assert!(matches!(
            read_text("", "loft1.xyz"),
            Err(ImportError::Share(_))
        ));
        assert!(matches!(
            read_text("", "hello"),
            Err(ImportError::Points(_))
        ));
    }
}
