//! Folds: the certain zeros along the diagonal, where two places are one.
//!
//! Box: a stretch of one piece, or the bridge from the slopes before a joint to
//! those after it, as two quadratics. Quantity: their cross and dot products.
//! Test: where the cross product has one side beyond rounding, no fold; from one
//! side to the other, while all between opposes, a fold is certain (intermediate
//! value theorem). Zeros at joints and halves need no care: a stretch without a
//! certain side only has to oppose. Unlike [`super::witness`] this looks at the
//! whole diagonal, and takes longer.

use super::bounds;
use super::piece::{Piece, visit_pieces};
use super::turn::{halves, product};
use super::witness::error_of_product;
use crate::curve::Curve;
use nalgebra::Vector2;

/// Halvings of one piece: these reach the rounding of a parameter.
const DEEPEST: u32 = 48;
/// Boxes along the diagonal of one pair.
const MOST_BOXES: u32 = 20_000;

/// Where slopes oppose.
#[derive(Clone, Copy, Debug)]
pub struct Fold {
    /// The fraction along.
    pub along: f64,
    /// The fraction across of the vanishing blend.
    pub across: f64,
}

/// All folds that are certain; two within rounding of each other may be missed.
pub fn folds(curves: [&Curve; 2]) -> Vec<Fold> {
    let mut walk = Walk {
        found: Vec::new(),
        side: 0,
        boxes: 0,
    };
    let (mut first, mut last): (Option<Piece>, Option<Piece>) = (None, None);
    visit_pieces(curves, 0.0, 1.0, |piece| {
        walk.over(last.as_ref(), &piece);
        first.get_or_insert(piece);
        last = Some(piece);
        true
    });
    if let (true, Some(first)) = (curves.iter().all(|curve| curve.is_closed()), first) {
        walk.over(last.as_ref(), &first);
    }
    walk.found
}

type Quadratic = [Vector2<f64>; 3];

struct Walk {
    found: Vec<Fold>,
    /// The last certain side, if all since then opposes; else 0.
    side: i8,
    boxes: u32,
}

impl Walk {
    /// Goes on over the bridge from `last` and along `piece`.
    fn over(&mut self, last: Option<&Piece>, piece: &Piece) {
        let slopes = |piece: &Piece, side: usize| {
            let length = piece.to - piece.from;
            let part = &piece.parts[side];
            (
                part.steps.map(|step| step / length),
                bounds::PATCH * part.reach / length,
            )
        };
        let here = [0, 1].map(|side| slopes(piece, side));
        if let Some(last) = last {
            let bridge = [0, 1].map(|side| {
                let ((before, error), (after, its)) = (slopes(last, side), here[side]);
                let middle = (before[2] + after[0]) * 0.5;
                ([before[2], middle, after[0]], error.max(its))
            });
            self.visit(bridge, (piece.from, piece.from), 0);
        }
        self.visit(here, (piece.from, piece.to), 0);
    }

    fn visit(&mut self, [(a, e), (b, f)]: [(Quadratic, f64); 2], ends: (f64, f64), depth: u32) {
        self.boxes += 1;
        let longest = |q: &Quadratic| q[0].abs().sup(&q[1].abs()).sup(&q[2].abs());
        let error = error_of_product(longest(&a), longest(&b), [e, f]);
        let product = product(&a, &b);
        if let Some(side) = [1, -1]
            .into_iter()
            .find(|&side| product.iter().all(|z| error < f64::from(side) * z.y))
        {
            if self.side == -side {
                self.add(ends.0, a[0].norm() / (a[0].norm() + b[0].norm()));
            }
            self.side = side;
            return;
        }
        let leaf = depth == DEEPEST
            || MOST_BOXES < self.boxes
            || product.iter().all(|z| error < z.x)
            || product.iter().all(|z| z.y.abs() <= error);
        if leaf {
            if product.iter().any(|z| -error <= z.x) {
                self.side = 0;
            }
            return;
        }
        let ((a_low, a_high), (b_low, b_high)) = (halves(&a), halves(&b));
        let middle = f64::midpoint(ends.0, ends.1);
        self.visit([(a_low, e), (b_low, f)], (ends.0, middle), depth + 1);
        self.visit([(a_high, e), (b_high, f)], (middle, ends.1), depth + 1);
    }

    /// A closed pair is gone over its first piece twice.
    fn add(&mut self, along: f64, across: f64) {
        let is_known = |fold: &Fold| {
            let (u, v) = (fold.along - along, fold.across - across);
            u.abs().max(v.abs()) < bounds::MET
        };
        if !self.found.iter().any(is_known) {
            self.found.push(Fold { along, across });
        }
    }
}
