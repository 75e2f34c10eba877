//! Judgements: all questions about one profile or one pair, put together.
//!
//! Inputs that would eat the whole budget are named first, by exact tests.

use super::axis::AxisState;
use super::piece::{Piece, visit_pieces};
use super::prepared::{Ready, SAMPLES, sample_parameter};
use super::search::{Memory, Outcome, search};
use super::turn::{self, Turn, enforced, stays_within};
use super::witness;
use crate::curve::Curve;
use crate::family::{Pacing, Settings};
use crate::verdict::{Doubt, Fault, FaultKind, Judgement, Place};
use nalgebra::Vector2;

/// Judges one profile by itself: simple, and off the axis in a ring.
pub fn judge_profile(ready: &Ready, memory: &mut Memory) -> Judgement {
    let (contact, doubt, boxes) = match joint_on_joint(&ready.curve) {
        Some(fault) => (Some(fault), None, 1),
        None => parts(search([ready, ready], memory)),
    };
    let (axis, axis_doubt) = axis([ready, ready]);
    Judgement::new([contact, axis, None, None], doubt.or(axis_doubt), boxes)
}

/// Judges one pair of profiles that are simple in themselves.
pub fn judge_pair(
    first: &Ready,
    second: &Ready,
    settings: &Settings,
    memory: &mut Memory,
) -> Judgement {
    let pair = [first, second];
    let spans = pair.map(|ready| ready.curve.span_count());
    if settings.pacing == Pacing::Node && spans[0] != spans[1] {
        return Judgement::doubtful(Doubt::CountsDiffer {
            first: spans[0],
            second: spans[1],
        });
    }
    let (contact, doubt, boxes) = parts(contact(pair, memory));
    let (axis, axis_doubt) = axis(pair);
    let (twist, twist_doubt) = twist(pair, enforced(settings.twist_limit));
    let (crease, crease_doubt) = crease(pair, enforced(settings.crease_limit));
    let doubt = doubt.or(axis_doubt).or(twist_doubt).or(crease_doubt);
    Judgement::new([contact, axis, twist, crease], doubt, boxes)
}

fn parts((outcome, boxes): (Outcome, u32)) -> (Option<Fault>, Option<Doubt>, u32) {
    match outcome {
        Outcome::Free => (None, None, boxes),
        Outcome::Found(fault) => (Some(fault), None, boxes),
        Outcome::Open(doubt) => (None, Some(doubt), boxes),
    }
}

/// Two joints of one curve on the very same point: a contact without a doubt.
fn joint_on_joint(curve: &Curve) -> Option<Fault> {
    let joints = curve.span_count() + usize::from(!curve.is_closed());
    let at = |joint: usize| curve.controls()[3 * joint];
    (1..joints).find_map(|later| {
        (0..later)
            .find(|&earlier| at(earlier) == at(later))
            .map(|earlier| {
                witness::crossing_alone(curve, curve.breaks()[earlier], curve.breaks()[later])
            })
    })
}

/// Folds and crossings.
fn contact(pair: [&Ready; 2], memory: &mut Memory) -> (Outcome, u32) {
    let curves = [&pair[0].curve, &pair[1].curve];
    if is_half_turn(curves) {
        return (Outcome::Found(witness::fold_at(curves, 0.0)), 1);
    }
    if looks_half_turned(pair) {
        let place = witness::place(curves, 0.0, 0.5, 0.5);
        return (Outcome::Open(Doubt::Contact { place, gap: 0.0 }), 1);
    }
    match witness::fold(pair) {
        Some(fault) => (Outcome::Found(fault), 1),
        None => search(pair, memory),
    }
}

/// Whether the second curve is the first turned by exactly 180 degrees: then
/// the section half way shrinks to a point.
fn is_half_turn(curves: [&Curve; 2]) -> bool {
    let [one, other] = curves;
    one.controls().len() == other.controls().len()
        && one.breaks() == other.breaks()
        && one
            .controls()
            .iter()
            .zip(other.controls())
            .all(|(a, b)| a.coords == -b.coords)
}

/// Whether all samples run opposite to rounding: every box would hold a near
/// zero, so the search could only spend its budget.
fn looks_half_turned(pair: [&Ready; 2]) -> bool {
    const OPPOSITE: f64 = 1e-9;
    (0..SAMPLES).all(|index| {
        let (a, b) = (pair[0].slopes[index], pair[1].slopes[index]);
        a.dot(&b) < 0.0 && a.perp(&b).abs() < OPPOSITE * a.norm() * b.norm()
    })
}

fn axis(pair: [&Ready; 2]) -> (Option<Fault>, Option<Doubt>) {
    let curves = pair.map(|ready| &ready.curve);
    let mut open = None;
    for (ready, across) in pair.into_iter().zip([0.0, 1.0]) {
        match ready.axis {
            None | Some(AxisState::Free) => {}
            Some(AxisState::Reached { along }) => {
                let fault = Fault {
                    kind: FaultKind::Axis,
                    place: witness::place(curves, along, along, across),
                    angle: 0.0,
                };
                return (Some(fault), None);
            }
            Some(AxisState::Open { along }) => {
                let place = witness::place(curves, along, along, across);
                let kind = FaultKind::Axis;
                open = open.or(Some(Doubt::AtLimit { kind, place }));
            }
        }
    }
    (None, open)
}

/// Whether the twist stays within `limit` (radians): the cones of the two
/// hodographs bound it, stretch by stretch, then piece by piece.
fn twist(pair: [&Ready; 2], limit: f64) -> (Option<Fault>, Option<Doubt>) {
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
            witness::place(curves, along, along, 0.5)
        };
        match stays_within(&a.steps, &b.steps, [a.reach, b.reach], limit) {
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
            (worst, at) = (angle, witness::place(curves, along, along, 0.5));
        }
    }
    Fault {
        kind: FaultKind::Twist,
        place: at,
        angle: worst.to_degrees(),
    }
}

/// Whether sections run smoothly, to within `limit` (radians), through every
/// joint at which neither profile has a corner. Profiles of even speed have no
/// crease at all.
fn crease(pair: [&Ready; 2], limit: f64) -> (Option<Fault>, Option<Doubt>) {
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
    if let (true, Some(first), Some(last)) = (curves[0].is_closed(), first, last) {
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
    let arriving = [0, 1].map(|side| before.parts[side].steps[2] / (before.to - before.from));
    let leaving = [0, 1].map(|side| after.parts[side].steps[0] / (after.to - after.from));
    let raised = |ends: [Vector2<f64>; 2]| [ends[0], (ends[0] + ends[1]) * 0.5, ends[1]];
    let scale = |ends: [Vector2<f64>; 2]| ends[0].amax().min(ends[1].amax());
    let along = after.from;
    let place = |across: f64| witness::place(curves, along, along, across);
    match stays_within(
        &raised(arriving),
        &raised(leaving),
        [scale(arriving), scale(leaving)],
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
    use crate::family::{Placement, TenthsOfDegree};
    use crate::profile::{Node, Profile};
    use crate::verdict::Verdict;

    const LOOSE: Settings = Settings {
        pacing: Pacing::Parameter,
        placement: Placement::Stack,
        twist_limit: TenthsOfDegree(1799),
        crease_limit: TenthsOfDegree(900),
    };

    fn ready(profile: &Profile) -> Ready {
        Ready::new(
            Curve::new(profile, Pacing::Parameter).unwrap(),
            Placement::Stack,
        )
    }

    fn pair(one: &Profile, other: &Profile) -> Judgement {
        let mut memory = Memory::default();
        let (one, other) = (ready(one), ready(other));
        for ready in [&one, &other] {
            assert_eq!(judge_profile(ready, &mut memory).verdict, Verdict::Clear);
        }
        judge_pair(&one, &other, &LOOSE, &mut memory)
    }

    fn round(radius: f64, count: u32, turn_degrees: f64) -> Profile {
        let nodes = (0..count)
            .map(|k| {
                let angle = turn_degrees.to_radians()
                    + std::f64::consts::TAU * f64::from(k) / f64::from(count);
                Node::smooth(
                    libm::round(radius * libm::cos(angle)) as i32,
                    libm::round(radius * libm::sin(angle)) as i32,
                )
            })
            .collect();
        Profile::closed(nodes)
    }

    fn square(turn_degrees: f64) -> Profile {
        let mut profile = round(10_000.0, 4, turn_degrees);
        if let crate::profile::Outline::Nodes(nodes) = &mut profile.outline {
            nodes.iter_mut().for_each(|node| node.corner = true);
        }
        profile
    }

    #[test]
    fn turned_circles_are_clear_up_to_a_half_turn() {
        for turn in [0.0, 30.0, 90.0, 150.0, 179.0] {
            let judgement = pair(&round(10_000.0, 12, 0.0), &round(10_000.0, 12, turn));
            println!("{turn}: {judgement:?}");
            assert_eq!(judgement.verdict, Verdict::Clear, "{turn}: {judgement:?}");
        }
        let half = pair(&round(10_000.0, 12, 0.0), &round(10_000.0, 12, 180.0));
        assert_eq!(half.worst().unwrap().kind, FaultKind::Fold);
    }

    #[test]
    fn a_circle_against_its_reverse_is_faulty() {
        let one = round(10_000.0, 12, 0.0);
        let judgement = pair(&one, &one.reversed());
        assert_eq!(judgement.verdict, Verdict::Faulty);
    }

    #[test]
    fn turned_squares_are_clear_up_to_a_half_turn() {
        for turn in [0.0, 45.0, 91.0, 135.0, 179.0] {
            let judgement = pair(&square(0.0), &square(turn));
            println!("{turn}: {judgement:?}");
            assert_eq!(judgement.verdict, Verdict::Clear, "{turn}: {judgement:?}");
        }
        let half = pair(&square(0.0), &square(180.0));
        assert_eq!(half.worst().unwrap().kind, FaultKind::Fold);
    }

    #[test]
    fn a_figure_of_eight_crosses_itself() {
        let eight = Profile::closed(vec![
            Node::smooth(0, 1000),
            Node::smooth(2000, -1000),
            Node::smooth(4000, 0),
            Node::smooth(2000, 1000),
            Node::smooth(0, -1000),
            Node::smooth(-1000, 0),
        ]);
        let judgement = judge_profile(&ready(&eight), &mut Memory::default());
        println!("{judgement:?}");
        assert_eq!(judgement.worst().unwrap().kind, FaultKind::Crossing);
    }
}
