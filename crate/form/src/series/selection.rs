//! Which pieces of a series are made: ranges of numbers, or a choice by
//! chance. Ranges take no memory, however long they are.

use num_bigint::BigUint;
use thiserror::Error;

/// Piece numbers, rising, each once.
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
    #[error("“{text}” names no pieces: give numbers and ranges, as 7,12,40-60")]
    Text {
        /// The part that cannot be read.
        text: String,
    },
    /// The number 0.
    #[error("there is no piece 0: numbers start from 1")]
    Zero,
    /// Numbers out of order.
    #[error("the pieces must rise: {number} comes too late")]
    NotRising {
        /// The number that is not above the one before it.
        number: BigUint,
    },
    /// A number beyond the series.
    #[error("there is no piece {number}: the series counts from 1 to {count}")]
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
        let ranges: Result<Vec<_>, _> = text.split(',').map(range).collect();
        Self::of_ranges(ranges?, count, most)
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
}
