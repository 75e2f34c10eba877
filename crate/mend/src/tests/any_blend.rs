//! Families whose pairs are all clear and whose blends of three are not.

use super::{Outcome, Profile, Request, Target, Verdict, go};
use crate::Hindrance;
use loftkin_kernel::family::{Family, Settings, TenthsOfDegree};
use loftkin_kernel::profile::Node;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::AnyBlend;

/// A wavy round of twelve nodes with its seam turned by so many degrees.
fn round(turn: f64, size: f64) -> Profile {
    let nodes = (0..12).map(|k| {
        let angle = (turn + 30.0 * f64::from(k)).to_radians();
        let at = |value: f64| libm::round(size * value) as i32;
        Node::smooth(at(libm::cos(angle)), at(libm::sin(angle)))
    });
    Profile::closed(nodes.collect())
}

fn family(turns: &[(f64, f64)]) -> Family {
    Family {
        settings: Settings {
            twist_limit: TenthsOfDegree(1750),
            ..Settings::default()
        },
        profiles: turns
            .iter()
            .map(|&(turn, size)| round(turn, size))
            .collect(),
        ..Family::default()
    }
}

fn by_thirds() -> Family {
    family(&[
        (0.0, 9000.0),
        (118.0, 10_000.0),
        (240.0, 11_000.0),
        (5.0, 8000.0),
    ])
}

fn request() -> Request {
    Request {
        remedies_first: false,
        ..Request::new(Target::AnyBlend)
    }
}

#[test]
fn a_family_by_thirds_is_mended_for_any_blend() {
    let family = by_thirds();
    let before = Table::new(family.clone()).unwrap();
    assert_eq!(before.verdict(), Verdict::Clear);
    assert_ne!(before.any_blend(), AnyBlend::Proved);
    let Outcome::Moved(mended) = go(&family, &request()) else {
        panic!("nodes may move")
    };
    let after = Table::new(mended.family.clone()).unwrap();
    assert_eq!(after.verdict(), Verdict::Clear);
    assert_eq!(after.any_blend(), AnyBlend::Proved);
    assert!(mended.any_blend && mended.pairs_mended.is_empty());
}

#[test]
fn a_faulty_pair_is_mended_on_the_way() {
    let family = family(&[(0.0, 9000.0), (60.0, 10_000.0), (185.0, 11_000.0)]);
    let Outcome::Moved(mended) = go(&family, &request()) else {
        panic!("nodes may move")
    };
    let after = Table::new(mended.family.clone()).unwrap();
    assert_eq!(after.verdict(), Verdict::Clear);
    assert_eq!(after.any_blend(), AnyBlend::Proved);
    assert_eq!(mended.pairs_mended, [(0, 2)]);
}

#[test]
fn a_family_that_blends_in_any_way_moves_nothing() {
    let family = family(&[(0.0, 9000.0), (40.0, 10_000.0), (90.0, 11_000.0)]);
    assert_eq!(go(&family, &request()), Outcome::AlreadyClear);
}

#[test]
fn a_moved_seam_is_offered_before_nodes_move() {
    let family = by_thirds();
    let outcome = go(&family, &Request::new(Target::AnyBlend));
    let Outcome::Remedy(hint) = outcome else {
        panic!("{outcome:?}")
    };
    let after = Table::new(hint.remedy.made_in(&family).unwrap()).unwrap();
    assert_eq!(after.any_blend(), AnyBlend::Proved);
    assert_eq!(after.verdict(), Verdict::Clear);
}

#[test]
fn without_room_the_bad_blend_is_told() {
    let pinned = (0..4).flat_map(|profile| (0..12).map(move |node| (profile, node)));
    let request = Request {
        pinned: pinned.collect(),
        ..request()
    };
    let Outcome::NotFound(approach) = go(&by_thirds(), &request) else {
        panic!("nothing may move")
    };
    assert_eq!(approach.hindrance, Hindrance::NothingMayMove);
    assert_eq!(approach.bad_blend.unwrap().profiles.len(), 3);
}
