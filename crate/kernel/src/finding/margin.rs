//! The margin: how far every control point may move with the proof intact.
//!
//! If each control point of both curves moves by at most e, then F over a patch
//! moves by at most r e, r being the *rate* of that patch and curve (see
//! [`super::rate`]). With a unit direction d such that d.F ≥ s over the patch for
//! both curves, the patch stays free for e < s / r. Between places not far from
//! each other the steps themselves serve: the chord is a sum of them with
//! positive weights, each moving by 2 e at most, so if d.(step) ≥ s for all steps
//! of the spans over the whole stretch, it stays free for e < s / 2.
//!
//! The least such bound over all patches is a proved margin. Patches with the
//! least bound are cut first, until the bound comes near the value at some place,
//! or the work is used up.

use super::rate::Rate;
use crate::curve::Curve;
use crate::grid::STEPS_PER_MM;
use crate::proof::Ready;
use crate::proof::bounds;
use crate::proof::extremes::{greater, lesser};
use crate::proof::patch::{self, Chart, Ends, Patch, places};
use crate::proof::piece::{Piece, visit_pieces};
use crate::proof::spread::Spread;
use crate::proof::telling;
use crate::verdict::Margin;
use nalgebra::Vector2;
use std::cmp::Ordering;
use std::collections::BinaryHeap;
use std::ops::Range;

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

/// What a bound is of, the coarser the cheaper it is to have.
enum Work {
    /// Two parts, by their extents.
    Parts(usize, usize),
    /// Two pieces, by their extents.
    Pieces(usize, usize),
    /// Two pieces, by the steps between them as well.
    Apart(usize, usize),
    /// A patch of two pieces, or of what they have in common.
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
    let mut starts = vec![0];
    for part in 0..PARTS {
        let at = |k: u32| f64::from(k) / f64::from(PARTS);
        visit_pieces(curves, at(part), at(part + 1), |piece| {
            pieces.push(piece);
            true
        });
        starts.push(pieces.len());
    }
    if MOST_PIECES < pieces.len() {
        return Below::Unproved;
    }
    let spread = |piece: &Piece| [0, 1].map(|side| Spread::of(&piece.parts[side].points));
    let mut search = Search {
        curves,
        sizes,
        spreads: pieces.iter().map(spread).collect(),
        pieces,
        starts,
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
    /// The extents of each piece.
    spreads: Vec<[Spread; 2]>,
    /// The first piece of each part, and the number of pieces.
    starts: Vec<usize>,
    heap: BinaryHeap<Bounded>,
    /// The least exact value at a place so far, and that place (u, w, v).
    value: f64,
    place: (f64, f64, f64),
    /// A bound that reaches this is good enough, grid steps.
    ceiling: f64,
}

impl Search<'_> {
    /// Puts all pairs of pieces on the heap, those far apart as pairs of parts.
    fn begin(&mut self) {
        let count = self.starts.len() - 1;
        for later in 0..count {
            for earlier in 0..=later {
                let over_seam = self.is_closed() && earlier == 0 && later + 1 == count;
                if later - earlier <= 1 || over_seam {
                    self.push_pieces(earlier, later);
                    continue;
                }
                let bound = self.bound_by_extent(self.part(earlier), self.part(later));
                let work = Work::Parts(earlier, later);
                self.heap.push(Bounded { bound, work });
            }
        }
    }

    /// The pairs of pieces of two parts.
    fn push_pieces(&mut self, first: usize, second: usize) {
        for later in self.part(second) {
            for earlier in self.part(first).start..self.part(first).end.min(later + 1) {
                if self.are_neighbours(earlier, later) {
                    self.push_near(earlier, later);
                    continue;
                }
                let bound = self.bound_by_extent(earlier..earlier + 1, later..later + 1);
                let work = Work::Pieces(earlier, later);
                self.heap.push(Bounded { bound, work });
            }
        }
    }

    /// Cuts the patch with the least bound until that bound is close to a value
    /// or reaches the ceiling; 0 when nothing is proved.
    fn run(&mut self) -> f64 {
        for _ in 0..MOST_CUTS {
            let Some(Bounded { bound, work }) = self.least() else {
                return 0.0;
            };
            if CLOSE * self.value <= bound || self.ceiling <= bound {
                return bound;
            }
            match work {
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
                Work::Parts(earlier, later)
                | Work::Pieces(earlier, later)
                | Work::Apart(earlier, later) => self.push_apart(earlier, later, bound),
            }
        }
        self.least().map_or(0.0, |least| least.bound)
    }

    /// Takes the least bound off the heap. Most pairs never come up, so the
    /// dearer bounds are worked out for those that do.
    fn least(&mut self) -> Option<Bounded> {
        loop {
            let least = self.heap.pop()?;
            match least.work {
                Work::Parts(earlier, later) => self.push_pieces(earlier, later),
                Work::Pieces(earlier, later) => {
                    let bound = greater(least.bound, self.bound_by_steps(earlier, later));
                    let work = Work::Apart(earlier, later);
                    self.heap.push(Bounded { bound, work });
                }
                Work::Apart(..) | Work::Patch(_) => return Some(least),
            }
        }
    }

    fn is_closed(&self) -> bool {
        self.curves.iter().all(|curve| curve.is_closed())
    }

    /// The pieces of part `index`.
    fn part(&self, index: usize) -> Range<usize> {
        self.starts[index]..self.starts[index + 1]
    }

    fn are_neighbours(&self, earlier: usize, later: usize) -> bool {
        let over_seam = self.is_closed() && earlier == 0 && later + 1 == self.pieces.len();
        later - earlier <= 1 || over_seam
    }

    fn ends(&self, one: usize, other: usize) -> Ends {
        [one, other].map(|index| (self.pieces[index].from, self.pieces[index].to))
    }

    /// The rates between two rows of pieces without a common end.
    fn rates_between(&self, earlier: Range<usize>, later: Range<usize>) -> [Rate; 2] {
        [0, 1].map(|side| {
            let stretch = |row: &Range<usize>| {
                let first = &self.pieces[row.start].parts[side];
                let last = &self.pieces[row.end - 1].parts[side];
                let spans = (last.span - first.span) as f64;
                let length = spans + (last.local.0 - first.local.0) + last.share;
                (first.span as f64 + first.local.0, length)
            };
            let curve = self.curves[side];
            Rate::Between {
                x: stretch(&earlier),
                y: stretch(&later),
                round: curve.is_closed().then(|| curve.span_count() as f64),
            }
        })
    }

    /// The bound that the extents of two rows of pieces give.
    fn bound_by_extent(&self, earlier: Range<usize>, later: Range<usize>) -> f64 {
        let spread = |row: &Range<usize>, side: usize| {
            let spreads = self.spreads[row.clone()].iter();
            let joined = spreads
                .map(|spreads| spreads[side])
                .reduce(|a, b| a.joined(&b));
            joined.unwrap_or(Spread::of(&[]))
        };
        let gaps = [0, 1].map(|side| {
            let needed = bounds::SEPARATION * self.sizes[side];
            spread(&earlier, side).gaps(&spread(&later, side), needed)
        });
        let whole = |rate: Rate| rate.over((0.0, 1.0), (0.0, 1.0));
        let rates = self.rates_between(earlier, later).map(whole);
        gaps[0]
            .iter()
            .zip(gaps[1])
            .map(|(one, other)| lesser(one / rates[0], other / rates[1]))
            .fold(f64::NEG_INFINITY, |most, bound| greater(bound, most))
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
            rates: self.rates_between(earlier..earlier + 1, later..later + 1),
            floor,
        });
    }

    /// The bound that the steps give over all pieces from one to another, the
    /// short way, or 0 when they are many.
    fn bound_by_steps(&self, earlier: usize, later: usize) -> f64 {
        let count = self.pieces.len();
        let (first, over) = match later - earlier {
            between if between < STEPS_OVER => (earlier, between + 1),
            between if self.is_closed() && count < between + STEPS_OVER => {
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
