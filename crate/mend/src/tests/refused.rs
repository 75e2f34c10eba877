//! Requests that cannot be taken up, and families that no movement can help.

use super::{Approach, Hindrance, Outcome, Profile, Request, Target, faulty, go, request};
use crate::{RequestError, mend};
use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::{Node, Outline};
use std::ops::ControlFlow;

fn refusal(request: &Request) -> RequestError {
    mend(&faulty(), request, &mut |_| ControlFlow::Continue(())).unwrap_err()
}

#[test]
fn what_is_not_there_is_refused_with_a_sentence() {
    let for_target = |target| Request {
        target,
        ..request()
    };
    let cases = [
        (
            for_target(Target::Pair(0, 3)),
            "there is no profile 4: the family has 3",
        ),
        (
            for_target(Target::Pairs(vec![(0, 1), (2, 2)])),
            "a pair needs two profiles, not profile 3 twice",
        ),
        (
            Request {
                pinned: vec![(2, 5)],
                ..request()
            },
            "profile 3 has no node 6: it has 5",
        ),
        (
            Request {
                margin_mm: -0.5,
                ..request()
            },
            "a margin of -0.5 mm: give 0 or a positive length",
        ),
        (
            Request {
                weights: vec![1.0, 0.0],
                ..request()
            },
            "a weight of 0: give a number above 0",
        ),
    ];
    for (request, sentence) in cases {
        assert_eq!(refusal(&request).to_string(), sentence);
    }
}

#[test]
fn another_family_is_no_beginning() {
    let mut other = faulty();
    other.profiles.pop();
    let request = Request {
        begin_at: Some(other),
        ..request()
    };
    assert_eq!(refusal(&request), RequestError::OtherBeginning);
}

fn approach(outcome: Outcome) -> Approach {
    match outcome {
        Outcome::NotFound(approach) => *approach,
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_profile_that_is_no_curve_is_named() {
    let mut family = faulty();
    family.profiles[2].outline = Outline::Nodes(vec![Node::smooth(0, 0)]);
    let approach = approach(go(&family, &request()));
    let Hindrance::ProfileInvalid { profile, .. } = approach.hindrance else {
        panic!("{approach:?}")
    };
    assert_eq!((profile, &approach.family), (2, &family));
    assert!(
        approach
            .hindrance
            .to_string()
            .starts_with("profile 3 cannot be judged")
    );
}

#[test]
fn counts_that_differ_are_told_where_pacing_goes_by_node() {
    let mut family = faulty();
    family.settings.pacing = Pacing::Node;
    family.profiles[2] = Profile::open(vec![Node::smooth(0, 0), Node::smooth(8000, 0)]);
    let approach = approach(go(&family, &request()));
    assert!(matches!(approach.hindrance, Hindrance::CountsDiffer { .. }));
    assert!(
        approach
            .hindrance
            .to_string()
            .contains("different numbers of spans")
    );
}

/// Profile 1 alone may move, and two others that make a faulty pair may not:
/// what can be mended is, and it is called no mend.
#[test]
fn a_pair_of_which_nothing_may_move_is_named() {
    let mut family = faulty();
    family.profiles.insert(1, family.profiles[1].clone());
    family.profiles.swap(0, 2);
    let first_moves = Request {
        movable: Some(vec![0]),
        ..request()
    };
    let approach = approach(go(&family, &first_moves));
    assert_eq!(approach.hindrance, Hindrance::OutOfReach { pair: (1, 2) });
    assert!(approach.open_pairs.contains(&(1, 2)));
    assert!(approach.moves.iter().all(|moved| moved.profile == 0));
}
