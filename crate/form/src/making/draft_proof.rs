//! The proof that a skin has draft: on every cell N = S_u × S_v is a polynomial,
//! in the turning frame of a ring too, so it lies in the hull of its Bernstein
//! coefficients b. With m the direction of their mean, |N| is at most N·m plus
//! p² / 2q, where p is the largest part of a b square to m and q the least b·m. So
//! the draft exceeds the limit all over the cell where every
//! b·d - sin(limit) b·m > sin(limit) p² / 2q; else the cell is cut in four.
//!
//! In a ring the direction turns against the frame: over a cell it runs on an arc
//! that lies in the triangle of its ends and the crossing of their tangents, so
//! three directions stand for it.
//!
//! Coefficients come from values at the Chebyshev places of the cell (inside it,
//! so that no joint is touched). With M the largest coordinate, a component of S_u
//! is wrong by at most 16 UNIT · 3 M over the width of its span, and of S_v by 16
//! UNIT · M times the slopes of the weights; so N is wrong by at most 128 UNIT of
//! the product of both sizes, these terms included. Solving for the coefficients
//! multiplies that by less than [`AMPLIFIED`] (a test measures it), and halving
//! adds a rounding a level. [`SLACK`] is more than all of it together.

pub mod net;
pub mod prover;

use super::draft::{Draft, Halves};
use crate::body::cells::{Cell, cells};
use crate::piece::Piece;
use net::Net;
use prover::{Prover, Way};

/// By how much solving for coefficients multiplies errors, along and across
/// together, at most.
const AMPLIFIED: f64 = 10_000.0;
/// The error of a coefficient over the product of the sizes of S_u and S_v.
const SLACK: f64 = 128.0 * (f64::EPSILON / 2.0) * AMPLIFIED;
/// Cuts of a cell: beyond it the limit is met nearly.
const DEEPEST: u32 = 7;
/// Cuts of a cell in a survey, which need not decide everything.
const SURVEYED: u32 = 3;
/// All cuts of one proof.
const MOST_CUTS: usize = 20_000;
/// Degree of N in u: two from S_u, three from S_v.
const DEGREE_ALONG: usize = 5;

/// What is proved of the draft over a cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Proof {
    /// Everywhere more than the least draft.
    Drafted,
    /// Everywhere below 0: all of it is undercut.
    Undercut,
    /// Neither, at this size.
    Open,
}

/// Whether every place of the skin is proved to have more than the least draft
/// of `draft`, for a mould in one part.
pub fn proves(piece: &Piece, draft: &Draft) -> bool {
    if draft.halves == Halves::Two || 90.0 <= draft.least {
        return false;
    }
    let mut search = Search::new(piece, draft, DEEPEST);
    cells(piece).iter().all(|cell| {
        let net = search.prover.net(cell);
        search.visit(&net, cell, 0, &mut |_, proof| proof == Proof::Drafted)
    })
}

/// The whole skin in cells with what is proved of each, for a mould in one part:
/// they show how far the proof reaches, and which parts are undercut without a
/// doubt. For two halves see [`super::band`].
pub fn survey(piece: &Piece, draft: &Draft) -> Vec<(Cell, Proof)> {
    let mut search = Search::new(piece, draft, SURVEYED);
    let mut found = Vec::new();
    for cell in cells(piece) {
        let net = search.prover.net(&cell);
        search.visit(&net, &cell, 0, &mut |cell, proof| {
            found.push((*cell, proof));
            true
        });
    }
    found
}

/// A search cell by cell, each cut in four until it is decided.
struct Search<'a> {
    prover: Prover<'a>,
    deepest: u32,
    cuts: usize,
}

impl<'a> Search<'a> {
    fn new(piece: &'a Piece, draft: &'a Draft, deepest: u32) -> Self {
        let prover = Prover::new(piece, draft);
        let cuts = 0;
        Self {
            prover,
            deepest,
            cuts,
        }
    }

    /// Tells `found` of parts that make up the cell until it returns false; says
    /// whether it never did.
    fn visit(
        &mut self,
        net: &Net,
        cell: &Cell,
        depth: u32,
        found: &mut dyn FnMut(&Cell, Proof) -> bool,
    ) -> bool {
        if self.prover.is_drafted(net, cell, Way::With) {
            return found(cell, Proof::Drafted);
        }
        if self.prover.way(net, cell) == Some(Way::Against) {
            return found(cell, Proof::Undercut);
        }
        self.cuts += 1;
        if self.deepest <= depth || MOST_CUTS <= self.cuts {
            return found(cell, Proof::Open);
        }
        let (low, high) = net.halves(true);
        let (near, far) = (low.halves(false), high.halves(false));
        let middle = cell.at(0.5, 0.5);
        let (alongs, acrosses) = (
            [(cell.along.0, middle.0), (middle.0, cell.along.1)],
            [(cell.across.0, middle.1), (middle.1, cell.across.1)],
        );
        let quarters = [(near.0, 0, 0), (near.1, 0, 1), (far.0, 1, 0), (far.1, 1, 1)];
        quarters.iter().all(|(net, along, across)| {
            let cell = Cell {
                along: alongs[*along],
                across: acrosses[*across],
            };
            self.visit(net, &cell, depth + 1, found)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::net::to_bernstein;
    use super::*;

    #[test]
    fn conversion_multiplies_errors_by_less_than_allowed() {
        let most = |degree: usize| {
            let matrix = to_bernstein(degree);
            (0..=degree)
                .map(|row| matrix.row(row).iter().map(|x| x.abs()).sum::<f64>())
                .fold(0.0, f64::max)
        };
        for degree in 1..=8 {
            println!("{degree}: {}", most(degree));
            assert!(most(DEGREE_ALONG) * most(degree) < AMPLIFIED);
        }
    }
}
