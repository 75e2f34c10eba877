//! Twist: the turn from the tangent of one profile to that of the other at like
//! places, over the whole pair.
//!
//! The cones of the two hodographs bound it, whole stretches at a time; where
//! they are too coarse the pieces are asked one by one (see [`super::turn`]).

use super::piece::visit_pieces;
use super::prepared::{Ready, SAMPLES, sample_parameter};
use super::telling;
use super::turn::{self, Turn, stays_within};
use crate::verdict::{Doubt, Fault, FaultKind, Place};

/// Whether the twist stays within `limit` (radians): a fault where it does not,
/// a doubt where that is not settled.
pub fn twist(pair: [&Ready; 2], limit: f64) -> (Option<Fault>, Option<Doubt>) {
    let depth = pair[0].depth.min(pair[1].depth);
    let leaves = 1_usize << depth;
    let mut open = None;
    let mut node = 1;
    loop {
        let cones = [0, 1].map(|side| pair[side].tree[node].cone);
        let bounded = cones[0].is_narrow() && cones[1].is_narrow() && {
            let (least, most) = cones[0].turns_to(cones[1]);
            -limit < least && most < limit
        };
        if !bounded && node < leaves {
            node *= 2;
            continue;
        }
        if !bounded {
            match leaf_twist(pair, node - leaves, leaves, limit) {
                (Some(fault), _) => return (Some(fault), None),
                (None, doubt) => open = open.or(doubt),
            }
        }
        // On to the next node that no finished one holds.
        while node % 2 == 1 {
            if node == 1 {
                return (None, open);
            }
            node /= 2;
        }
        node += 1;
    }
}

fn leaf_twist(
    pair: [&Ready; 2],
    leaf: usize,
    leaves: usize,
    limit: f64,
) -> (Option<Fault>, Option<Doubt>) {
    let curves = pair.map(|ready| &ready.curve);
    let width = 1.0 / leaves as f64;
    let from = leaf as f64 * width;
    let (mut fault, mut doubt) = (None, None);
    visit_pieces(curves, from, from + width, |piece| {
        let [a, b] = &piece.parts;
        let place = |at: f64| {
            let along = piece.from + (piece.to - piece.from) * at;
            telling::place(curves, along, along, 0.5)
        };
        let ((a, a_scale), (b, b_scale)) = (a.turning(), b.turning());
        match stays_within(&a, &b, [a_scale, b_scale], limit) {
            Turn::Within => {}
            Turn::Beyond { at, turn } => fault = Some(worst_twist(pair, place(at), turn)),
            Turn::Open { at } => {
                doubt = doubt.or(Some(Doubt::AtLimit {
                    kind: FaultKind::Twist,
                    place: place(at),
                }));
            }
        }
        fault.is_none()
    });
    (fault, doubt)
}

/// The worst of the witness and the samples; each is a witness of its own.
fn worst_twist(pair: [&Ready; 2], place: Place, angle: f64) -> Fault {
    let curves = pair.map(|ready| &ready.curve);
    let (mut worst, mut at) = (angle, place);
    for index in 0..SAMPLES {
        let angle = turn::turn(pair[0].slopes[index], pair[1].slopes[index]);
        if worst.abs() < angle.abs() {
            let along = sample_parameter(index);
            (worst, at) = (angle, telling::place(curves, along, along, 0.5));
        }
    }
    Fault {
        kind: FaultKind::Twist,
        place: at,
        angle: worst.to_degrees(),
    }
}
