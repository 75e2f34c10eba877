//! Whose movement comes first, and with which margin where none is named.

use super::{Family, Mended, Outcome, Request, Table, faulty, go, request};
use crate::{WORKSHOP_MM, mend_for_workshop};
use std::ops::ControlFlow;

fn blaming() -> Request {
    Request {
        blame_first: true,
        ..request()
    }
}

fn mended(outcome: Outcome) -> Mended {
    match outcome {
        Outcome::Moved(mended) => *mended,
        other => panic!("{other:?}"),
    }
}

/// The second of three arches has a part in both faulty pairs: it moves alone.
#[test]
fn the_profile_with_a_part_in_every_fault_moves_alone() {
    let shared = mended(go(&faulty(), &request()));
    assert!(shared.moves.iter().any(|moved| moved.profile != 1));
    let alone = mended(go(&faulty(), &blaming()));
    assert_eq!(alone.blamed, [1]);
    assert!(alone.moves.iter().all(|moved| moved.profile == 1));
    assert!(shared.blamed.is_empty());
}

/// It may not move: the others share what there is to do.
#[test]
fn what_may_not_move_is_not_asked_to() {
    let mut family = faulty();
    family.profiles.pop();
    let request = Request {
        movable: Some(vec![0]),
        ..blaming()
    };
    let found = mended(go(&family, &request));
    assert!(found.blamed.is_empty());
    assert!(found.moves.iter().all(|moved| moved.profile == 0));
}

#[test]
fn moves_say_where_points_were() {
    let found = mended(go(&faulty(), &blaming()));
    for moved in &found.moves {
        let crate::MovedPoint::Node(node) = moved.point else {
            panic!("{moved:?}")
        };
        let loftkin_kernel::profile::Outline::Nodes(nodes) =
            &faulty().profiles[moved.profile].outline
        else {
            panic!("drawn by nodes")
        };
        assert_eq!(moved.from_mm, nodes[node].at.to_mm());
    }
}

fn for_workshop(family: &Family) -> (Mended, f64) {
    let (outcome, margin) =
        mend_for_workshop(family, &blaming(), &mut |_| ControlFlow::Continue(())).unwrap();
    (mended(outcome), margin.mm)
}

/// The two clear arches have more than a workshop needs, so that is what is proved.
#[test]
fn without_a_margin_named_it_is_one_that_a_workshop_can_hold() {
    let (found, mm) = for_workshop(&faulty());
    assert_eq!(mm, WORKSHOP_MM);
    let table = Table::new(found.family).unwrap();
    for (low, high) in [(0, 1), (0, 2), (1, 2)] {
        assert!(WORKSHOP_MM <= table.margin(low, high).unwrap().mm);
    }
}

/// Clear pairs with less room than a workshop needs: no more is asked of others.
#[test]
fn no_more_is_asked_than_clear_pairs_have() {
    let mut family = faulty();
    let at_most = |family: &Family| Table::new(family.clone()).unwrap().margin(0, 2).unwrap().mm;
    let before = at_most(&family);
    // The clear pair at a part of its size has that part of its room.
    for profile in &mut family.profiles {
        if let loftkin_kernel::profile::Outline::Nodes(nodes) = &mut profile.outline {
            for node in nodes {
                node.at.x /= 25;
                node.at.y /= 25;
            }
        }
    }
    let least = at_most(&family);
    assert!(least < WORKSHOP_MM, "{before} {least}");
    let (_, mm) = for_workshop(&family);
    assert!(mm <= least && least - mm < 0.0101, "{mm} {least}");
}
