//! Whole mends: what is asked for holds afterwards, and is proved.

mod alone;
mod any_blend;

use crate::*;
use loftkin_kernel::family::Settings;
use loftkin_kernel::profile::{Node, Profile};
use loftkin_kernel::verdict::Verdict;

fn arch(points: [(i32, i32); 5]) -> Profile {
    Profile::open(points.map(|(x, y)| Node::smooth(x, y)).to_vec())
}

/// Two arches; the second leans so far that it twists beyond the limit.
fn faulty() -> Family {
    Family {
        profiles: vec![
            arch([(0, 0), (1500, 3000), (4000, 4200), (6500, 3000), (8000, 0)]),
            arch([(0, 0), (4500, 2500), (3000, 4500), (6800, 3200), (8000, 0)]),
            arch([(0, 0), (1400, 2800), (4100, 4000), (6400, 2900), (8000, 0)]),
        ],
        settings: Settings::default(),
        ..Family::default()
    }
}

fn go(family: &Family, request: &Request) -> Outcome {
    mend(family, request, &mut |_| ControlFlow::Continue(())).unwrap()
}

fn moved(request: &Request) -> Mended {
    match go(&faulty(), request) {
        Outcome::Moved(mended) => *mended,
        other => panic!("{other:?}"),
    }
}

fn request() -> Request {
    Request {
        remedies_first: false,
        ..Request::new(Target::All)
    }
}

#[test]
fn a_mended_family_is_proved() {
    let before = Table::new(faulty()).unwrap();
    assert_eq!(before.verdict(), Verdict::Faulty);
    let mended = moved(&request());
    let after = Table::new(mended.family).unwrap();
    assert_eq!(after.verdict(), Verdict::Clear);
    assert!(0.0 < mended.largest_mm && !mended.moves.is_empty());
}

#[test]
fn a_clear_family_moves_nothing() {
    let mut family = faulty();
    family.profiles.remove(1);
    assert_eq!(go(&family, &request()), Outcome::AlreadyClear);
}

#[test]
fn pinned_nodes_and_held_profiles_stay() {
    let request = Request {
        movable: Some(vec![1]),
        pinned: vec![(1, 2)],
        keep_ends: true,
        ..request()
    };
    let mended = moved(&request);
    for moved in &mended.moves {
        assert_eq!(moved.profile, 1);
        assert!(matches!(moved.point, MovedPoint::Node(1 | 3)), "{moved:?}");
    }
}

#[test]
fn height_and_width_are_kept() {
    let request = Request {
        keep_height: true,
        keep_width: true,
        ..request()
    };
    let mended = moved(&request);
    let pacing = faulty().settings.pacing;
    for (old, new) in faulty().profiles.iter().zip(&mended.family.profiles) {
        let curve = |profile| loftkin_kernel::curve::Curve::new(profile, pacing).unwrap();
        assert!(holds::keeps(&curve(new), &curve(old), &request));
    }
}

#[test]
fn the_margin_asked_for_is_proved() {
    let request = Request {
        margin_mm: 0.2,
        ..request()
    };
    let mended = moved(&request);
    assert!(0.2 <= mended.margin_mm.unwrap());
}

#[test]
fn nothing_that_may_move_is_no_mend() {
    let request = Request {
        pinned: (0..15).map(|k| (k / 5, k % 5)).collect(),
        ..request()
    };
    let Outcome::NotFound(approach) = go(&faulty(), &request) else {
        panic!("nothing may move")
    };
    assert_eq!(approach.hindrance, Hindrance::NothingMayMove);
}

#[test]
fn the_caller_may_stop_it() {
    let outcome = mend(&faulty(), &request(), &mut |_| ControlFlow::Break(()));
    assert_eq!(outcome.unwrap(), Outcome::Cancelled);
}
