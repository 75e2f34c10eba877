//! A counted series of one family, asked for its pieces.

use super::wish::SeriesWish;
use loftkin_exchange::series::SeriesPlan;
use loftkin_exchange::series::words;
use loftkin_form::blend::LayoutError;
use loftkin_form::piece::{Arrangement, Piece, PieceError, judged_curves};
use loftkin_form::series::selection::SelectionError;
use loftkin_form::series::symmetry::NotAlike;
use loftkin_form::series::walks::NumberError;
use loftkin_form::series::{Series, SeriesError};
use loftkin_kernel::family::{Family, FamilyError};
use loftkin_kernel::quote::quoted;
use loftkin_kernel::table::Table;
use num_bigint::BigUint;
use serde::Serialize;
use thiserror::Error;

/// The most pieces of one choice.
pub const MOST_CHOSEN: usize = 10_000;

/// Why there is no such series or piece.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum SeriesFailure {
    /// The family cannot be judged.
    #[error(transparent)]
    Family(#[from] FamilyError),
    /// Stations or blend.
    #[error(transparent)]
    Layout(#[from] LayoutError),
    /// Rules, or a series too large to count.
    #[error(transparent)]
    Series(#[from] SeriesError),
    /// Text that is no number.
    #[error(
        "“{}” is no piece number: give a whole number from 1 to {count}",
        quoted(text)
    )]
    NoNumber {
        /// What was given.
        text: String,
        /// How many pieces there are.
        count: BigUint,
    },
    /// No such piece.
    #[error(transparent)]
    Number(#[from] NumberError),
    /// Numbers that name no pieces.
    #[error(transparent)]
    Selection(#[from] SelectionError),
    /// A piece that cannot be formed.
    #[error(transparent)]
    Piece(#[from] PieceError),
    /// A limit of the workshop that is none.
    #[error("the {limit} must be above 0")]
    Limit {
        /// Which one.
        limit: &'static str,
    },
    /// A length of the workshop that is none.
    #[error("the {length} must be 0 mm or more")]
    Length {
        /// Which one.
        length: &'static str,
    },
    /// A direction that is none.
    #[error("the {direction} has no length: give x, y and z that are not all 0")]
    Direction {
        /// Which one.
        direction: &'static str,
    },
    /// A skin that faces nowhere.
    #[error("the skin of this piece faces nowhere: it has no area")]
    NoNormal,
    /// A check that there is not.
    #[error("checks are draft, cutter, scallop, bend, thinning, pressure and offset, not “{0}”")]
    Check(String),
    /// More than one choice may hold.
    #[error("a choice of {wanted} pieces: choose 1 to 10 000")]
    Chosen {
        /// How many were asked for.
        wanted: usize,
    },
}

/// How many pieces there are. Counts are decimal text, for they pass all numbers
/// that a page can hold.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct CountMessage {
    /// All of them.
    pub count: String,
    /// Up to turning, of a ring whose stations are alike.
    pub turning: Option<String>,
    /// Up to turning and mirroring.
    pub mirroring: Option<String>,
    /// Why a ring is not counted up to turning; may be empty.
    pub apart: String,
    /// Why there is no piece, if there is none.
    pub empty: Option<String>,
    /// What the count stands on.
    pub grounds: String,
}

/// One piece.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PieceMessage {
    /// From 1, decimal.
    pub number: String,
    /// The profile at each station, from 0.
    pub arrangement: Vec<usize>,
}

/// A counted series.
pub struct SeriesSession {
    pub(super) plan: SeriesPlan,
    pub(super) table: Table,
    pub(super) series: Series,
}

impl SeriesSession {
    /// Judges `family` and counts its pieces over the stations of `wish`.
    ///
    /// # Errors
    /// [`SeriesFailure`].
    pub fn new(family: Family, wish: &SeriesWish) -> Result<Self, SeriesFailure> {
        let table = Table::new(family)?;
        let plan = wish.plan(None);
        let series = Series::new(&table, plan.layout()?, &plan.rules())?;
        Ok(Self {
            plan,
            table,
            series,
        })
    }

    /// How many pieces there are.
    pub fn count(&self) -> CountMessage {
        let symmetry = self.series.up_to_symmetry();
        let apart = match &symmetry {
            Ok(_) | Err(NotAlike::NotAllRound) => String::new(),
            Err(error) => error.to_string(),
        };
        let symmetry = symmetry.ok();
        CountMessage {
            count: self.series.count().to_string(),
            turning: symmetry.as_ref().map(|by| by.turning.to_string()),
            mirroring: symmetry.map(|by| by.mirroring.to_string()),
            apart,
            empty: self.series.emptiness().map(|reason| reason.to_string()),
            grounds: words::grounds(&self.series).to_owned(),
        }
    }

    /// The piece of a number that a person wrote.
    ///
    /// # Errors
    /// [`SeriesFailure::NoNumber`] and [`SeriesFailure::Number`].
    pub fn piece(&self, number: &str) -> Result<PieceMessage, SeriesFailure> {
        let number = self.number_in(number)?;
        Ok(message(&number, self.series.arrangement(&number)?))
    }

    /// The piece of an arrangement.
    ///
    /// # Errors
    /// [`SeriesFailure::Number`]: it is no piece, and where that shows.
    pub fn piece_of(&self, arrangement: Vec<usize>) -> Result<PieceMessage, SeriesFailure> {
        let arrangement = Arrangement(arrangement);
        let number = self.series.number(&arrangement)?;
        Ok(message(&number, arrangement))
    }

    /// Some pieces by chance, ascending; the same from one seed everywhere.
    ///
    /// # Errors
    /// [`SeriesFailure::Chosen`].
    pub fn choose(&self, seed: u64, wanted: usize) -> Result<Vec<PieceMessage>, SeriesFailure> {
        if !(1..=MOST_CHOSEN).contains(&wanted) {
            return Err(SeriesFailure::Chosen { wanted });
        }
        let numbers = self.series.choose(seed, wanted);
        let pieces = numbers
            .iter()
            .map(|number| Ok(message(number, self.series.arrangement(number)?)));
        pieces.collect()
    }

    pub(super) fn number_in(&self, text: &str) -> Result<BigUint, SeriesFailure> {
        let digits: String = text.split_whitespace().collect();
        digits.parse().map_err(|_| SeriesFailure::NoNumber {
            text: text.trim().to_owned(),
            count: self.series.count().clone(),
        })
    }

    pub(super) fn form(&self, number: &BigUint) -> Result<Piece, SeriesFailure> {
        let arrangement = self.series.arrangement(number)?;
        Ok(Piece::new(
            &judged_curves(&self.table),
            self.series.layout(),
            arrangement,
        )?)
    }
}

fn message(number: &BigUint, arrangement: Arrangement) -> PieceMessage {
    PieceMessage {
        number: number.to_string(),
        arrangement: arrangement.0,
    }
}
