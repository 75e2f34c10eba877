//! The worst value of a check on a piece: samples of every cell, the worst of them
//! sharpened, then bounds on parts of the skin, the part with the worst bound cut
//! first, until bound and sample agree. What is told is the bound: between samples
//! no value is worse.

use super::check::{Basis, Check, Limit, Place, Report, Sense, Spot, Unit};
use super::hull::{Part, parts};
use crate::body::cells::{Cell, Sampler, cells};
use crate::piece::Piece;
use nalgebra::Point3;
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// How far the value told may be from the worst there is, as a share of it; of
/// angles see [`DEGREES`].
pub const TOLERANCE: f64 = 0.01;
/// The same for angles, degrees.
pub const DEGREES: f64 = 0.02;
/// The least tolerance of lengths, pressures and ratios in their units.
const LEAST: f64 = 1e-4;
/// A value so many times as good as its limit need not be told more narrowly.
const FAR: f64 = 100.0;
/// Cuts of parts for one check on one piece.
const MOST_CUTS: usize = 4000;
/// Parts smaller than this (mm) are not cut: the skin is singular there, or so
/// nearly that no bound is to be had.
const SMALLEST: f64 = 1e-3;
/// Samples along and across a cell.
const STEPS: usize = 4;
/// Ends of a cell are sampled this far inside it, as a share of its width, so
/// that each side of a joint speaks for itself.
const INSET: f64 = 1e-9;
/// Halvings of the step when the worst place is sharpened.
const HALVINGS: u32 = 24;
/// Moves of that search: along a ridge that runs aslant it could creep for long.
const MOST_MOVES: u32 = 400;

/// The worst value of each check, bounded where the check has a bound.
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
    let parts = parts(piece);
    worst
        .into_iter()
        .map(|mut worst| {
            worst.sharpen(piece, outward);
            let bound = worst.bounded(piece, outward, &parts);
            worst.report(bound, places)
        })
        .collect()
}

/// A part of the skin with the bound of a check, worst first.
struct Bounded<'a> {
    /// The larger, the worse.
    key: f64,
    bound: f64,
    part: Held<'a>,
}

/// A part of the whole skin, or one that was cut from it.
enum Held<'a> {
    Whole(&'a Part),
    Cut(Box<Part>),
}

impl Held<'_> {
    fn get(&self) -> &Part {
        match self {
            Self::Whole(part) => part,
            Self::Cut(part) => part,
        }
    }
}

impl PartialEq for Bounded<'_> {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Bounded<'_> {}

impl PartialOrd for Bounded<'_> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Bounded<'_> {
    fn cmp(&self, other: &Self) -> Ordering {
        self.key.total_cmp(&other.key)
    }
}

/// How bad a value is: the larger, the worse.
fn badness(limit: &Limit, value: f64) -> f64 {
    match limit.sense {
        Sense::AtLeast => -value,
        Sense::AtMost => value,
    }
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

    /// A value that none is worse than; none where the check has no bound.
    fn bounded(&mut self, piece: &Piece, outward: f64, parts: &[Part]) -> Option<f64> {
        let limit = self.check.limit();
        if !self.has_value {
            return None;
        }
        let mut open = BinaryHeap::with_capacity(parts.len());
        for part in parts {
            self.push(&mut open, Held::Whole(part))?;
        }
        for _ in 0..MOST_CUTS {
            let Some(worst) = open.peek() else {
                return Some(self.value);
            };
            if !limit.is_worse(worst.bound, self.value) {
                return Some(self.value);
            }
            let (length, width) = worst.part.get().lengths();
            if self.is_settled(worst.bound) || length.max(width) < SMALLEST {
                break;
            }
            let Some(worst) = open.pop() else { break };
            for half in worst.part.get().halves() {
                let (u, v) = half.cell.at(0.5, 0.5);
                let spot = Spot::new(piece.patch(u, v), outward);
                self.see(&spot, (u, v), half.cell);
                self.push(&mut open, Held::Cut(Box::new(half)))?;
            }
        }
        open.peek().map(|worst| worst.bound)
    }

    /// Adds a part with its bound, if that is worse than what is found.
    fn push<'b>(&self, open: &mut BinaryHeap<Bounded<'b>>, part: Held<'b>) -> Option<()> {
        let limit = self.check.limit();
        let bound = self.check.bound(part.get())?;
        if limit.is_worse(bound, self.value) {
            let key = badness(&limit, bound);
            open.push(Bounded { key, bound, part });
        }
        Some(())
    }

    /// Whether a bound is near enough to what is found.
    fn is_settled(&self, bound: f64) -> bool {
        let limit = self.check.limit();
        if limit.admits(self.value) && !limit.admits(bound) {
            return false;
        }
        let is_far = limit.sense == Sense::AtLeast
            && self.check.unit() == Unit::Millimetre
            && FAR * limit.value < bound;
        let tolerance = match self.check.unit() {
            Unit::Degree => DEGREES,
            _ => LEAST + TOLERANCE * self.value.abs(),
        };
        is_far || (bound - self.value).abs() <= tolerance
    }

    fn report(&self, bound: Option<f64>, places: usize) -> Report {
        let limit = self.check.limit();
        let found = if self.has_value { self.value } else { f64::NAN };
        let worst = bound.unwrap_or(found);
        let passes = limit.admits(worst);
        Report {
            worst,
            found,
            place: self.at.map(|((along, across), _, point)| Place {
                along,
                across,
                point,
            }),
            limit,
            passes,
            basis: match bound {
                _ if !self.has_value => Basis::Sampled { places },
                Some(_) if passes => Basis::Proved,
                None if passes => Basis::Sampled { places },
                Some(_) if limit.admits(found) => Basis::Open,
                _ => Basis::Checked,
            },
        }
    }
}
