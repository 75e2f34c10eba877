//! A bundle: many curves over one parameter, as one tree of stretches.
//!
//! What [`super::stretch`] is to a pair, for any number of curves: the dyadic
//! trees above, the pieces between the joints of all of them below.

use super::cone::Cone;
use super::extremes::{greater, lesser};
use super::piece::{Part, walk};
use super::prepared::{Bounds, Ready};
use super::spread::{Between, DIRECTIONS, Spread};
use super::stretch::{Stretch, Stretches, coarse_ends};
use crate::curve::Curve;

/// Many curves and the part of their tree that was opened.
pub struct Bundle<'a> {
    members: &'a [&'a Ready],
    depth: u32,
    /// The cone of all members over each dyadic node, in heap order.
    cones: Vec<Cone>,
    leaves: Vec<Option<Stretch>>,
    groups: Vec<Group>,
    pieces: Vec<Woven>,
}

struct Group {
    children: [Stretch; 2],
    bounds: Vec<Bounds>,
    cone: Cone,
}

/// All members over one piece.
pub struct Woven {
    /// Where it starts, as a fraction along.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// One part a member.
    pub parts: Vec<Part>,
    bounds: Vec<Bounds>,
    cone: Cone,
}

impl<'a> Bundle<'a> {
    /// The tree of `members`, one or more.
    pub fn new(members: &'a [&'a Ready]) -> Self {
        let depth = members.iter().map(|member| member.depth).min().unwrap_or(0);
        let cones = (0..2_usize << depth)
            .map(|node| common_cone(members.iter().map(|member| &member.tree[node])))
            .collect();
        Self {
            members,
            depth,
            cones,
            leaves: vec![None; 1 << depth],
            groups: Vec::new(),
            pieces: Vec::new(),
        }
    }

    /// The curves.
    pub fn members(&self) -> &'a [&'a Ready] {
        self.members
    }

    /// The cone of all members over `stretch`.
    pub fn cone(&self, stretch: Stretch) -> Cone {
        match stretch {
            Stretch::Coarse(node) => self.cones[node as usize],
            Stretch::Group(index) => self.groups[index as usize].cone,
            Stretch::Piece(index) => self.pieces[index as usize].cone,
        }
    }

    fn spread(&self, stretch: Stretch, member: usize) -> &Spread {
        match stretch {
            Stretch::Coarse(node) => &self.members[member].tree[node as usize].spread,
            Stretch::Group(index) => &self.groups[index as usize].bounds[member].spread,
            Stretch::Piece(index) => &self.pieces[index as usize].bounds[member].spread,
        }
    }

    /// The piece with number `index`.
    pub fn piece(&self, index: u32) -> &Woven {
        &self.pieces[index as usize]
    }

    /// A direction that separates the two stretches in every member, by more
    /// than `needed` of each; directions between neighbours count.
    pub fn separation(&self, one: Stretch, other: Stretch, needed: &[f64]) -> Option<Between> {
        let mut least = [f64::INFINITY; 2 * DIRECTIONS];
        // Bounds on x / y for x gap[k] + y gap[k + 1] to be positive.
        let mut above = [0.0_f64; 2 * DIRECTIONS];
        let mut below = [f64::INFINITY; 2 * DIRECTIONS];
        for (member, needed) in needed.iter().enumerate() {
            let gaps = self
                .spread(one, member)
                .gaps(self.spread(other, member), *needed);
            for k in 0..2 * DIRECTIONS {
                least[k] = lesser(gaps[k], least[k]);
                let (p, q) = (gaps[k], gaps[(k + 1) % (2 * DIRECTIONS)]);
                if p <= 0.0 && q <= 0.0 {
                    below[k] = 0.0;
                } else if q <= 0.0 {
                    above[k] = greater(-q / p, above[k]);
                } else if p < 0.0 {
                    below[k] = lesser(-q / p, below[k]);
                }
            }
        }
        if let Some(k) = least.iter().position(|&gap| 0.0 < gap) {
            return Some(Between::at(k));
        }
        // Far more than the rounding of the quotients.
        const SAFETY: f64 = 1.0 + 1e-12;
        let serves = |k: &usize| SAFETY * above[*k] < below[*k] && 0.0 < below[*k];
        let k = (0..2 * DIRECTIONS).find(serves)?;
        let ratio = if below[k] == f64::INFINITY {
            2.0 * above[k] + 1.0
        } else {
            f64::midpoint(above[k], below[k])
        };
        Some(Between::mixed(k, ratio, 1.0))
    }

    /// Adds the pieces over `from`..`to`.
    fn weave(&mut self, from: f64, to: f64) {
        let curves: Vec<&Curve> = self.members.iter().map(|member| &member.curve).collect();
        let pieces = &mut self.pieces;
        let mut spans = vec![0; curves.len()];
        walk(&curves, &mut spans, from, to, |from, to, spans| {
            let parts: Vec<Part> = curves
                .iter()
                .zip(spans)
                .map(|(curve, &span)| Part::cut(curve, span, from, to))
                .collect();
            let bounds: Vec<Bounds> = parts.iter().map(Bounds::of).collect();
            pieces.push(Woven {
                from,
                to,
                cone: common_cone(bounds.iter()),
                bounds,
                parts,
            });
            true
        });
    }

    fn bounds(&self, stretch: Stretch) -> &[Bounds] {
        match stretch {
            Stretch::Group(index) => &self.groups[index as usize].bounds,
            Stretch::Piece(index) => &self.pieces[index as usize].bounds,
            Stretch::Coarse(_) => unreachable!("groups are made of pieces"),
        }
    }

    fn grouped(&mut self, first: u32, end: u32) -> Stretch {
        if end - first == 1 {
            return Stretch::Piece(first);
        }
        let middle = first + (end - first) / 2;
        let children = [self.grouped(first, middle), self.grouped(middle, end)];
        let bounds: Vec<Bounds> = self
            .bounds(children[0])
            .iter()
            .zip(self.bounds(children[1]))
            .map(|(one, other)| one.joined(other))
            .collect();
        let cone = common_cone(bounds.iter());
        self.groups.push(Group {
            children,
            bounds,
            cone,
        });
        Stretch::Group(self.groups.len() as u32 - 1)
    }
}

impl Stretches for Bundle<'_> {
    fn open(&mut self, stretch: Stretch) -> Stretch {
        let Stretch::Coarse(node) = stretch else {
            return stretch;
        };
        let leaves = 1_u32 << self.depth;
        if node < leaves {
            return stretch;
        }
        let leaf = (node - leaves) as usize;
        if let Some(opened) = self.leaves[leaf] {
            return opened;
        }
        let width = 1.0 / f64::from(leaves);
        let first = self.pieces.len() as u32;
        self.weave(leaf as f64 * width, (leaf + 1) as f64 * width);
        let opened = self.grouped(first, self.pieces.len() as u32);
        self.leaves[leaf] = Some(opened);
        opened
    }

    fn halves(&self, stretch: Stretch) -> Option<[Stretch; 2]> {
        match stretch {
            Stretch::Coarse(node) if node < 1 << self.depth => {
                Some([Stretch::Coarse(2 * node), Stretch::Coarse(2 * node + 1)])
            }
            Stretch::Group(index) => Some(self.groups[index as usize].children),
            Stretch::Coarse(_) | Stretch::Piece(_) => None,
        }
    }

    fn ends(&self, stretch: Stretch) -> (f64, f64) {
        match stretch {
            Stretch::Coarse(node) => coarse_ends(node),
            Stretch::Group(index) => {
                let [low, high] = self.groups[index as usize].children;
                (self.ends(low).0, self.ends(high).1)
            }
            Stretch::Piece(index) => {
                let piece = self.piece(index);
                (piece.from, piece.to)
            }
        }
    }
}

fn common_cone<'b>(bounds: impl Iterator<Item = &'b Bounds>) -> Cone {
    bounds
        .map(|bounds| bounds.cone)
        .reduce(Cone::joined)
        .unwrap_or(Cone::WIDE)
}
