//! The proof of how far from the parting line the draft can be below its limit.
//!
//! The skin is cut into leaves until each is proved to keep the limit, or is proved
//! to face one half and to be below the limit all over, or is as fine as asked. From
//! a place of a leaf that faces one half walk along u, or along v, until a leaf is
//! entered that is proved to face the other: n·d has changed its sign on the way, so
//! the walk has met a parting line (at an edge it has jumped across 0, and the edge
//! is the line). So the place is no farther from a parting line, along the skin,
//! than the walk is long; of a leaf that is not proved to face either half the
//! longer of both walks counts, for each of its places faces one of them.
//!
//! A walk along u is no longer than the integral of |S_u|, and that no more than the
//! mean of the Bernstein coefficients' sizes in the worst row times the width; the
//! area likewise, by |N|. All is multiplied by 1 + [`SPARE`], more than the sums of
//! up to 100,000 terms are wrong by.

use crate::body::cells::{Cell, cells};
use crate::making::draft::Draft;
use crate::making::draft_proof::net::Net;
use crate::making::draft_proof::prover::{Prover, Way};
use crate::piece::Piece;
use std::collections::VecDeque;

/// Cuts of one proof at most, shared evenly by the cells that need any.
const MOST_CUTS: usize = 20_000;
/// What sums are enlarged by.
const SPARE: f64 = 1e-9;

/// A part of the skin with what is proved of it.
pub struct Leaf {
    cell: Cell,
    /// Which way all of it faces.
    way: Option<Way>,
    /// Whether all of it has the least draft, to the half that it faces.
    kept: bool,
    /// No line along u in it is longer, mm.
    along: f64,
    /// No line along v in it is longer, mm.
    across: f64,
    /// It is no larger, mm².
    area: f64,
}

impl Leaf {
    /// Its cell, and whether it keeps the limit.
    pub fn told(&self) -> (Cell, bool) {
        (self.cell, self.kept)
    }
}

/// The skin in leaves, down to `fine` mm where they decide.
pub fn leaves(piece: &Piece, draft: &Draft, fine: f64) -> Vec<Leaf> {
    let prover = Prover::new(piece, draft);
    let mut found = Vec::new();
    let mut undecided = Vec::new();
    for cell in cells(piece) {
        let nets = prover.nets_of_skin(&cell);
        let (leaf, is_decided) = looked_at(&prover, &nets, cell);
        if is_decided {
            found.push(leaf);
        } else {
            undecided.push((cell, nets));
        }
    }
    let share = MOST_CUTS / undecided.len().max(1);
    for (cell, nets) in undecided {
        cut(&prover, (cell, nets), (fine, share), &mut found);
    }
    found
}

/// The leaf of a cell, and whether cutting it would tell nothing more.
fn looked_at(prover: &Prover, nets: &[Net; 3], cell: Cell) -> (Leaf, bool) {
    let [cross, along, across] = nets;
    let way = prover.way(cross, &cell);
    let kept = way.is_some_and(|way| prover.is_drafted(cross, &cell, way));
    let (wide, high) = (cell.along.1 - cell.along.0, cell.across.1 - cell.across.0);
    let leaf = Leaf {
        cell,
        way,
        kept,
        along: wide * along.longest(true),
        across: high * across.longest(false),
        area: wide * high * cross.mean(),
    };
    (leaf, kept || way.is_some() && prover.is_short(cross, &cell))
}

/// Cuts a cell, the largest parts first, each across the direction in which the
/// draft changes most.
fn cut(prover: &Prover, root: (Cell, [Net; 3]), (fine, most): (f64, usize), found: &mut Vec<Leaf>) {
    let mut open = VecDeque::from([root]);
    let mut cuts = 0;
    while let Some((cell, nets)) = open.pop_front() {
        let (leaf, is_decided) = looked_at(prover, &nets, cell);
        let changes = prover.changes(&nets[0], &cell);
        let by_along = changes.1 <= changes.0;
        let is_fine = fine >= if by_along { leaf.along } else { leaf.across };
        if is_decided || is_fine || cuts == most {
            found.push(leaf);
            continue;
        }
        cuts += 1;
        let halves = nets.map(|net| net.halves(by_along));
        let middle = cell.at(0.5, 0.5);
        let (mut low, mut high) = (cell, cell);
        if by_along {
            (low.along.1, high.along.0) = (middle.0, middle.0);
        } else {
            (low.across.1, high.across.0) = (middle.1, middle.1);
        }
        open.push_back((low, halves.clone().map(|(low, _)| low)));
        open.push_back((high, halves.map(|(_, high)| high)));
    }
}

/// The area that is not proved to keep the limit, at most.
pub fn area(leaves: &[Leaf]) -> f64 {
    let open = leaves.iter().filter(|leaf| !leaf.kept);
    open.fold(0.0, |sum, leaf| sum + leaf.area) * (1.0 + SPARE)
}

/// No place below the limit is farther from a parting line; none when some leaf
/// allows no such bound.
pub fn bound(piece: &Piece, leaves: &[Leaf]) -> Option<f64> {
    let closed = (piece.is_closed_along(), piece.is_closed_across());
    let walks = [Way::With, Way::Against].map(|way| nearest(leaves, closed, way));
    let open = leaves.iter().enumerate().filter(|(_, leaf)| !leaf.kept);
    let farthest = open.map(|(index, leaf)| {
        let [with, against] = [walks[0][index], walks[1][index]];
        match leaf.way {
            Some(Way::With) => against,
            Some(Way::Against) => with,
            None => with.max(against),
        }
    });
    let farthest = farthest.fold(0.0, f64::max) * (1.0 + SPARE);
    farthest.is_finite().then_some(farthest)
}

/// For each leaf the shortest of four walks from any place of it to skin that faces
/// `way`, at most.
fn nearest(leaves: &[Leaf], closed: (bool, bool), way: Way) -> Vec<f64> {
    let mut nearest = vec![f64::INFINITY; leaves.len()];
    for along in [true, false] {
        for forward in [true, false] {
            let is_closed = if along { closed.0 } else { closed.1 };
            let runs: Vec<Run> = leaves
                .iter()
                .map(|leaf| Run::new(leaf, along, forward, way))
                .collect();
            for (nearest, walk) in nearest.iter_mut().zip(walked(&runs, is_closed)) {
                *nearest = nearest.min(walk);
            }
        }
    }
    nearest
}

/// A leaf as a walk sees it: from and to in the direction of the walk, what it
/// covers aside, its length, and whether the walk ends on entering it.
struct Run {
    from: f64,
    to: f64,
    aside: (f64, f64),
    length: f64,
    is_end: bool,
}

impl Run {
    fn new(leaf: &Leaf, along: bool, forward: bool, way: Way) -> Self {
        let (run, aside, length) = if along {
            (leaf.cell.along, leaf.cell.across, leaf.along)
        } else {
            (leaf.cell.across, leaf.cell.along, leaf.across)
        };
        // Backward by the mirrored fraction; 1 - x is the same wherever x is.
        let (from, to) = if forward {
            run
        } else {
            (1.0 - run.1, 1.0 - run.0)
        };
        Self {
            from,
            to,
            aside,
            length,
            is_end: leaf.way == Some(way),
        }
    }

    /// How much of the side both share.
    fn shared(&self, other: &Self) -> f64 {
        self.aside.1.min(other.aside.1) - self.aside.0.max(other.aside.0)
    }
}

/// How long the walk through each run and on is at most until it ends; infinite
/// where it may never end.
fn walked(runs: &[Run], is_closed: bool) -> Vec<f64> {
    let mut order: Vec<usize> = (0..runs.len()).collect();
    order.sort_by(|&one, &other| runs[one].from.total_cmp(&runs[other].from));
    let mut walks = vec![f64::INFINITY; runs.len()];
    // The last run leads to the first of a closed skin: once more round is enough,
    // for a walk that has gone all round ends nowhere.
    let laps = if is_closed { 2 } else { 1 };
    for _ in 0..laps {
        for &index in order.iter().rev() {
            let run = &runs[index];
            let to = if is_closed && run.to == 1.0 {
                0.0
            } else {
                run.to
            };
            let first = order.partition_point(|&other| runs[other].from < to);
            let next = order[first..].iter().map(|&other| (other, &runs[other]));
            let next = next.take_while(|(_, other)| other.from == to);
            let (mut covered, mut rest) = (0.0, 0.0_f64);
            for (other, next) in next {
                let shared = run.shared(next);
                if 0.0 < shared {
                    covered += shared;
                    rest = rest.max(if next.is_end { 0.0 } else { walks[other] });
                }
            }
            // Beyond an edge there is nothing; a gap between leaves would be a slip.
            let whole = (run.aside.1 - run.aside.0) * (1.0 - SPARE);
            if whole <= covered {
                walks[index] = run.length + rest;
            }
        }
    }
    walks
}
