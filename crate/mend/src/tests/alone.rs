//! Profiles that meet themselves.

use super::{Family, Outcome, Profile, Request, Target, Verdict, arch, go, request};
use crate::Hindrance;
use loftkin_kernel::profile::Node;
use loftkin_kernel::table::Table;

/// An arch with a loop: its middle nodes stand in the wrong order.
fn looped() -> Profile {
    arch([(0, 0), (4800, 3000), (4000, 4200), (3200, 3000), (8000, 0)])
}

/// A closed round of which two neighbouring nodes have changed places.
fn swapped() -> Profile {
    let mut nodes: Vec<Node> = (0..12)
        .map(|k| {
            let angle = (30.0 * f64::from(k)).to_radians();
            let at = |value: f64| libm::round(6000.0 * value) as i32;
            Node::smooth(at(libm::cos(angle)), at(libm::sin(angle)))
        })
        .collect();
    nodes.swap(4, 5);
    Profile::closed(nodes)
}

fn family(profiles: Vec<Profile>) -> Family {
    Family {
        profiles,
        ..Family::default()
    }
}

fn siblings() -> Vec<Profile> {
    vec![
        arch([(0, 0), (1500, 3000), (4000, 4200), (6500, 3000), (8000, 0)]),
        looped(),
        arch([(0, 0), (1400, 2800), (4100, 4000), (6400, 2900), (8000, 0)]),
    ]
}

fn is_freed(family: &Family, profile: usize) {
    let before = Table::new(family.clone()).unwrap();
    assert_eq!(before.cell(profile, profile).verdict, Verdict::Faulty);
    let outcome = go(family, &request());
    let Outcome::Moved(mended) = outcome else {
        panic!("{outcome:?}")
    };
    let after = Table::new(mended.family.clone()).unwrap();
    assert_eq!(after.verdict(), Verdict::Clear);
    assert_eq!(mended.profiles_mended, [profile]);
}

#[test]
fn a_loop_is_drawn_out() {
    is_freed(&family(vec![looped()]), 0);
}

#[test]
fn a_round_with_two_nodes_swapped_is_put_right() {
    is_freed(&family(vec![swapped()]), 0);
}

#[test]
fn a_loop_among_siblings_is_drawn_out_and_all_pairs_are_clear() {
    is_freed(&family(siblings()), 1);
}

#[test]
fn a_loop_that_may_not_move_is_named() {
    let request = Request {
        movable: Some(vec![0, 2]),
        ..request()
    };
    let Outcome::NotFound(approach) = go(&family(siblings()), &request) else {
        panic!("the loop may not move")
    };
    let hindrance = Hindrance::ProfileMeetsItself { profile: 1 };
    assert_eq!(approach.hindrance, hindrance);
    assert!(hindrance.to_string().starts_with("profile 2 meets itself"));
    assert_eq!(approach.open_profiles, [1]);
}

#[test]
fn a_loop_beyond_the_target_is_left_alone() {
    let request = Request {
        target: Target::Pair(0, 2),
        ..request()
    };
    assert_eq!(go(&family(siblings()), &request), Outcome::AlreadyClear);
}
