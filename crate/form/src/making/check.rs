//! What every making check has in common: a value at each place of the skin, a
//! limit that the person sets, the worst value with its place, the formula with
//! its source.

use super::hull::Part;
use crate::piece::{Patch, Piece};
use nalgebra::{Point3, Vector3};

/// Which way a value is good.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sense {
    /// At least the limit.
    AtLeast,
    /// At most the limit.
    AtMost,
}

/// A limit that the person sets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// In the unit of the check.
    pub value: f64,
    /// Which way it binds.
    pub sense: Sense,
}

impl Limit {
    /// At least `value`.
    pub const fn at_least(value: f64) -> Self {
        let sense = Sense::AtLeast;
        Self { value, sense }
    }

    /// At most `value`.
    pub const fn at_most(value: f64) -> Self {
        let sense = Sense::AtMost;
        Self { value, sense }
    }

    /// Whether `value` keeps the limit.
    pub fn admits(&self, value: f64) -> bool {
        match self.sense {
            Sense::AtLeast => self.value <= value,
            Sense::AtMost => value <= self.value,
        }
    }

    /// Whether `one` is worse than `other`.
    pub fn is_worse(&self, one: f64, other: f64) -> bool {
        match self.sense {
            Sense::AtLeast => one < other,
            Sense::AtMost => other < one,
        }
    }

    /// A value better than every other.
    pub fn best(&self) -> f64 {
        match self.sense {
            Sense::AtLeast => f64::INFINITY,
            Sense::AtMost => f64::NEG_INFINITY,
        }
    }
}

/// The unit of a check's value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    /// Degrees.
    Degree,
    /// Millimetres.
    Millimetre,
    /// MPa.
    Megapascal,
    /// A ratio.
    Ratio,
}

/// How a formula is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Provenance {
    /// Read in the source named.
    Published,
    /// Follows from geometry or statics, or was derived again.
    Derived,
    /// From memory: confirm it before relying on it.
    Memory,
    /// Common practice of the trade, without a source.
    CommonPractice,
}

/// A formula with its source, as data for help and reports.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Formula {
    /// What is worked out and how, in words and signs.
    pub text: &'static str,
    /// Where it comes from.
    pub source: &'static str,
    /// How it is known.
    pub provenance: Provenance,
    /// What it leaves out, and what can hurt.
    pub caution: &'static str,
}

/// What a report is worth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// The limit is kept everywhere: proved by a bound that holds between samples too.
    Proved,
    /// The limit is broken at the place named: checked there.
    Checked,
    /// The bound breaks the limit, no place that was looked at does: it is not known
    /// to be kept, so the check does not pass.
    Open,
    /// Looked at in so many places; between them it may be worse.
    Sampled {
        /// How many.
        places: usize,
    },
}

/// A place on the skin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Fraction along.
    pub along: f64,
    /// Fraction across.
    pub across: f64,
    /// In space, mm.
    pub point: Point3<f64>,
}

/// The skin at one place, as checks see it.
#[derive(Clone, Copy, Debug)]
pub struct Spot {
    /// Point and derivatives.
    pub patch: Patch,
    /// The unit normal, outward (see [`Piece::outward`]).
    pub normal: Vector3<f64>,
    /// The sign of S_u × S_v against the normal.
    pub outward: f64,
}

impl Spot {
    /// The spot of `patch`; its normal is not a number at a singular point.
    pub fn new(patch: Patch, outward: f64) -> Self {
        let cross = patch.cross();
        let length = cross.norm();
        Self {
            patch,
            normal: cross * (outward / length),
            outward,
        }
    }

    /// The principal curvatures in 1/mm, the larger first, positive where the
    /// skin is hollow seen from outside.
    pub fn hollows(&self) -> (f64, f64) {
        let (larger, smaller) = self.patch.principal_curvatures();
        if self.outward < 0.0 {
            (-smaller, -larger)
        } else {
            (larger, smaller)
        }
    }
}

/// A making check.
pub trait Check {
    /// The value at a place: the map that is drawn on the skin. Not a number where
    /// there is none.
    fn value(&self, spot: &Spot) -> f64;
    /// The check made ready for `piece`, where a value depends on the whole of it.
    fn fitted(&self, piece: &Piece) -> Option<Box<dyn Check>> {
        let _ = piece;
        None
    }
    /// The limit set for it.
    fn limit(&self) -> Limit;
    /// A value that none on `part` is worse than; none when there is no bound, and
    /// what is found is as good as its samples.
    fn bound(&self, part: &Part) -> Option<f64> {
        let _ = part;
        None
    }
    /// Its unit.
    fn unit(&self) -> Unit;
    /// How it is worked out, and from where.
    fn formula(&self) -> Formula;
}

/// What a check found on a piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Report {
    /// No value is worse: bounded to [`super::worst::TOLERANCE`] on the safe side,
    /// unless the basis says that it was sampled. Not a number when the check has none
    /// anywhere, and then it does not pass.
    pub worst: f64,
    /// The worst value found at a place.
    pub found: f64,
    /// Where; none without a value, or with none worse than the best.
    pub place: Option<Place>,
    /// The limit.
    pub limit: Limit,
    /// Whether the worst value keeps it.
    pub passes: bool,
    /// What that is worth.
    pub basis: Basis,
}

/// The value of `check` at fractions `u`, `v`.
pub fn value_at(piece: &Piece, check: &dyn Check, u: f64, v: f64) -> f64 {
    values(piece, check, [(u, v)])[0]
}

/// The values of `check` at many places `(u, v)`: a check that is fitted to the
/// piece is fitted once.
pub fn values(
    piece: &Piece,
    check: &dyn Check,
    places: impl IntoIterator<Item = (f64, f64)>,
) -> Vec<f64> {
    let fitted = check.fitted(piece);
    let check = fitted.as_deref().unwrap_or(check);
    let outward = piece.outward();
    let places = places.into_iter();
    places
        .map(|(u, v)| check.value(&Spot::new(piece.patch(u, v), outward)))
        .collect()
}
