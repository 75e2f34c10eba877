//! What every making check has in common: a value at each place of the skin, a
//! limit that the person sets, the worst value with its place, the formula with
//! its source.

use crate::body::cells::{Cell, Sampler, cells};
use crate::piece::{Patch, Piece};
use nalgebra::{Point3, Vector3};

/// Samples along and across a cell.
const STEPS: usize = 4;
/// Ends of a cell are sampled this far inside it, as a share of its width, so
/// that each side of a joint speaks for itself.
const INSET: f64 = 1e-9;
/// Halvings of the step when the worst place is sharpened.
const HALVINGS: u32 = 24;
/// Moves of that search: along a ridge that runs aslant it could creep for long.
const MOST_MOVES: u32 = 400;

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
    /// The limit is kept everywhere: proved.
    Proved,
    /// The limit is broken at the place named: checked there.
    Checked,
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
    /// Its unit.
    fn unit(&self) -> Unit;
    /// How it is worked out, and from where.
    fn formula(&self) -> Formula;
}

/// What a check found on a piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Report {
    /// The worst value found; not a number when the check has none anywhere, and
    /// then it does not pass.
    pub worst: f64,
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

/// Looks for the worst value of each check: samples of every cell, the worst of
/// them sharpened within its cell. Sampled, so not proved to be the worst.
pub fn examine(piece: &Piece, checks: &[&dyn Check]) -> Vec<Report> {
    let outward = piece.outward();
    let mut sampler = Sampler::new(piece);
    let fitted: Vec<_> = checks.iter().map(|check| check.fitted(piece)).collect();
    let ready = checks.iter().zip(&fitted);
    let ready = ready.map(|(check, fitted)| fitted.as_deref().unwrap_or(*check));
    let mut worst: Vec<Worst> = ready.map(Worst::new).collect();
    let mut places = 0;
    for cell in cells(piece) {
        sampler.visit(even(cell.along), even(cell.across), |sample| {
            places += 1;
            let spot = Spot::new(sample.patch, outward);
            for worst in &mut worst {
                worst.see(&spot, (sample.along, sample.across), cell);
            }
        });
    }
    worst
        .into_iter()
        .map(|mut worst| {
            worst.sharpen(piece, outward);
            worst.report(places)
        })
        .collect()
}

/// Even places of an interval, its ends just inside; without weight.
fn even((from, to): (f64, f64)) -> impl Iterator<Item = (f64, f64)> {
    (0..STEPS).map(move |k| {
        let t = (k as f64 / (STEPS - 1) as f64).clamp(INSET, 1.0 - INSET);
        (from + (to - from) * t, 0.0)
    })
}

struct Worst<'a> {
    check: &'a dyn Check,
    value: f64,
    /// Whether the check has a value somewhere.
    has_value: bool,
    at: Option<((f64, f64), Cell, Point3<f64>)>,
}

impl<'a> Worst<'a> {
    fn new(check: &'a dyn Check) -> Self {
        Self {
            check,
            value: check.limit().best(),
            has_value: false,
            at: None,
        }
    }

    fn see(&mut self, spot: &Spot, at: (f64, f64), cell: Cell) -> bool {
        let value = self.check.value(spot);
        self.has_value |= !value.is_nan();
        let is_worse = self.check.limit().is_worse(value, self.value);
        if is_worse {
            self.value = value;
            self.at = Some((at, cell, spot.patch.point));
        }
        is_worse
    }

    /// Steps to the worst neighbour, halving the step when there is none.
    fn sharpen(&mut self, piece: &Piece, outward: f64) {
        let Some((mut at, cell, _)) = self.at else {
            return;
        };
        let (width, height) = (cell.along.1 - cell.along.0, cell.across.1 - cell.across.0);
        let within = |x: f64, (from, to): (f64, f64)| {
            let inset = INSET * (to - from);
            x.clamp(from + inset, to - inset)
        };
        let mut step = 0.5 / (STEPS - 1) as f64;
        let (mut halvings, mut moves) = (0, 0);
        while halvings < HALVINGS && moves < MOST_MOVES {
            let better = [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)]
                .into_iter()
                .find_map(|(x, y)| {
                    let next = (
                        within(at.0 + x * step * width, cell.along),
                        within(at.1 + y * step * height, cell.across),
                    );
                    let spot = Spot::new(piece.patch(next.0, next.1), outward);
                    self.see(&spot, next, cell).then_some(next)
                });
            match better {
                Some(next) => {
                    at = next;
                    moves += 1;
                }
                None => {
                    step *= 0.5;
                    halvings += 1;
                }
            }
        }
    }

    fn report(&self, places: usize) -> Report {
        let limit = self.check.limit();
        let worst = if self.has_value { self.value } else { f64::NAN };
        let passes = limit.admits(worst);
        Report {
            worst,
            place: self.at.map(|((along, across), _, point)| Place {
                along,
                across,
                point,
            }),
            limit,
            passes,
            basis: if passes || !self.has_value {
                Basis::Sampled { places }
            } else {
                Basis::Checked
            },
        }
    }
}
