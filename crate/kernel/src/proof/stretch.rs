//! Stretches: the parameter of a pair as a tree, coarse above and exact below.
//!
//! Above stand the dyadic stretches that each profile was prepared with; where
//! they do not decide, a leaf is opened into the pieces of this pair. Most
//! pairs never open one, so their cost does not depend on how many spans there
//! are. Memory is kept from pair to pair.

use super::piece::{Piece, visit_pieces};
use super::prepared::{Bounds, Ready};

/// A stretch of the parameter of the pair at hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stretch {
    /// Node of the dyadic trees, in heap order.
    Coarse(u32),
    /// Inner node over the pieces of an opened leaf.
    Group(u32),
    /// One piece.
    Piece(u32),
}

/// The parameter as a search divides it: into halves down to pieces.
pub trait Stretches {
    /// A coarse leaf as the tree of its pieces; anything else as it is.
    fn open(&mut self, stretch: Stretch) -> Stretch;
    /// The two halves of a coarse stretch above the leaves or of a group; none
    /// for a leaf (to be opened) and for a piece.
    fn halves(&self, stretch: Stretch) -> Option<[Stretch; 2]>;
    /// From where to where `stretch` runs, as fractions along.
    fn ends(&self, stretch: Stretch) -> (f64, f64);
}

/// From where to where a node of a dyadic tree in heap order runs.
pub fn coarse_ends(node: u32) -> (f64, f64) {
    let level = node.ilog2();
    let (first, width) = (1_u32 << level, 1.0 / f64::from(1_u32 << level));
    let at = |index: u32| f64::from(index) * width;
    (at(node - first), at(node - first + 1))
}

#[derive(Clone, Copy)]
struct Group {
    children: [Stretch; 2],
    bounds: [Bounds; 2],
}

/// The opened part of the tree of one pair.
#[derive(Default)]
pub struct Opened {
    leaves: Vec<Option<Stretch>>,
    groups: Vec<Group>,
    pieces: Vec<Piece>,
    bounds: Vec<[Bounds; 2]>,
}

/// The tree of one pair.
pub struct Tree<'a> {
    pair: [&'a Ready; 2],
    depth: u32,
    opened: &'a mut Opened,
}

impl<'a> Tree<'a> {
    /// The tree of `pair`, using the memory of `opened`.
    pub fn new(pair: [&'a Ready; 2], opened: &'a mut Opened) -> Self {
        let depth = pair[0].depth.min(pair[1].depth);
        opened.leaves.clear();
        opened.leaves.resize(1 << depth, None);
        opened.groups.clear();
        opened.pieces.clear();
        opened.bounds.clear();
        Self {
            pair,
            depth,
            opened,
        }
    }

    /// The bounds of a stretch, one for each curve.
    pub fn bounds(&self, stretch: Stretch) -> [&Bounds; 2] {
        match stretch {
            Stretch::Coarse(node) => [0, 1].map(|side| &self.pair[side].tree[node as usize]),
            Stretch::Group(index) => {
                let group = &self.opened.groups[index as usize];
                [&group.bounds[0], &group.bounds[1]]
            }
            Stretch::Piece(index) => {
                let bounds = &self.opened.bounds[index as usize];
                [&bounds[0], &bounds[1]]
            }
        }
    }

    /// The piece with number `index`.
    pub fn piece(&self, index: u32) -> &Piece {
        &self.opened.pieces[index as usize]
    }

    fn grouped(&mut self, first: u32, end: u32) -> Stretch {
        if end - first == 1 {
            return Stretch::Piece(first);
        }
        let middle = first + (end - first) / 2;
        let children = [self.grouped(first, middle), self.grouped(middle, end)];
        let [one, other] = children.map(|child| self.bounds(child).map(|bounds| *bounds));
        let bounds = [0, 1].map(|side| one[side].joined(&other[side]));
        self.opened.groups.push(Group { children, bounds });
        Stretch::Group(self.opened.groups.len() as u32 - 1)
    }
}

impl Stretches for Tree<'_> {
    fn open(&mut self, stretch: Stretch) -> Stretch {
        let Stretch::Coarse(node) = stretch else {
            return stretch;
        };
        let leaves = 1 << self.depth;
        if node < leaves {
            return stretch;
        }
        let leaf = (node - leaves) as usize;
        if let Some(opened) = self.opened.leaves[leaf] {
            return opened;
        }
        let width = 1.0 / f64::from(leaves);
        let from = leaf as f64 * width;
        let first = self.opened.pieces.len() as u32;
        let curves = [&self.pair[0].curve, &self.pair[1].curve];
        let Opened { pieces, bounds, .. } = &mut *self.opened;
        visit_pieces(curves, from, from + width, |piece| {
            bounds.push([0, 1].map(|side| Bounds::of(&piece.parts[side])));
            pieces.push(piece);
            true
        });
        let opened = self.grouped(first, self.opened.pieces.len() as u32);
        self.opened.leaves[leaf] = Some(opened);
        opened
    }

    fn halves(&self, stretch: Stretch) -> Option<[Stretch; 2]> {
        match stretch {
            Stretch::Coarse(node) if node < 1 << self.depth => {
                Some([Stretch::Coarse(2 * node), Stretch::Coarse(2 * node + 1)])
            }
            Stretch::Group(index) => Some(self.opened.groups[index as usize].children),
            Stretch::Coarse(_) | Stretch::Piece(_) => None,
        }
    }

    fn ends(&self, stretch: Stretch) -> (f64, f64) {
        match stretch {
            Stretch::Coarse(node) => coarse_ends(node),
            Stretch::Group(index) => {
                let [low, high] = self.opened.groups[index as usize].children;
                (self.ends(low).0, self.ends(high).1)
            }
            Stretch::Piece(index) => {
                let piece = self.piece(index);
                (piece.from, piece.to)
            }
        }
    }
}
