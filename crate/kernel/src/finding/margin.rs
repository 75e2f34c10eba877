//! The margin: how far every control point may move with the proof intact.
//!
//! The pace is kept: the curves stay cut at the same parameters. That is so of
//! tooling, whose surface is the one drawn, and not of nodes drawn elsewhere.
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

mod cut;
mod rows;

use super::rate::Rate;
use crate::grid::STEPS_PER_MM;
use crate::proof::Ready;
use crate::proof::bounds;
use crate::proof::extremes::greater;
use crate::proof::patch::{self, Chart, Patch, places};
use crate::proof::telling;
use crate::verdict::Margin;
use cut::{Cut, bound};
use rows::Rows;
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// The bound is good enough when it reaches this share of the value found.
const CLOSE: f64 = 0.9;
/// The cuts allowed.
const MOST_CUTS: usize = 6_000;

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
    let Some(rows) = Rows::new(pair) else {
        return Below::Unproved;
    };
    let mut search = Search {
        rows,
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
            place: telling::place(search.rows.curves, u, w, across),
        })
    } else {
        Below::Unproved
    }
}

struct Search<'a> {
    rows: Rows<'a>,
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
        for later in 0..self.rows.parts() {
            for earlier in 0..=later {
                if self.rows.are_next_parts(earlier, later) {
                    self.push_pieces(earlier, later);
                    continue;
                }
                let bound = self
                    .rows
                    .bound_by_extent(self.rows.part(earlier), self.rows.part(later));
                let work = Work::Parts(earlier, later);
                self.heap.push(Bounded { bound, work });
            }
        }
    }

    /// The pairs of pieces of two parts.
    fn push_pieces(&mut self, first: usize, second: usize) {
        for later in self.rows.part(second) {
            for earlier in self.rows.part(first).start..self.rows.part(first).end.min(later + 1) {
                if self.rows.are_neighbours(earlier, later) {
                    self.push_near(earlier, later);
                    continue;
                }
                let bound = self
                    .rows
                    .bound_by_extent(earlier..earlier + 1, later..later + 1);
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
                    let (low, high) = cut.patch.halves(cut.patch.varies_along_x());
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
                    let bound = greater(least.bound, self.rows.bound_by_steps(earlier, later));
                    let work = Work::Apart(earlier, later);
                    self.heap.push(Bounded { bound, work });
                }
                Work::Apart(..) | Work::Patch(_) => return Some(least),
            }
        }
    }

    fn push_apart(&mut self, earlier: usize, later: usize, floor: f64) {
        let (patch, errors) = patch::apart(
            &self.rows.pieces[earlier],
            &self.rows.pieces[later],
            self.rows.sizes,
        );
        self.push(Cut {
            patch,
            chart: Chart::Apart,
            ends: self.rows.ends(earlier, later),
            errors,
            rates: self
                .rows
                .rates_between(earlier..earlier + 1, later..later + 1),
            floor,
        });
    }

    /// One piece with itself, or two with a common end.
    fn push_near(&mut self, earlier: usize, later: usize) {
        let floor = self.rows.bound_by_steps(earlier, later);
        if earlier == later {
            let (patch, errors) = patch::itself(&self.rows.pieces[later]);
            let rates = [0, 1].map(|side| Rate::Even(6.0 * self.rows.share(later, side)));
            self.push(Cut {
                patch,
                chart: Chart::Itself,
                ends: self.rows.ends(later, later),
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
        let (charts, errors) = patch::joint(&self.rows.pieces[before], &self.rows.pieces[after]);
        let ends = self.rows.ends(before, after);
        for (chart, patch) in charts {
            let rates = match chart {
                Chart::JointBefore => self.rows.joint_rates(before, after),
                _ => self.rows.joint_rates(after, before),
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
