//! Numbers as people type them, one or a list of them.
//!
//! Comma and point are decimal marks alike, everywhere; thousands take no mark.
//! So "112,5" is never 1125 and "0,8" never 8: what could be meant in two ways
//! is refused in words. www/page/figure.js reads the same in the page, and
//! tests/numbers.json holds both to one table of cases. Numbers in JSON and SVG
//! follow the grammar of these formats instead.

use loftkin_kernel::quote::{MOST_CHARACTERS, quoted};
use thiserror::Error;

/// Why a text is no number or no list of numbers, and what would be right.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum NumberError {
    /// Nothing but white space.
    #[error("no number is given: give one, as 112.5 or 112,5")]
    Nothing,
    /// Two marks or more: thousands, or a list where one number belongs.
    #[error("“{text}” has a second decimal mark: write thousands without one, as 1234,5")]
    SecondMark {
        /// What was given, as it may be quoted.
        text: String,
    },
    /// An exponent.
    #[error("“{text}” has an exponent: write all digits, as 2500 or 0,0025")]
    Exponent {
        /// What was given, as it may be quoted.
        text: String,
    },
    /// Letters, a unit, spaces between digits, or no digit at all.
    #[error("“{text}” is no number: give digits with at most one decimal mark, as 112.5 or 112,5")]
    Other {
        /// What was given, as it may be quoted.
        text: String,
    },
    /// More digits than a refusal could quote whole, should it come to one.
    #[error("“{text}” has too many digits: give 40 at most")]
    TooLong {
        /// What was given, as it may be quoted.
        text: String,
    },
    /// Commas that may part entries or decimals.
    #[error("“{text}” can be read in two ways: put semicolons between the entries, as 0,5;90,5")]
    TwoWays {
        /// What was given, as it may be quoted.
        text: String,
    },
    /// No whole number.
    #[error("“{text}” is no whole number: give digits only, as 24")]
    NotWhole {
        /// What was given, as it may be quoted.
        text: String,
    },
}

/// The number that `text` is: a sign if any, digits, and at most one decimal
/// mark, a comma or a point. White space around it does not matter.
///
/// # Errors
/// [`NumberError`].
pub fn number(text: &str) -> Result<f64, NumberError> {
    let text = text.trim();
    let digits = text.strip_prefix(['+', '-', '−']).unwrap_or(text);
    let is_mark = |c: char| c == '.' || c == ',';
    let marks = digits.matches(is_mark).count();
    let quote = || quoted(text);
    if text.is_empty() {
        return Err(NumberError::Nothing);
    }
    if !digits.contains(|c: char| c.is_ascii_digit()) {
        return Err(NumberError::Other { text: quote() });
    }
    if !digits.chars().all(|c| is_mark(c) || c.is_ascii_digit()) {
        return Err(match has_exponent(digits) {
            true => NumberError::Exponent { text: quote() },
            false => NumberError::Other { text: quote() },
        });
    }
    if 1 < marks {
        return Err(NumberError::SecondMark { text: quote() });
    }
    if MOST_CHARACTERS < digits.len() {
        return Err(NumberError::TooLong { text: quote() });
    }
    // Digits with one mark are a number to the parser.
    let size = digits.replace(',', ".").parse().unwrap_or(f64::NAN);
    Ok(match text.starts_with(['-', '−']) {
        true => -size,
        false => size,
    })
}

/// Whether `text` is a number but for an exponent: "1e5", "2,5E-3".
fn has_exponent(text: &str) -> bool {
    text.split_once(['e', 'E']).is_some_and(|(size, power)| {
        let power = power.strip_prefix(['+', '-', '−']).unwrap_or(power);
        number(size).is_ok() && !power.is_empty() && power.bytes().all(|b| b.is_ascii_digit())
    })
}

/// The entries of a list. Semicolons part them, or else white space, and then a
/// comma is a decimal mark; a list with neither is parted by its commas. Commas
/// with white space behind them part a list too, as long as no other comma
/// stands in it.
///
/// # Errors
/// [`NumberError::Nothing`] and [`NumberError::TwoWays`]. What entries hold is
/// not looked at.
pub fn entries(text: &str) -> Result<Vec<&str>, NumberError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(NumberError::Nothing);
    }
    if text.contains(';') {
        return Ok(text.split(';').map(str::trim).collect());
    }
    let words: Vec<&str> = text.split_whitespace().collect();
    let loose = |word: &&str| word.starts_with(',') || word.ends_with(',');
    if words.len() < 2 {
        return Ok(text.split(',').collect());
    }
    if !words.iter().any(loose) {
        return Ok(words);
    }
    let unclear = |word: &&str| *word != "," && word.trim_end_matches(',').contains(',');
    if words.iter().any(unclear) {
        let text = quoted(text);
        return Err(NumberError::TwoWays { text });
    }
    Ok(text.split(',').map(str::trim).collect())
}

/// The numbers of a list, as [`entries`] parts it.
///
/// # Errors
/// The first [`NumberError`] found.
pub fn numbers(text: &str) -> Result<Vec<f64>, NumberError> {
    entries(text)?.into_iter().map(number).collect()
}

/// The whole number that `text` is: digits only.
///
/// # Errors
/// [`NumberError::Nothing`], [`NumberError::NotWhole`] and, beyond 64 bits,
/// [`NumberError::TooLong`].
pub fn whole(text: &str) -> Result<u64, NumberError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(NumberError::Nothing);
    }
    let quote = || quoted(text);
    if !text.bytes().all(|byte| byte.is_ascii_digit()) {
        return Err(NumberError::NotWhole { text: quote() });
    }
    let read = text.parse();
    read.map_err(|_| NumberError::TooLong { text: quote() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::Value;

    /// Every case of the table that the page is held to as well.
    #[test]
    fn numbers_are_read_as_the_table_says() {
        let table = include_str!("../tests/numbers.json");
        let cases: Vec<Value> = serde_json::from_str(table).unwrap();
        assert!(30 < cases.len());
        for case in cases {
            let text = case["text"].as_str().unwrap();
            let read = number(text).map_err(|error| error.to_string());
            let expected = match case["refused"].as_str() {
                Some(words) => Err(words.to_owned()),
                None => Ok(case["value"].as_f64().unwrap()),
            };
            assert_eq!(read, expected, "{text:?}");
        }
    }

    #[test]
    fn lists_are_parted_by_semicolons_or_white_space_or_else_by_commas() {
        for (text, expected) in [
            ("0,90,180", &[0.0, 90.0, 180.0][..]),
            ("-10,20", &[-10.0, 20.0]),
            ("0,5 90,5", &[0.5, 90.5]),
            ("0,5;90,5", &[0.5, 90.5]),
            (" 0,5 ; 90.5;7 ", &[0.5, 90.5, 7.0]),
            ("0,5\t90,5\n180", &[0.5, 90.5, 180.0]),
            ("0, 90, 180", &[0.0, 90.0, 180.0]),
            ("0 , 90.5 , 180", &[0.0, 90.5, 180.0]),
            ("0.5,90.5", &[0.5, 90.5]),
            ("0,8", &[0.0, 8.0]),
            ("12.5", &[12.5]),
        ] {
            assert_eq!(numbers(text).unwrap(), expected, "{text:?}");
        }
    }

    #[test]
    fn lists_that_can_be_read_in_two_ways_are_refused() {
        for text in ["0, 90,180", "0 ,5 ,7", "0,5, 90,5", ",5 ,7", "1, 2,5"] {
            let error = numbers(text).unwrap_err();
            assert!(
                matches!(error, NumberError::TwoWays { .. }),
                "{text}: {error}"
            );
        }
        for text in ["", " ", "0,,90", "0;;90", "0,90,", "0,8;"] {
            assert_eq!(numbers(text), Err(NumberError::Nothing), "{text}");
        }
        for text in ["0 1;2", "1.5.2,3", "1e5,2", "0,x"] {
            assert!(numbers(text).is_err(), "{text}");
        }
    }

    #[test]
    fn whole_numbers_are_digits() {
        assert_eq!(whole(" 24 "), Ok(24));
        for text in ["", "1.0", "1,000", "-1", "+1", "1e3", "٣", &"9".repeat(30)] {
            assert!(whole(text).is_err(), "{text}");
        }
    }
}
