//! Judgements: all questions about one profile or one pair, put together.
//!
//! Inputs that would eat the whole budget are named first, by exact tests.

use super::axis::AxisState;
use super::crease::crease;
use super::exact::{exact_contact, joint_on_joint, joint_on_span};
use super::folds::folds;
use super::prepared::{Ready, SAMPLES};
use super::search::{Memory, Outcome, finds_nothing, search};
use super::telling;
use super::turn::enforced;
use super::twist::twist;
use super::witness;
use crate::curve::Curve;
use crate::family::{Pacing, Settings};
use crate::verdict::{Doubt, Fault, FaultKind, Judgement};

/// Judges one profile by itself: simple, and off the axis in a ring.
pub fn judge_profile(ready: &Ready, memory: &mut Memory) -> Judgement {
    let (contact, doubt, boxes) = match joint_on_joint(&ready.curve) {
        Some(fault) => (Some(fault), None, 1),
        None => {
            let (outcome, boxes) = search([ready, ready], memory);
            parts((
                by_whole_numbers(outcome, || joint_on_span(&ready.curve)),
                boxes,
            ))
        }
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

/// Whether [`judge_pair`] would call the pair clear. It asks what is cheap first and
/// ends at the first fault or doubt, for nothing is told of it.
pub fn is_clear_pair(
    first: &Ready,
    second: &Ready,
    settings: &Settings,
    memory: &mut Memory,
) -> bool {
    let pair = [first, second];
    let curves = [&first.curve, &second.curve];
    let counts_differ = curves[0].span_count() != curves[1].span_count();
    if settings.pacing == Pacing::Node && counts_differ {
        return false;
    }
    let is_kept = |limit| matches!(limit, (None, None));
    is_kept(axis(pair))
        && is_kept(twist(pair, enforced(settings.twist_limit)))
        && is_kept(crease(pair, enforced(settings.crease_limit)))
        && !is_half_turn(curves)
        && !looks_half_turned(pair)
        && witness::fold(pair).is_none()
        && finds_nothing(pair, memory)
}

fn parts((outcome, boxes): (Outcome, u32)) -> (Option<Fault>, Option<Doubt>, u32) {
    match outcome {
        Outcome::Free => (None, None, boxes),
        Outcome::Found(fault) => (Some(fault), None, boxes),
        Outcome::Open(doubt) => (None, Some(doubt), boxes),
    }
}

/// Folds and crossings.
fn contact(pair: [&Ready; 2], memory: &mut Memory) -> (Outcome, u32) {
    let curves = [&pair[0].curve, &pair[1].curve];
    if is_half_turn(curves) {
        return (Outcome::Found(telling::fold_at(curves, 0.0)), 1);
    }
    if looks_half_turned(pair) {
        let place = telling::place(curves, 0.0, 0.5, 0.5);
        let doubt = Outcome::Open(Doubt::Contact { place, gap: 0.0 });
        return (by_whole_numbers(doubt, || exact_contact(curves)), 1);
    }
    match witness::fold(pair) {
        Some(fault) => (Outcome::Found(fault), 1),
        None => {
            let (outcome, boxes) = search(pair, memory);
            (
                by_its_cause(by_whole_numbers(outcome, || exact_contact(curves)), curves),
                boxes,
            )
        }
    }
}

/// What the search left open may be a touch that `decide` finds by whole numbers.
fn by_whole_numbers(outcome: Outcome, decide: impl FnOnce() -> Option<Fault>) -> Outcome {
    match outcome {
        Outcome::Open(_) => decide().map_or(outcome, Outcome::Found),
        _ => outcome,
    }
}

/// A crossing grows out of a fold where the pair has one: that is told then.
fn by_its_cause(outcome: Outcome, curves: [&Curve; 2]) -> Outcome {
    match outcome {
        Outcome::Found(fault) if fault.kind == FaultKind::Crossing => {
            let root = folds(curves).into_iter().next();
            Outcome::Found(root.map_or(fault, |fold| {
                telling::fold_near(curves, fold.along, fold.across)
            }))
        }
        _ => outcome,
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
                    place: telling::place(curves, along, along, across),
                    angle: 0.0,
                };
                return (Some(fault), None);
            }
            Some(AxisState::Open { along }) => {
                let place = telling::place(curves, along, along, across);
                let kind = FaultKind::Axis;
                open = open.or(Some(Doubt::AtLimit { kind, place }));
            }
        }
    }
    (None, open)
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
        let judgement = judge_pair(&one, &other, &LOOSE, &mut memory);
        // The short way to one answer comes to the same.
        let is_clear = is_clear_pair(&one, &other, &LOOSE, &mut memory);
        assert_eq!(is_clear, judgement.verdict == Verdict::Clear);
        judgement
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

    /// Triangles of a tenth of a millimetre in height come out clear, faulty and
    /// unproven against a turned one.
    #[test]
    fn thin_triangles_have_one_verdict_either_way() {
        let triangle = |turn: f64, height: f64| {
            let (sine, cosine) = (libm::sin(turn), libm::cos(turn));
            let corners = [(-5000.0, 0.0), (5000.0, 0.0), (1200.0, height)];
            let nodes = corners.map(|(x, y): (f64, f64)| {
                let (x, y) = (x * cosine - y * sine, x * sine + y * cosine);
                Node::corner(libm::round(x) as i32, libm::round(y) as i32)
            });
            Profile::closed(nodes.to_vec())
        };
        let mut found = [0; 3];
        for step in 0..24 {
            let turn = 0.26 * f64::from(step);
            for height in [10.0, -10.0, 40.0] {
                let verdict = pair(&triangle(0.0, 10.0), &triangle(turn, height)).verdict;
                found[verdict as usize] += 1;
            }
        }
        println!("{found:?}");
        assert!(0 < found[0] && 0 < found[1]);
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
