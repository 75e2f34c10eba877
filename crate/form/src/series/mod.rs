//! The series: all pieces that a family yields over given stations.
//!
//! In reading order: [`rules`] (what a person asks of arrangements),
//! [`standing`] (which profiles may stand where, and which beside each other, by
//! proof), [`grammar`] (what counting needs of that), [`walks`] (counting and numbering by transfer matrix), [`symmetry`]
//! (rings up to turning and mirroring), [`choice`] (some pieces by chance),
//! [`selection`] (which pieces are made), [`empty`] (why there is none).

pub mod choice;
pub mod empty;
pub mod grammar;
pub mod rules;
pub mod selection;
pub mod standing;
pub mod symmetry;
pub mod walks;

use crate::blend::{Layout, LayoutError};
use crate::piece::Arrangement;
use empty::Empty;
use loftkin_kernel::table::Table;
use num_bigint::BigUint;
use rules::{Rules, RulesError};
use standing::{Grounds, Standing};
use symmetry::{NotAlike, Symmetry};
use thiserror::Error;
use walks::{NumberError, TooLarge, Walks};

/// All arrangements over a layout that are proved and keep the rules.
///
/// The number of a piece counts from 1, in the order of the arrangements read as
/// words (first station first, profiles in the order of the family). It stays
/// the same while family, layout and rules do.
#[derive(Clone, Debug)]
pub struct Series {
    layout: Layout,
    standing: Standing,
    walks: Walks,
}

/// Why there is no series.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum SeriesError {
    /// Stations or blend do not suit the profiles.
    #[error(transparent)]
    Layout(#[from] LayoutError),
    /// Rules that cannot be kept.
    #[error(transparent)]
    Rules(#[from] RulesError),
    /// More than can be counted.
    #[error(transparent)]
    TooLarge(#[from] TooLarge),
}

impl Series {
    /// The series of the family judged by `table`.
    ///
    /// # Errors
    /// [`SeriesError`]. A series without any piece is no error: its count is 0
    /// and [`Self::emptiness`] says why.
    pub fn new(table: &Table, layout: Layout, rules: &Rules) -> Result<Self, SeriesError> {
        let closed = table.family().profiles.first();
        let closed = closed.is_some_and(|profile| profile.closed);
        layout
            .stations()
            .suit(closed)
            .map_err(LayoutError::Stations)?;
        rules.validate(layout.stations().count(), table.size())?;
        let standing = Standing::new(table, &layout, rules)?;
        let walks = Walks::new(standing.grammar().clone())?;
        Ok(Self {
            layout,
            standing,
            walks,
        })
    }

    /// Where profiles stand and how they are joined.
    pub fn layout(&self) -> &Layout {
        &self.layout
    }

    /// Which profiles may stand where, and beside which.
    pub fn standing(&self) -> &Standing {
        &self.standing
    }

    /// How many pieces there are.
    pub fn count(&self) -> &BigUint {
        self.walks.count()
    }

    /// Why there is no piece, when there is none.
    pub fn emptiness(&self) -> Option<Empty> {
        let is_empty = *self.count() == BigUint::ZERO;
        is_empty.then(|| empty::reason(self.standing.grammar()))
    }

    /// The arrangement of piece `number`, from 1.
    ///
    /// # Errors
    /// [`NumberError::OutOfRange`].
    pub fn arrangement(&self, number: &BigUint) -> Result<Arrangement, NumberError> {
        self.walks.arrangement(number)
    }

    /// The number of the piece of `arrangement`, from 1.
    ///
    /// # Errors
    /// [`NumberError`]: it is no piece of this series, and where that shows.
    pub fn number(&self, arrangement: &Arrangement) -> Result<BigUint, NumberError> {
        self.walks.number(arrangement)
    }

    /// How many pieces of a closed ring differ when turning it, and mirroring
    /// it too, makes no difference.
    ///
    /// # Errors
    /// [`NotAlike`]: why turning makes another piece here.
    pub fn up_to_symmetry(&self) -> Result<Symmetry, NotAlike> {
        symmetry::of(&self.layout, self.standing.grammar())
    }

    /// How far every control point of the piece of `arrangement` may move, in mm at
    /// its own scale, with the proof still standing; `of_pair` gives the margin of
    /// two profiles in the drawing. Only for stacks where joints of two unturned
    /// stations carry the proof, and every pair has a margin above 0: the margin of
    /// a pair says nothing of the axis of a ring. A move in space is one by 1/scale
    /// in the drawing.
    pub fn margin(
        &self,
        arrangement: &Arrangement,
        of_pair: impl Fn(usize, usize) -> Option<f64>,
    ) -> Option<f64> {
        let stations = self.layout.stations();
        let turned = stations.all().iter().any(|station| station.turn != 0.0);
        if turned || stations.is_ring() || self.standing.grounds() != Grounds::Pairs {
            return None;
        }
        let mut least = f64::INFINITY;
        for joint in 0..stations.joint_count() {
            let (low, high) = stations.beside(joint);
            let scale = stations.all()[low].scale.min(stations.all()[high].scale);
            let margin = of_pair(arrangement.0[low], arrangement.0[high])?;
            least = least.min(margin * scale);
        }
        (0.0 < least).then_some(least)
    }

    /// `wanted` distinct piece numbers by chance from `seed`, ascending; all of
    /// them when there are no more. The same on every machine.
    pub fn choose(&self, seed: u64, wanted: usize) -> Vec<BigUint> {
        choice::distinct_numbers(seed, wanted, self.count())
    }
}
