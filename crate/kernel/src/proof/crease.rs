//! Crease: the break of a section's tangent at a joint where neither profile has
//! a corner.
//!
//! Both tangents of each profile run the same way there, but at other speeds
//! before and after, so their blends may break in between. Profiles of even
//! speed have no crease at all.

use super::piece::{Part, Piece, visit_pieces};
use super::prepared::Ready;
use super::telling;
use super::turn::{self, Turn, stays_within};
use crate::curve::Curve;
use crate::verdict::{Doubt, Fault, FaultKind};
use nalgebra::Vector2;

/// Whether sections run smoothly, to within `limit` (radians), through every
/// joint at which neither profile has a corner.
pub fn crease(pair: [&Ready; 2], limit: f64) -> (Option<Fault>, Option<Doubt>) {
    if pair.iter().all(|ready| ready.even_speed) {
        return (None, None);
    }
    let curves = pair.map(|ready| &ready.curve);
    let (mut fault, mut doubt) = (None, None);
    let mut judge = |before: &Piece, after: &Piece| match joint_crease(curves, before, after, limit)
    {
        (None, None) => {}
        (Some(found), _) => {
            let worse = fault.is_none_or(|fault: Fault| fault.angle.abs() < found.angle.abs());
            if worse {
                fault = Some(found);
            }
        }
        (None, open) => doubt = doubt.or(open),
    };
    let mut first: Option<Piece> = None;
    let mut last: Option<Piece> = None;
    visit_pieces(curves, 0.0, 1.0, |piece| {
        if let Some(last) = &last {
            judge(last, &piece);
        }
        first.get_or_insert(piece);
        last = Some(piece);
        true
    });
    let closed = curves.iter().all(|curve| curve.is_closed());
    if let (true, Some(first), Some(last)) = (closed, first, last) {
        judge(&last, &first);
    }
    (fault, doubt)
}

fn joint_crease(
    curves: [&Curve; 2],
    before: &Piece,
    after: &Piece,
    limit: f64,
) -> (Option<Fault>, Option<Doubt>) {
    let at_corner = (0..2).any(|side| {
        let part = &after.parts[side];
        part.local.0 == 0.0 && curves[side].is_corner(part.span)
    });
    if at_corner {
        return (None, None);
    }
    let arriving = tangents(before, 1);
    let leaving = tangents(after, 0);
    let raised = |ends: [Vector2<f64>; 2]| [ends[0], (ends[0] + ends[1]) * 0.5, ends[1]];
    let along = after.from;
    let place = |across: f64| telling::place(curves, along, along, across);
    match stays_within(
        &raised(arriving),
        &raised(leaving),
        [
            scale(arriving, before, |part| part.local.1 == 1.0),
            scale(leaving, after, |part| part.local.0 == 0.0),
        ],
        limit,
    ) {
        Turn::Within => (None, None),
        Turn::Beyond { at, turn } => {
            let (across, angle) = worst_crease(arriving, leaving, at, turn);
            let fault = Fault {
                kind: FaultKind::Crease,
                place: place(across),
                angle: angle.to_degrees(),
            };
            (Some(fault), None)
        }
        Turn::Open { at } => (
            None,
            Some(Doubt::AtLimit {
                kind: FaultKind::Crease,
                place: place(at),
            }),
        ),
    }
}

/// The tangents of both curves at the start (`end` 0) or the end (1) of `piece`.
///
/// One without a handle there adds nothing to a blend: all blends but itself
/// have the direction of the other. Two without have those of their second
/// derivatives.
fn tangents(piece: &Piece, end: usize) -> [Vector2<f64>; 2] {
    let ends = piece.parts.map(|part| part.steps[2 * end]);
    let told = match piece.parts.map(|part| part.is_bare(end)) {
        [false, false] => ends,
        [true, false] => [ends[1]; 2],
        [false, true] => [ends[0]; 2],
        [true, true] => piece.parts.map(|part| part.steps[1]),
    };
    told.map(|tangent| tangent / (piece.to - piece.from))
}

/// The scale of the error of every blend of `ends`, the tangents of both curves
/// at one end of `piece`.
///
/// At an end of its own span a tangent is exact but for one rounding of itself.
/// Inside a span it is off by a share of the span's longest step, which it may
/// be far shorter than. Of two exact ones the shorter counts: where a blend of
/// them is short, each has a part in it no longer than that and the blend
/// together.
fn scale(ends: [Vector2<f64>; 2], piece: &Piece, is_exact: impl Fn(&Part) -> bool) -> f64 {
    let length = piece.to - piece.from;
    let rounded = piece.parts.iter().filter(|part| !is_exact(part));
    rounded
        .map(|part| part.reach / length)
        .reduce(f64::max)
        .unwrap_or(ends[0].amax().min(ends[1].amax()))
}

/// Climbs from a witness to the worst fraction across; every step is one too.
fn worst_crease(
    arriving: [Vector2<f64>; 2],
    leaving: [Vector2<f64>; 2],
    at: f64,
    angle: f64,
) -> (f64, f64) {
    let crease = |v: f64| {
        let blend = |ends: [Vector2<f64>; 2]| ends[0] + (ends[1] - ends[0]) * v;
        turn::turn(blend(arriving), blend(leaving))
    };
    let (mut best, mut worst) = (at, angle);
    let mut step = 0.125;
    while 1e-9 < step {
        let better = [best - step, best + step]
            .into_iter()
            .filter(|v| (0.0..=1.0).contains(v))
            .map(|v| (v, crease(v)))
            .find(|(_, angle)| worst.abs() < angle.abs());
        match better {
            Some(found) => (best, worst) = found,
            None => step *= 0.5,
        }
    }
    (best, worst)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::family::Pacing;
    use crate::profile::{Node, Profile};
    use nalgebra::Point2;

    /// Inside a span that runs 1000 steps, what is left of a tangent a billionth
    /// of a billionth as long is rounding: it says nothing about a crease.
    #[test]
    fn what_rounding_left_of_a_tangent_shows_no_crease() {
        let nodes = vec![Node::smooth(0, 0), Node::smooth(1000, 0)];
        let line = Curve::new(&Profile::open(nodes), Pacing::Parameter).unwrap();
        let piece = |from: f64, tangent: Vector2<f64>| Piece {
            from,
            to: from + 0.5,
            parts: [Part {
                points: [Point2::origin(); 4],
                steps: [tangent; 3],
                share: 0.25,
                reach: 1000.0,
                span: 0,
                local: (0.5 * from + 0.25, 0.5 * from + 0.5),
            }; 2],
        };
        let before = piece(0.0, Vector2::new(1e-15, 0.0));
        let after = piece(0.5, Vector2::new(0.0, 1e-15));
        let (fault, doubt) = joint_crease([&line, &line], &before, &after, 0.1);
        assert_eq!(fault, None);
        assert!(matches!(doubt, Some(Doubt::AtLimit { .. })));
    }
}
