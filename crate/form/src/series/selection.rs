//! Which pieces of a series are made: ranges of numbers, or a choice by
//! chance. Ranges take no memory, however long they are.
//!
//! A selection can grow: the numbers that it has keep their places, and new ones
//! come after them, so that what was made in its order stays where it is.

use loftkin_kernel::quote::quoted;
use num_bigint::BigUint;
use thiserror::Error;

/// Piece numbers, each once; they rise, but for ranges that have grown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Selection {
    /// From the first of each range to its last.
    Ranges(Vec<(BigUint, BigUint)>),
    /// These.
    Chosen(Vec<BigUint>),
}

/// Why numbers select no pieces.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum SelectionError {
    /// Text that is no list of numbers and ranges.
    #[error(
        "“{}” names no pieces: give whole numbers and ranges, as 7,12,40-60",
        quoted(text)
    )]
    Text {
        /// The part that cannot be read.
        text: String,
    },
    /// The number 0.
    #[error("there is no piece 0: numbers start from 1")]
    Zero,
    /// Numbers out of order.
    #[error("the pieces must rise: {} comes too late", quoted(&number.to_string()))]
    NotRising {
        /// The number that is not above the one before it.
        number: BigUint,
    },
    /// A number beyond the series.
    #[error("there is no piece {}: the series counts from 1 to {count}", quoted(&number.to_string()))]
    Beyond {
        /// The number.
        number: BigUint,
        /// How many pieces there are.
        count: BigUint,
    },
    /// Too many.
    #[error("{count} pieces are more than can be made at once: name {most} or fewer")]
    TooMany {
        /// How many were asked for.
        count: BigUint,
        /// How many there may be.
        most: u64,
    },
}

impl Selection {
    /// All pieces of a series of `count`, of which `most` may be made at once.
    ///
    /// # Errors
    /// [`SelectionError::TooMany`].
    pub fn all(count: &BigUint, most: u64) -> Result<Self, SelectionError> {
        if *count == BigUint::ZERO {
            return Ok(Self::Ranges(Vec::new()));
        }
        Self::of_ranges(vec![(BigUint::from(1_u32), count.clone())], count, most)
    }

    /// The pieces that `text` names, of a series of `count`, at most `most`.
    ///
    /// # Errors
    /// The first [`SelectionError`] found.
    pub fn parse(text: &str, count: &BigUint, most: u64) -> Result<Self, SelectionError> {
        // All numbers are whole, so that a comma can only part them.
        let ranges: Result<Vec<_>, _> = text.split([',', ';']).map(range).collect();
        Self::of_ranges(ranges?, count, most)
    }

    /// The pieces that [`Self::text`] tells: as [`Self::parse`], but in any order.
    ///
    /// # Errors
    /// The first [`SelectionError`] found.
    pub fn parse_grown(text: &str, count: &BigUint, most: u64) -> Result<Self, SelectionError> {
        let ranges: Result<Vec<_>, _> = text.split(',').map(range).collect();
        let ranges = ranges?;
        let mut rising = ranges.clone();
        rising.sort();
        Self::of_ranges(rising, count, most)?;
        Ok(Self::Ranges(ranges))
    }

    fn of_ranges(
        ranges: Vec<(BigUint, BigUint)>,
        count: &BigUint,
        most: u64,
    ) -> Result<Self, SelectionError> {
        let mut before = BigUint::ZERO;
        let mut total = BigUint::ZERO;
        for (first, last) in &ranges {
            if *first == BigUint::ZERO {
                return Err(SelectionError::Zero);
            }
            for (number, least) in [(first, &before + 1_u32), (last, first.clone())] {
                if number < &least {
                    let number = number.clone();
                    return Err(SelectionError::NotRising { number });
                }
                if count < number {
                    let (number, count) = (number.clone(), count.clone());
                    return Err(SelectionError::Beyond { number, count });
                }
            }
            total += last - first + 1_u32;
            before = last.clone();
        }
        if BigUint::from(most) < total {
            return Err(SelectionError::TooMany { count: total, most });
        }
        Ok(Self::Ranges(ranges))
    }

    /// How many there are.
    pub fn count(&self) -> u64 {
        match self {
            Self::Ranges(ranges) => ranges.iter().map(length).sum(),
            Self::Chosen(numbers) => numbers.len() as u64,
        }
    }

    /// The numbers of this selection, then those that `wanted` has beside them; none
    /// where `wanted` lacks one of them, or either is a choice by chance.
    pub fn grown(&self, wanted: &Self) -> Option<Self> {
        let (Self::Ranges(here), Self::Ranges(wanted)) = (self, wanted) else {
            return None;
        };
        let mut rising = here.clone();
        rising.sort();
        let mut wanted = wanted.clone();
        wanted.sort();
        let mut rest = rising.iter().peekable();
        let mut grown = here.clone();
        for (first, last) in joined(wanted) {
            let mut from = first;
            while let Some((low, high)) = rest.next_if(|(low, _)| *low <= last) {
                if *low < from || last < *high {
                    return None;
                }
                if from < *low {
                    grown.push((from, low - 1_u32));
                }
                from = high + 1_u32;
            }
            if from <= last {
                grown.push((from, last));
            }
        }
        rest.peek().is_none().then(|| Self::Ranges(joined(grown)))
    }

    /// Ranges as [`Self::parse_grown`] reads them; none of a choice by chance.
    pub fn text(&self) -> Option<String> {
        let Self::Ranges(ranges) = self else {
            return None;
        };
        let words = ranges.iter().map(|(first, last)| {
            if first == last {
                first.to_string()
            } else {
                format!("{first}-{last}")
            }
        });
        Some(words.collect::<Vec<_>>().join(","))
    }

    /// Where `number` stands, from 0; none where it is not selected.
    pub fn index(&self, number: &BigUint) -> Option<u64> {
        match self {
            Self::Chosen(numbers) => Some(numbers.binary_search(number).ok()? as u64),
            Self::Ranges(ranges) => {
                let mut before = 0;
                for range in ranges {
                    if (&range.0..=&range.1).contains(&number) {
                        return Some(before + u64::try_from(number - &range.0).ok()?);
                    }
                    before += length(range);
                }
                None
            }
        }
    }

    /// The number at `index`, from 0; none beyond the last.
    pub fn number(&self, mut index: u64) -> Option<BigUint> {
        match self {
            Self::Chosen(numbers) => numbers.get(index as usize).cloned(),
            Self::Ranges(ranges) => ranges.iter().find_map(|range| {
                let length = length(range);
                if index < length {
                    return Some(&range.0 + index);
                }
                index -= length;
                None
            }),
        }
    }
}

/// Ranges were held to the most of a `u64` when they were made.
fn length((first, last): &(BigUint, BigUint)) -> u64 {
    u64::try_from(last - first + 1_u32).unwrap_or(u64::MAX)
}

/// `ranges` in their order, with those that go on where the one before ends joined
/// to it.
fn joined(ranges: Vec<(BigUint, BigUint)>) -> Vec<(BigUint, BigUint)> {
    let mut joined: Vec<(BigUint, BigUint)> = Vec::with_capacity(ranges.len());
    for (first, last) in ranges {
        match joined.last_mut() {
            Some(before) if &before.1 + 1_u32 == first => before.1 = last,
            _ => joined.push((first, last)),
        }
    }
    joined
}

fn range(text: &str) -> Result<(BigUint, BigUint), SelectionError> {
    let number = |part: &str| part.trim().parse::<BigUint>().ok();
    let ends = match text.split_once('-') {
        Some((first, last)) => number(first).zip(number(last)),
        None => number(text).map(|one| (one.clone(), one)),
    };
    ends.ok_or_else(|| SelectionError::Text {
        text: text.to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(text: &str) -> Result<Selection, SelectionError> {
        Selection::parse(text, &BigUint::from(1000_u32), 500)
    }

    #[test]
    fn numbers_and_ranges_are_counted_through() {
        let selection = of("7,12,40-43").unwrap();
        assert_eq!(selection.count(), 6);
        let all: Vec<String> = (0..)
            .map_while(|index| selection.number(index))
            .map(|number| number.to_string())
            .collect();
        assert_eq!(all, ["7", "12", "40", "41", "42", "43"]);
    }

    #[test]
    fn what_names_no_pieces_is_refused() {
        for text in ["", "a", "1-", "1,,2", "-3"] {
            assert!(
                matches!(of(text), Err(SelectionError::Text { .. })),
                "{text}"
            );
        }
        for text in ["0", "0-3", "2,0"] {
            assert_eq!(of(text), Err(SelectionError::Zero), "{text}");
        }
        for text in ["5-4", "7,7", "9,3"] {
            assert!(
                matches!(of(text), Err(SelectionError::NotRising { .. })),
                "{text}"
            );
        }
        assert!(matches!(of("990-1001"), Err(SelectionError::Beyond { .. })));
        let many = BigUint::from(8_u32).pow(24);
        assert!(matches!(
            Selection::all(&many, u64::MAX),
            Err(SelectionError::TooMany { .. })
        ));
        let told = of("1-501").unwrap_err().to_string();
        assert!(told.contains("501") && told.contains("500"), "{told}");
        assert_eq!(Selection::all(&BigUint::ZERO, 1).unwrap().count(), 0);
    }

    fn grown(here: &str, wanted: &str) -> Option<String> {
        let count = BigUint::from(1000_u32);
        let here = Selection::parse_grown(here, &count, 500).unwrap();
        here.grown(&of(wanted).unwrap())?.text()
    }

    #[test]
    fn what_grows_keeps_the_places_that_it_has() {
        for (here, wanted, expected) in [
            ("1-12", "1-13", Some("1-13")),
            ("5-10", "1-12", Some("5-10,1-4,11-12")),
            ("5-10,1-4", "1-10", Some("5-10,1-4")),
            ("5-10,1-4", "1-12", Some("5-10,1-4,11-12")),
            ("7,9", "6-7,9,20", Some("7,9,6,20")),
            ("1-4", "1-2,3-9", Some("1-9")),
            ("1-12", "1-11", None),
            ("1-12", "2-20", None),
            ("3,8", "3-7,9", None),
            ("8", "3", None),
        ] {
            let grown = grown(here, wanted);
            assert_eq!(grown.as_deref(), expected, "{here} to {wanted}");
        }
        let chosen = Selection::Chosen(vec![BigUint::from(4_u32)]);
        assert_eq!(chosen.grown(&of("1-9").unwrap()), None);
    }

    #[test]
    fn every_number_is_found_at_its_place() {
        let count = BigUint::from(1000_u32);
        let ranges = Selection::parse_grown("5-10,1-3,40", &count, 500).unwrap();
        let chosen = Selection::Chosen([3_u32, 8, 20].map(BigUint::from).to_vec());
        for selection in [ranges, chosen] {
            for index in 0..selection.count() {
                let number = selection.number(index).unwrap();
                assert_eq!(selection.index(&number), Some(index));
            }
            assert_eq!(selection.index(&BigUint::from(4_u32)), None);
        }
        for twice in ["5-10,8", "4,4", "3-6,1-3"] {
            assert!(
                Selection::parse_grown(twice, &count, 500).is_err(),
                "{twice}"
            );
        }
    }
}
