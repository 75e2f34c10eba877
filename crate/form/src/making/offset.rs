//! Whether the skin's offset by its gauge keeps clear of itself.
//!
//! Locally it does while the gauge is below the radius of every hollow on that
//! side (do Carmo, Differential Geometry of Curves and Surfaces, 1976, exercise
//! 3-5). At a distance it does while the ball of the gauge's radius that rests on
//! the skin holds no other place of it. Both are looked at in samples. Along a
//! sharp valley the offset always meets itself; such places, joined by a short way
//! on the skin, are left to [`super::fillet`].

use super::check::{Check, Formula, Limit, Place, Provenance, Spot, Unit};
use super::radius::ToolSide;
use crate::body::cells::{Cell, Sampler, cells};
use crate::piece::Piece;
use nalgebra::{Point3, Vector3};
use std::collections::BTreeMap;

/// Samples along and across a cell.
const STEPS: usize = 6;
/// Normals of another sheet stand at more than this cosine's angle to each other.
const OTHER_SHEET: f64 = 0.3;
/// Two places belong together when the straight way in (u, v) from one to the
/// other keeps within so many gauges.
const TOGETHER: f64 = 3.0;
/// Moves of the search for the nearest place.
const MOST_MOVES: usize = 400;
/// Places looked at on that way.
const WAY_STEPS: usize = 16;
/// A ball must be entered by this share of its radius to count.
const ENTERED: f64 = 1e-3;

/// How far the sheet reaches, over the radius of the sharpest hollow that it fills.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OffsetBend {
    /// How far it reaches outward from the drawn skin, mm.
    pub outward: f64,
    /// How far inward, mm.
    pub inward: f64,
}

impl Check for OffsetBend {
    /// Below 1 both faces of the sheet are smooth there.
    fn value(&self, spot: &Spot) -> f64 {
        let (larger, smaller) = spot.hollows();
        let (outside, inside) = (self.outward * larger, -self.inward * smaller);
        // Not f64::max, which would hide a place that is not a number.
        if outside < inside { inside } else { outside }
    }

    fn limit(&self) -> Limit {
        Limit::at_most(1.0)
    }

    fn unit(&self) -> Unit {
        Unit::Ratio
    }

    fn formula(&self) -> Formula {
        Formula {
            text: "reach × κ on that side; from 1 on the face of the sheet folds back on itself",
            source: "parallel surfaces (do Carmo, Differential Geometry of Curves and Surfaces, 1976, 3-5)",
            provenance: Provenance::Published,
            caution: "A sharp edge has no radius: on its hollow side the offset always meets itself, unless a fillet is assumed there.",
        }
    }
}

/// Two places of the skin whose offsets meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Meeting {
    /// The one place.
    pub place: Place,
    /// The other, inside the ball that rests on the first.
    pub other: Place,
    /// How far the other is from the ball's centre, mm; less than the gauge.
    pub distance: f64,
}

struct Sampled {
    spot: Spot,
    at: (f64, f64),
    cell: Cell,
    /// Which cell that is, in their order.
    number: usize,
    /// How far the next sample of the cell may be, mm, by the derivatives.
    gap: f64,
}

/// The deepest meeting of the offset by `gauge` mm to `side` with a place at a
/// distance; none found is no proof that there is none.
pub fn meeting(piece: &Piece, gauge: f64, side: ToolSide) -> Option<Meeting> {
    let samples = sampled(piece);
    let widest = samples.iter().map(|sampled| sampled.gap);
    let index = Index::new(&samples, gauge + widest.fold(0.0, f64::max));
    let way = match side {
        ToolSide::Outside => 1.0,
        ToolSide::Inside => -1.0,
    };
    let mut deepest: Option<Meeting> = None;
    for one in &samples {
        let centre = one.spot.patch.point + one.spot.normal * (way * gauge);
        for other in starts(&index, &samples, one, &centre, gauge) {
            let (at, distance) = nearest(piece, &centre, &samples[other]);
            let is_deeper = deepest.is_none_or(|deepest| distance < deepest.distance);
            let meets = distance < gauge * (1.0 - ENTERED) && is_deeper;
            if meets && !are_together(piece, one.at, at, TOGETHER * gauge) {
                deepest = Some(Meeting {
                    place: place(piece, one.at),
                    other: place(piece, at),
                    distance,
                });
            }
        }
    }
    deepest
}

/// Where the search for places inside the ball about `centre` starts: in each
/// cell the nearest sample of another sheet, if its neighbourhood may reach in.
fn starts(
    index: &Index,
    samples: &[Sampled],
    one: &Sampled,
    centre: &Point3<f64>,
    gauge: f64,
) -> impl Iterator<Item = usize> {
    let mut nearest: BTreeMap<usize, (usize, f64)> = BTreeMap::new();
    for number in index.near(centre) {
        let other = &samples[number];
        let apart = (other.spot.patch.point - centre).norm();
        let is_out = gauge + other.gap < apart;
        if is_out || OTHER_SHEET < one.spot.normal.dot(&other.spot.normal) {
            continue;
        }
        let best = nearest.entry(other.number).or_insert((number, apart));
        if apart < best.1 {
            *best = (number, apart);
        }
    }
    nearest.into_values().map(|(number, _)| number)
}

/// Whether the way from `one` to `other` in (u, v), the shorter way round, keeps
/// within `reach` mm of its start.
fn are_together(piece: &Piece, one: (f64, f64), other: (f64, f64), reach: f64) -> bool {
    let short = |from: f64, to: f64, closed: bool| {
        let step = to - from;
        if closed && 0.5 < step.abs() {
            step - step.signum()
        } else {
            step
        }
    };
    let step = (
        short(one.0, other.0, piece.is_closed_along()),
        short(one.1, other.1, piece.is_closed_across()),
    );
    let start = piece.point(one.0, one.1);
    // Within [0, 1], round where closed; elsewhere the way does not leave it.
    let wrapped = |x: f64| {
        if (0.0..=1.0).contains(&x) {
            x
        } else {
            x - libm::floor(x)
        }
    };
    (1..WAY_STEPS).all(|k| {
        let t = k as f64 / WAY_STEPS as f64;
        let (u, v) = (wrapped(one.0 + step.0 * t), wrapped(one.1 + step.1 * t));
        (piece.point(u, v) - start).norm() < reach
    })
}

fn place(piece: &Piece, (along, across): (f64, f64)) -> Place {
    Place {
        along,
        across,
        point: piece.point(along, across),
    }
}

fn sampled(piece: &Piece) -> Vec<Sampled> {
    let outward = piece.outward();
    let even = |(from, to): (f64, f64)| {
        (0..STEPS).map(move |k| (from + (to - from) * (k as f64 + 0.5) / STEPS as f64, 0.0))
    };
    let mut samples = Vec::new();
    let mut sampler = Sampler::new(piece);
    for (number, cell) in cells(piece).into_iter().enumerate() {
        sampler.visit(even(cell.along), even(cell.across), |sample| {
            let spot = Spot::new(sample.patch, outward);
            if spot.normal.x.is_finite() {
                samples.push(Sampled {
                    spot,
                    at: (sample.along, sample.across),
                    cell,
                    number,
                    gap: gap(&spot, &cell),
                });
            }
        });
    }
    samples
}

fn gap(spot: &Spot, cell: &Cell) -> f64 {
    let along = spot.patch.along.norm() * (cell.along.1 - cell.along.0);
    let across = spot.patch.across.norm() * (cell.across.1 - cell.across.0);
    libm::hypot(along, across) / STEPS as f64
}

/// The nearest place to `centre` within the cell of `start`, by halving steps.
fn nearest(piece: &Piece, centre: &Point3<f64>, start: &Sampled) -> ((f64, f64), f64) {
    let cell = start.cell;
    let (width, height) = (cell.along.1 - cell.along.0, cell.across.1 - cell.across.0);
    let distance = |(u, v): (f64, f64)| (piece.point(u, v) - centre).norm();
    let mut best = (start.at, (start.spot.patch.point - centre).norm());
    let (mut step, mut moves) = (0.5 / STEPS as f64, 0);
    while 1e-4 < step && moves < MOST_MOVES {
        moves += 1;
        let moves = [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)];
        let better = moves.into_iter().find_map(|(x, y)| {
            let at = (
                (best.0.0 + x * step * width).clamp(cell.along.0, cell.along.1),
                (best.0.1 + y * step * height).clamp(cell.across.0, cell.across.1),
            );
            let there = distance(at);
            (there < best.1).then_some((at, there))
        });
        match better {
            Some(found) => best = found,
            None => step *= 0.5,
        }
    }
    best
}

/// Samples by cubes of space.
struct Index {
    cubes: BTreeMap<[i64; 3], Vec<usize>>,
    width: f64,
}

impl Index {
    fn new(samples: &[Sampled], width: f64) -> Self {
        let mut index = Self {
            cubes: BTreeMap::new(),
            width,
        };
        for (number, sampled) in samples.iter().enumerate() {
            let cube = index.cube(&sampled.spot.patch.point.coords);
            index.cubes.entry(cube).or_default().push(number);
        }
        index
    }

    fn cube(&self, at: &Vector3<f64>) -> [i64; 3] {
        [at.x, at.y, at.z].map(|x| libm::floor(x / self.width) as i64)
    }

    fn near(&self, at: &Point3<f64>) -> impl Iterator<Item = usize> + '_ {
        let [x, y, z] = self.cube(&at.coords);
        let steps = || -1..=1_i64;
        steps()
            .flat_map(move |i| {
                steps().flat_map(move |j| steps().map(move |k| [x + i, y + j, z + k]))
            })
            .filter_map(|cube| self.cubes.get(&cube))
            .flatten()
            .copied()
    }
}
