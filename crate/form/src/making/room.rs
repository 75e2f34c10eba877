//! The room for the sheet between parts of the skin that face one another: the walls of
//! a groove, both sides of a thin tail, the turns of a roll.
//!
//! The skin between two places p and q leaves the sheet too little room when q - p is
//! shorter than the sheet reaches from both of them toward each other. Only pairs
//! count whose way leans to the normal at p by less than 60 degrees: where a skin comes
//! nearest to itself it is square to the way at both ends, and places beside one
//! another on one sheet never lean so, whose bends [`super::offset`] looks at. Places that
//! are near on the skin belong together (see [`TOGETHER`]): along a sharp edge both
//! sides always meet, and edges are listed apart.
//!
//! Sampled: from samples of every cell the nearest place of every other cell in reach
//! is sought. None found is no proof that there is none.

use super::check::{Place, Spot};
use crate::body::cells::{Cell, Sampler, cells};
use crate::piece::Piece;
use nalgebra::{Point3, Vector3};
use std::collections::BTreeMap;

/// Two places belong together when the steps from one to the other along and across,
/// by the larger of the speeds at both, make less than so many reaches. A face meets
/// the other beside a sharp edge within that where the skin turns back by less than
/// about 135 degrees.
pub const TOGETHER: f64 = 5.0;
/// Less of the room is not told.
pub const LEAST: f64 = 0.8;
/// The least cosine of the way to the normal.
const LEANING: f64 = 0.5;
/// Samples along and across a cell.
const STEPS: usize = 6;
/// A place between samples takes at most so many times as much as they do.
const ALLOWED: f64 = 1.25;
/// What is worth looking for takes more than so many times as much as was found.
const MORE: f64 = 1.002;
/// Moves of a search for the nearest place.
const MOST_MOVES: usize = 400;
/// It ends at steps of this share of a cell.
const FINEST: f64 = 1e-5;

/// How far the sheet reaches from the drawn skin, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// Outward.
    pub outward: f64,
    /// Inward.
    pub inward: f64,
}

impl Reach {
    fn most(&self) -> f64 {
        self.outward.max(self.inward)
    }

    /// On the side to which the cosine of a way to the outward normal points.
    fn toward(&self, cosine: f64) -> f64 {
        if 0.0 < cosine {
            self.outward
        } else {
            self.inward
        }
    }
}

/// Two places of the skin that face one another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Meeting {
    /// The one place.
    pub place: Place,
    /// The other.
    pub other: Place,
    /// From one to the other, mm.
    pub apart: f64,
    /// The share of the room between them that the sheet takes; from 1 on it meets
    /// itself.
    pub share: f64,
}

/// A place that was looked at.
#[derive(Clone, Copy)]
struct Seen {
    spot: Spot,
    at: (f64, f64),
    cell: Cell,
    /// Which cell that is, in their order.
    number: usize,
    /// How far the next sample of the cell may be, mm, by the derivatives.
    gap: f64,
}

/// The two places found between which a sheet of this reach takes most of the room, if
/// that is more than [`LEAST`].
pub fn tightest(piece: &Piece, reach: Reach) -> Option<Meeting> {
    if reach.most() <= 0.0 {
        return None;
    }
    let seen = seen(piece);
    let widest = seen.iter().fold(0.0_f64, |most, seen| most.max(seen.gap));
    let index = Index::new(&seen, 2.0 * reach.most() / LEAST + widest);
    let mut search = Search {
        piece,
        reach,
        most: LEAST,
        found: None,
    };
    for one in &seen {
        for other in search.starts(&index, &seen, one) {
            search.sharpen(*one, seen[other]);
        }
    }
    search.found
}

struct Search<'a> {
    piece: &'a Piece,
    reach: Reach,
    /// The largest share found.
    most: f64,
    found: Option<Meeting>,
}

impl Search<'_> {
    /// Where the search for places that face `one` starts: in each cell the sample that
    /// takes most of the room, if its neighbourhood may take more than was found.
    fn starts(&self, index: &Index, seen: &[Seen], one: &Seen) -> Vec<usize> {
        let mut nearest: BTreeMap<usize, (usize, f64)> = BTreeMap::new();
        for number in index.near(&one.spot.patch.point) {
            let other = &seen[number];
            let apart = (other.spot.patch.point - one.spot.patch.point).norm();
            let may_take = 2.0 * self.reach.most() / (apart - other.gap).max(0.0);
            if may_take <= self.most {
                continue;
            }
            let Some(share) = self.share(one, other) else {
                continue;
            };
            // Places between samples may take more, by their step aside of the way.
            let aside = other.gap / apart;
            if share * (1.0 + aside * aside).min(ALLOWED) <= self.most * MORE {
                continue;
            }
            let best = nearest.entry(other.number).or_insert((number, share));
            if best.1 < share {
                *best = (number, share);
            }
        }
        nearest.into_values().map(|(number, _)| number).collect()
    }

    /// The share of the room between two places; none for places side by side, and for
    /// those that belong together.
    fn share(&self, one: &Seen, other: &Seen) -> Option<f64> {
        let way = other.spot.patch.point - one.spot.patch.point;
        let apart = way.norm();
        let cosine = |seen: &Seen| seen.spot.normal.dot(&way) / apart;
        let (here, there) = (cosine(one), cosine(other));
        let leaning = here.abs();
        let need = self.reach.toward(here) + self.reach.toward(-there);
        let faces = LEANING <= leaning && !self.are_together(one, other);
        faces.then_some(need * leaning / apart)
    }

    /// Moves either place to where less room is left, within their cells.
    fn sharpen(&mut self, mut one: Seen, mut other: Seen) {
        let Some(mut share) = self.share(&one, &other) else {
            return;
        };
        let (mut step, mut moves) = (0.5 / STEPS as f64, 0);
        while FINEST < step && moves < MOST_MOVES {
            moves += 1;
            let ways = [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)];
            let better = ways.into_iter().find_map(|way| {
                let moved = self.moved(&other, way, step);
                let far = self.share(&one, &moved);
                if far.is_some_and(|far| share < far) {
                    return Some((one, moved, far?));
                }
                let moved = self.moved(&one, way, step);
                let near = self.share(&moved, &other)?;
                (share < near).then_some((moved, other, near))
            });
            match better {
                Some(found) => (one, other, share) = found,
                None => step *= 0.5,
            }
        }
        if self.most < share {
            self.most = share;
            self.found = Some(Meeting {
                place: place(&one),
                other: place(&other),
                apart: (other.spot.patch.point - one.spot.patch.point).norm(),
                share,
            });
        }
    }

    fn moved(&self, seen: &Seen, (x, y): (f64, f64), step: f64) -> Seen {
        let Cell { along, across } = seen.cell;
        let at = (
            (seen.at.0 + x * step * (along.1 - along.0)).clamp(along.0, along.1),
            (seen.at.1 + y * step * (across.1 - across.0)).clamp(across.0, across.1),
        );
        let patch = self.piece.patch(at.0, at.1);
        Seen {
            spot: Spot::new(patch, seen.spot.outward),
            at,
            ..*seen
        }
    }

    /// Whether two places belong together: see [`TOGETHER`].
    fn are_together(&self, one: &Seen, other: &Seen) -> bool {
        let short = |from: f64, to: f64, closed: bool| {
            let step = (to - from).abs();
            if closed { step.min(1.0 - step) } else { step }
        };
        let along = short(one.at.0, other.at.0, self.piece.is_closed_along());
        let across = short(one.at.1, other.at.1, self.piece.is_closed_across());
        let (here, there) = (&one.spot.patch, &other.spot.patch);
        let longer = |one: Vector3<f64>, other: Vector3<f64>| one.norm().max(other.norm());
        let way =
            along * longer(here.along, there.along) + across * longer(here.across, there.across);
        way < TOGETHER * self.reach.most()
    }
}

fn place(seen: &Seen) -> Place {
    Place {
        along: seen.at.0,
        across: seen.at.1,
        point: seen.spot.patch.point,
    }
}

fn seen(piece: &Piece) -> Vec<Seen> {
    let outward = piece.outward();
    let even = |(from, to): (f64, f64)| {
        (0..STEPS).map(move |k| (from + (to - from) * (k as f64 + 0.5) / STEPS as f64, 0.0))
    };
    let mut found = Vec::new();
    let mut sampler = Sampler::new(piece);
    for (number, cell) in cells(piece).into_iter().enumerate() {
        sampler.visit(even(cell.along), even(cell.across), |sample| {
            let spot = Spot::new(sample.patch, outward);
            if spot.normal.x.is_finite() {
                found.push(Seen {
                    spot,
                    at: (sample.along, sample.across),
                    cell,
                    number,
                    gap: gap(&spot, &cell),
                });
            }
        });
    }
    found
}

fn gap(spot: &Spot, cell: &Cell) -> f64 {
    let along = spot.patch.along.norm() * (cell.along.1 - cell.along.0);
    let across = spot.patch.across.norm() * (cell.across.1 - cell.across.0);
    libm::hypot(along, across) / STEPS as f64
}

/// Samples by cubes of space.
struct Index {
    cubes: BTreeMap<[i64; 3], Vec<usize>>,
    width: f64,
}

impl Index {
    fn new(seen: &[Seen], width: f64) -> Self {
        let mut index = Self {
            cubes: BTreeMap::new(),
            width,
        };
        for (number, seen) in seen.iter().enumerate() {
            let cube = index.cube(&seen.spot.patch.point.coords);
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
