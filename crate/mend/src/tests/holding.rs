//! What must stay does stay: pinned nodes, profiles that may not move, ends,
//! their directions, heights and widths; and what weights and beginnings do.

use super::{Mended, MovedPoint, Request, faulty, moved, request};
use crate::{END_TURN_DEGREES, EXTENT_MM};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::profile::{Outline, Profile};

fn curve(profile: &Profile) -> Curve {
    Curve::new(profile, faulty().settings.pacing).unwrap()
}

/// The curves before and after.
fn curves(mended: &Mended) -> Vec<(Curve, Curve)> {
    let before = faulty().profiles;
    let pairs = before.iter().zip(&mended.family.profiles);
    pairs.map(|(old, new)| (curve(old), curve(new))).collect()
}

/// The extent along an axis, seen at many places: short of it by far less than
/// the tolerance.
fn extent(curve: &Curve, axis: usize) -> f64 {
    let points = (0..=20_000).map(|k| curve.point_mm(f64::from(k) / 20_000.0)[axis]);
    let (low, high) = points.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
        (low.min(at), high.max(at))
    });
    high - low
}

#[test]
fn pinned_nodes_and_held_profiles_stay() {
    let mended = moved(&Request {
        movable: Some(vec![1]),
        pinned: vec![(1, 2)],
        keep_ends: true,
        ..request()
    });
    for moved in &mended.moves {
        assert_eq!(moved.profile, 1);
        assert!(matches!(moved.point, MovedPoint::Node(1 | 3)), "{moved:?}");
    }
}

#[test]
fn only_the_profiles_named_move() {
    let mended = moved(&Request {
        movable: Some(vec![0, 2]),
        ..request()
    });
    assert!(mended.moves.iter().all(|moved| moved.profile != 1));
    assert_eq!(mended.family.profiles[1], faulty().profiles[1]);
}

#[test]
fn height_and_width_are_kept() {
    let free = moved(&request());
    let kept = moved(&Request {
        keep_height: true,
        keep_width: true,
        ..request()
    });
    let off = |mended: &Mended, axis: usize| {
        let changes = curves(mended).into_iter();
        changes
            .map(|(old, new)| (extent(&old, axis) - extent(&new, axis)).abs())
            .fold(0.0, f64::max)
    };
    for axis in [0, 1] {
        assert!(off(&kept, axis) <= EXTENT_MM + 1e-3);
    }
    assert!(
        EXTENT_MM < off(&free, 0).max(off(&free, 1)),
        "a hollow test"
    );
}

#[test]
fn directions_of_ends_are_kept() {
    let free = moved(&request());
    let kept = moved(&Request {
        keep_end_tangents: true,
        ..request()
    });
    let turn = |mended: &Mended| {
        let ends = curves(mended).into_iter().flat_map(|(old, new)| {
            [0.0, 1.0].map(|u| old.slope(u).angle(&new.slope(u)).to_degrees())
        });
        ends.fold(0.0, f64::max)
    };
    assert!(turn(&kept) <= END_TURN_DEGREES, "{}", turn(&kept));
    assert!(END_TURN_DEGREES < turn(&free), "a hollow test");
}

#[test]
fn a_dear_profile_moves_less() {
    let share = |weights: Vec<f64>| {
        let mended = moved(&Request {
            weights,
            ..request()
        });
        let square = |of_second: bool| {
            let moves = mended.moves.iter();
            let counted = moves.filter(|moved| (moved.profile == 1) == of_second);
            counted
                .map(|moved| moved.right_mm.powi(2) + moved.up_mm.powi(2))
                .sum::<f64>()
        };
        square(true) / (square(true) + square(false))
    };
    let (dear, even, cheap) = (
        share(vec![1.0, 1000.0]),
        share(Vec::new()),
        share(vec![1000.0, 1.0, 1000.0]),
    );
    assert!(dear < even && even < cheap, "{dear} {even} {cheap}");
    assert!(dear < 0.01 && 0.99 < cheap, "{dear} {cheap}");
}

/// From elsewhere, movement still counts from the drawing.
#[test]
fn movement_counts_from_the_drawing_wherever_it_begins() {
    let mut elsewhere = faulty();
    if let Outline::Nodes(nodes) = &mut elsewhere.profiles[1].outline {
        nodes[1].at.x -= 2000;
        nodes[3].at.y += 300;
    }
    let mended = moved(&Request {
        begin_at: Some(elsewhere),
        ..request()
    });
    let plain = moved(&request());
    for moved in &mended.moves {
        let MovedPoint::Node(node) = moved.point else {
            panic!("there are only nodes")
        };
        let at = |profile: &Profile| match &profile.outline {
            Outline::Nodes(nodes) => nodes[node].at,
            Outline::Path { .. } => panic!("there are only nodes"),
        };
        let from = at(&faulty().profiles[moved.profile]);
        let to = at(&mended.family.profiles[moved.profile]);
        assert_eq!(moved.right_mm, f64::from(to.x - from.x) / 100.0);
        assert_eq!(moved.up_mm, f64::from(to.y - from.y) / 100.0);
    }
    assert!(mended.rms_mm < 1.2 * plain.rms_mm);
}
