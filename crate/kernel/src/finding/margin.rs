//! The margin: how far every control point may move with the proof intact.
//!
//! If each control point of both curves moves by at most e, then F over a patch
//! moves by at most r e, r being the *rate* of that patch and curve (see
//! [`super::rate`]). With a unit direction d such that d.F ≥ s over the patch for both curves,
//! the patch stays free for e < s / r. Between places not far from each other
//! the steps themselves serve: the chord is a sum of them with positive weights,
//! each moving by 2 e at most, so if d.(step) ≥ s for all steps of the spans
//! over the whole stretch, it stays free for e < s / 2.
//! The least such bound over all patches is a proved margin. Patches with the least bound are cut first, until the bound
//! comes near the value at some place, or the work is used up.

use super::rate::Rate;
use crate::curve::Curve;
use crate::grid::STEPS_PER_MM;
use crate::proof::Ready;
use crate::proof::bounds;
use crate::proof::patch::{self, Chart, Ends, Patch, places};
use crate::proof::piece::{Piece, visit_pieces};
use crate::proof::spread::Spread;
use crate::proof::telling;
use crate::verdict::Margin;
use nalgebra::Vector2;
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// The bound is good enough when it reaches this share of the value found.
const CLOSE: f64 = 0.9;
/// The cuts allowed.
const MOST_CUTS: usize = 6_000;
/// The parameter is divided into this many parts before pieces are made, so
/// that pieces are short and no two of a closed curve share both ends.
const PARTS: u32 = 16;
/// Over how many pieces the steps are tried.
const STEPS_OVER: usize = 8;
/// More pieces than this are not all paired: the margin is not worked out.
const MOST_PIECES: usize = 600;

/// A patch with its proved bound.
struct Bounded {
    bound: f64,
    work: Work,
}

/// Two pieces not yet looked at closely, or a patch of theirs.
enum Work {
    Pieces(usize, usize),
    Patch(Box<Cut>),
}

struct Cut {
    patch: Patch,
    chart: Chart,
    ends: Ends,
    errors: [f64; 2],
    rates: [Rate; 2],
    /// What was proved of a larger box that holds this one.
    floor: f64,
}

impl PartialEq for Bounded {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Bounded {}

impl PartialOrd for Bounded {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Bounded {
    /// The least bound is the greatest, for the heap gives the greatest first.
    fn cmp(&self, other: &Self) -> Ordering {
        other.bound.total_cmp(&self.bound)
    }
}

/// The margin of a pair free of folds and crossings; none when the work does
/// not suffice to prove a positive one.
pub fn margin(pair: [&Ready; 2]) -> Option<Margin> {
    match margin_below(pair, f64::INFINITY) {
        Below::Margin(margin) => Some(margin),
        Below::Reached | Below::Unproved => None,
    }
}

/// A margin against a ceiling.
pub enum Below {
    /// It is smaller: the proved bound.
    Margin(Margin),
    /// It is proved to reach the ceiling.
    Reached,
    /// No positive bound was proved.
    Unproved,
}

/// The margin of a pair if it is below `ceiling` mm; most pairs of a family
/// reach the least margin found before them, and are left at once.
pub fn margin_below(pair: [&Ready; 2], ceiling: f64) -> Below {
    let curves = [&pair[0].curve, &pair[1].curve];
    let sizes = [pair[0].size, pair[1].size];
    let mut pieces = Vec::new();
    for part in 0..PARTS {
        let at = |k: u32| f64::from(k) / f64::from(PARTS);
        visit_pieces(curves, at(part), at(part + 1), |piece| {
            pieces.push(piece);
            true
        });
    }
    if MOST_PIECES < pieces.len() {
        return Below::Unproved;
    }
    let mut search = Search {
        curves,
        sizes,
        pieces,
        heap: BinaryHeap::new(),
        value: f64::INFINITY,
        place: (0.0, 0.0, 0.0),
        ceiling: ceiling * STEPS_PER_MM,
    };
    search.begin();
    let bound = search.run();
    let (u, w, across) = search.place;
    if search.ceiling <= bound {
        Below::Reached
    } else if 0.0 < bound {
        Below::Margin(Margin {
            mm: bound / STEPS_PER_MM,
            place: telling::place(curves, u, w, across),
        })
    } else {
        Below::Unproved
    }
}

struct Search<'a> {
    curves: [&'a Curve; 2],
    sizes: [f64; 2],
    pieces: Vec<Piece>,
    heap: BinaryHeap<Bounded>,
    /// The least exact value at a place so far, and that place (u, w, v).
    value: f64,
    place: (f64, f64, f64),
    /// A bound that reaches this is good enough, grid steps.
    ceiling: f64,
}

impl Search<'_> {
    fn begin(&mut self) {
        let spreads: Vec<[Spread; 2]> = self
            .pieces
            .iter()
            .map(|piece| [0, 1].map(|side| Spread::of(&piece.parts[side].points)))
            .collect();
        for later in 0..self.pieces.len() {
            for earlier in 0..=later {
                if self.are_neighbours(earlier, later) {
                    self.push_near(earlier, later);
                    continue;
                }
                let rates = self.apart_rates(earlier, later);
                let whole = |rate: Rate| rate.over((0.0, 1.0), (0.0, 1.0));
                let needed = self.sizes.map(|size| bounds::SEPARATION * size);
                let bound = spreads[earlier][0]
                    .gaps(&spreads[later][0], needed[0])
                    .into_iter()
                    .zip(spreads[earlier][1].gaps(&spreads[later][1], needed[1]))
                    .map(|(one, other)| (one / whole(rates[0])).min(other / whole(rates[1])))
                    .fold(self.bound_by_steps(earlier, later), f64::max);
                let work = Work::Pieces(earlier, later);
                self.heap.push(Bounded { bound, work });
            }
        }
    }

    /// Cuts the patch with the least bound until that bound is close to a value
    /// or reaches the ceiling; 0 when nothing is proved.
    fn run(&mut self) -> f64 {
        for _ in 0..MOST_CUTS {
            let Some(Bounded { bound, work }) = self.heap.pop() else {
                return 0.0;
            };
            if CLOSE * self.value <= bound || self.ceiling <= bound {
                return bound;
            }
            match work {
                Work::Pieces(earlier, later) => self.push_apart(earlier, later, bound),
                Work::Patch(cut) => {
                    if bounds::MOST_SPLITS <= cut.patch.splits {
                        return bound;
                    }
                    let (low, high) = cut.patch.halves();
                    let floor = bound;
                    self.push(Cut {
                        patch: low,
                        floor,
                        ..*cut
                    });
                    self.push(Cut {
                        patch: high,
                        floor,
                        ..*cut
                    });
                }
            }
        }
        self.heap.pop().map_or(0.0, |least| least.bound)
    }

    fn are_neighbours(&self, earlier: usize, later: usize) -> bool {
        let over_seam =
            self.curves[0].is_closed() && earlier == 0 && later + 1 == self.pieces.len();
        later - earlier <= 1 || over_seam
    }

    fn ends(&self, one: usize, other: usize) -> Ends {
        [one, other].map(|index| (self.pieces[index].from, self.pieces[index].to))
    }

    fn apart_rates(&self, earlier: usize, later: usize) -> [Rate; 2] {
        [0, 1].map(|side| {
            let stretch = |index: usize| {
                let part = &self.pieces[index].parts[side];
                (part.span as f64 + part.local.0, part.share)
            };
            let curve = self.curves[side];
            Rate::Between {
                x: stretch(earlier),
                y: stretch(later),
                round: curve.is_closed().then(|| curve.span_count() as f64),
            }
        })
    }

    /// The share of its span that piece `index` takes of curve `side`.
    fn share(&self, index: usize, side: usize) -> f64 {
        self.pieces[index].parts[side].share
    }

    fn joint_rates(&self, one: usize, other: usize) -> [Rate; 2] {
        [0, 1].map(|side| Rate::Joint(6.0 * self.share(one, side), 6.0 * self.share(other, side)))
    }

    fn push_apart(&mut self, earlier: usize, later: usize, floor: f64) {
        let (patch, errors) = patch::apart(&self.pieces[earlier], &self.pieces[later], self.sizes);
        self.push(Cut {
            patch,
            chart: Chart::Apart,
            ends: self.ends(earlier, later),
            errors,
            rates: self.apart_rates(earlier, later),
            floor,
        });
    }

    /// The bound that the steps give over all pieces from one to another, the
    /// short way, or 0 when they are many.
    fn bound_by_steps(&self, earlier: usize, later: usize) -> f64 {
        let count = self.pieces.len();
        let (first, over) = match later - earlier {
            between if between < STEPS_OVER => (earlier, between + 1),
            between if self.curves[0].is_closed() && count < between + STEPS_OVER => {
                (later, count - between + 1)
            }
            _ => return 0.0,
        };
        let over = || (first..first + over).map(|index| &self.pieces[index % count]);
        let heading = |side: usize| {
            let sum = over().fold(Vector2::zeros(), |sum: Vector2<f64>, piece| {
                sum + piece.parts[side].steps.iter().sum::<Vector2<f64>>()
            });
            sum.try_normalize(0.0)
        };
        let (Some(one), Some(other)) = (heading(0), heading(1)) else {
            return 0.0;
        };
        let Some(towards) = (one + other).try_normalize(0.0) else {
            return 0.0;
        };
        let mut least = f64::INFINITY;
        for part in over().flat_map(|piece| &piece.parts) {
            // Cut to the piece; over its share they are those of the span.
            let error = 2.0 * bounds::PATCH * part.reach;
            for step in part.steps {
                least = least.min((towards.dot(&step) - error) / part.share);
            }
        }
        (least * 0.5).max(0.0)
    }

    /// One piece with itself, or two with a common end.
    fn push_near(&mut self, earlier: usize, later: usize) {
        let floor = self.bound_by_steps(earlier, later);
        if earlier == later {
            let (patch, errors) = patch::itself(&self.pieces[later]);
            let rates = [0, 1].map(|side| Rate::Even(6.0 * self.share(later, side)));
            self.push(Cut {
                patch,
                chart: Chart::Itself,
                ends: self.ends(later, later),
                errors,
                rates,
                floor,
            });
            return;
        }
        let (before, after) = if later - earlier == 1 {
            (earlier, later)
        } else {
            (later, earlier)
        };
        let (charts, errors) = patch::joint(&self.pieces[before], &self.pieces[after]);
        let ends = self.ends(before, after);
        for (chart, patch) in charts {
            let rates = match chart {
                Chart::JointBefore => self.joint_rates(before, after),
                _ => self.joint_rates(after, before),
            };
            self.push(Cut {
                patch,
                chart,
                ends,
                errors,
                rates,
                floor,
            });
        }
    }

    fn push(&mut self, cut: Cut) {
        let Patch { nets, x, y, .. } = &cut.patch;
        for (index, x, y) in [(0, x.0, y.0), (15, x.1, y.1)] {
            let rates = cut.rates.map(|rate| rate.over((x, x), (y, y)));
            let (share, value) =
                telling::nearest_blend([0, 1].map(|side| nets[side].at(index) / rates[side]));
            if value < self.value {
                self.value = value;
                let (u, w) = places(cut.chart, x, y, &cut.ends);
                // The share is of F over its rate; the blend of sections weighs F.
                let weights = [(1.0 - share) / rates[0], share / rates[1]];
                self.place = (u, w, weights[1] / (weights[0] + weights[1]));
            }
        }
        let rates = cut.rates.map(|rate| rate.over(*x, *y));
        let bound = bound(&cut, rates).max(cut.floor);
        let work = Work::Patch(Box::new(cut));
        self.heap.push(Bounded { bound, work });
    }
}

/// The best proved bound of a patch: towards the blend of means nearest to zero,
/// or half way between the two mean directions.
fn bound(cut: &Cut, rates: [f64; 2]) -> f64 {
    let means = [0, 1].map(|side| mean(&cut.patch, side) / rates[side]);
    let (share, _) = telling::nearest_blend(means);
    let nearest = means[0] + (means[1] - means[0]) * share;
    let directions = means.map(|mean| mean.try_normalize(0.0));
    let bisector = match directions {
        [Some(one), Some(other)] => (one + other).try_normalize(0.0),
        _ => None,
    };
    [nearest.try_normalize(0.0), bisector]
        .into_iter()
        .flatten()
        .map(|towards| {
            let slack = |side: usize| {
                let net = &cut.patch.nets[side];
                let least = (0..16)
                    .map(|k| towards.dot(&net.at(k)))
                    .fold(f64::INFINITY, f64::min);
                (least - 2.0 * cut.errors[side]) / rates[side]
            };
            slack(0).min(slack(1))
        })
        .fold(0.0, f64::max)
}

fn mean(patch: &Patch, side: usize) -> Vector2<f64> {
    let net = &patch.nets[side];
    (0..16).fold(Vector2::zeros(), |sum, k| sum + net.at(k)) / 16.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::proof::net::Net;

    /// Coefficients that go round zero prove nothing, though their mean, which
    /// has no direction, is zero to the last bit.
    #[test]
    fn a_net_about_zero_has_no_bound() {
        let mut around = Net {
            x: [0.0; 16],
            y: [1.0; 16],
        };
        around.y[8..].fill(-1.0);
        let ahead = Net {
            x: [1.0; 16],
            y: [0.0; 16],
        };
        let cut = Cut {
            patch: Patch {
                nets: [around, ahead],
                x: (0.0, 1.0),
                y: (0.0, 1.0),
                splits: 0,
            },
            chart: Chart::Apart,
            ends: [(0.0, 0.25), (0.5, 0.75)],
            errors: [1e-9; 2],
            rates: [Rate::Even(1.0); 2],
            floor: 0.0,
        };
        assert_eq!(bound(&cut, [1.0; 2]), 0.0);
    }
}
