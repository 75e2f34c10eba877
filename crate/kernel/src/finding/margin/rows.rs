//! The curves of a pair in short pieces, and the bounds that are cheap to have
//! between rows of them.

use super::super::rate::Rate;
use crate::curve::Curve;
use crate::proof::Ready;
use crate::proof::bounds;
use crate::proof::extremes::{greater, lesser};
use crate::proof::patch::Ends;
use crate::proof::piece::{Piece, visit_pieces};
use crate::proof::spread::Spread;
use nalgebra::Vector2;
use std::ops::Range;

/// The parameter is divided into this many parts before pieces are made, so
/// that pieces are short and no two of a closed curve share both ends.
const PARTS: u32 = 16;
/// Over how many pieces the steps are tried.
const STEPS_OVER: usize = 8;
/// More pieces than this are not all paired: the margin is not worked out.
const MOST_PIECES: usize = 600;

/// Both curves in the same pieces of the parameter.
pub struct Rows<'a> {
    pub curves: [&'a Curve; 2],
    pub sizes: [f64; 2],
    pub pieces: Vec<Piece>,
    /// The extents of each piece.
    spreads: Vec<[Spread; 2]>,
    /// The first piece of each part, and the number of pieces.
    starts: Vec<usize>,
}

impl<'a> Rows<'a> {
    /// None when the pieces are too many to pair.
    pub fn new(pair: [&'a Ready; 2]) -> Option<Self> {
        let curves = [&pair[0].curve, &pair[1].curve];
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
            return None;
        }
        let spread = |piece: &Piece| [0, 1].map(|side| Spread::of(&piece.parts[side].points));
        Some(Self {
            curves,
            sizes: [pair[0].size, pair[1].size],
            spreads: pieces.iter().map(spread).collect(),
            pieces,
            starts,
        })
    }

    /// The number of parts.
    pub fn parts(&self) -> usize {
        self.starts.len() - 1
    }

    /// Whether parts `earlier` and `later` are one, or meet.
    pub fn are_next_parts(&self, earlier: usize, later: usize) -> bool {
        let over_seam = self.is_closed() && earlier == 0 && later + 1 == self.parts();
        later - earlier <= 1 || over_seam
    }

    fn is_closed(&self) -> bool {
        self.curves.iter().all(|curve| curve.is_closed())
    }

    /// The pieces of part `index`.
    pub fn part(&self, index: usize) -> Range<usize> {
        self.starts[index]..self.starts[index + 1]
    }

    /// Whether pieces `earlier` and `later` are one, or meet.
    pub fn are_neighbours(&self, earlier: usize, later: usize) -> bool {
        let over_seam = self.is_closed() && earlier == 0 && later + 1 == self.pieces.len();
        later - earlier <= 1 || over_seam
    }

    /// Where in the parameter two pieces begin and end.
    pub fn ends(&self, one: usize, other: usize) -> Ends {
        [one, other].map(|index| (self.pieces[index].from, self.pieces[index].to))
    }

    /// The rates between two rows of pieces without a common end.
    pub fn rates_between(&self, earlier: Range<usize>, later: Range<usize>) -> [Rate; 2] {
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
    pub fn bound_by_extent(&self, earlier: Range<usize>, later: Range<usize>) -> f64 {
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
    pub fn share(&self, index: usize, side: usize) -> f64 {
        self.pieces[index].parts[side].share
    }

    /// The rates of two pieces with a common end.
    pub fn joint_rates(&self, one: usize, other: usize) -> [Rate; 2] {
        [0, 1].map(|side| Rate::Joint(6.0 * self.share(one, side), 6.0 * self.share(other, side)))
    }

    /// The bound that the steps give over all pieces from one to another, the
    /// short way, or 0 when they are many.
    pub fn bound_by_steps(&self, earlier: usize, later: usize) -> f64 {
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
}
