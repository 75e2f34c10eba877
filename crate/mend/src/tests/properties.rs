//! Families by chance: whatever comes back keeps its word.

use super::{Move, Outcome, Profile, Request, Target, Verdict, go};
use loftkin_kernel::family::{Family, Settings, TenthsOfDegree};
use loftkin_kernel::profile::{Node, Outline};
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::AnyBlend;
use proptest::prelude::*;

/// A profile by its nodes in polar coordinates: radii in mm, how far the seam is
/// turned, and whether it closes.
fn profile(radii: &[f64], turn: f64, closed: bool) -> Profile {
    let arc = if closed { 360.0 } else { 290.0 };
    let steps = if closed { radii.len() } else { radii.len() - 1 };
    let nodes = radii.iter().enumerate().map(|(k, radius)| {
        let angle = (turn + arc * k as f64 / steps as f64).to_radians();
        let at = |value: f64| libm::round(100.0 * radius * value) as i32;
        Node::smooth(at(libm::cos(angle)), at(libm::sin(angle)))
    });
    let nodes = nodes.collect();
    if closed {
        Profile::closed(nodes)
    } else {
        Profile::open(nodes)
    }
}

/// Three or four profiles, clear or faulty as it happens.
fn family() -> impl Strategy<Value = Family> {
    let one = (prop::collection::vec(35.0..75.0f64, 6..9), -70.0..70.0f64);
    let all = prop::collection::vec(one, 3..5);
    (all, any::<bool>(), prop::sample::select(vec![900, 1790])).prop_map(
        |(profiles, closed, twist)| Family {
            profiles: profiles
                .iter()
                .map(|(radii, turn)| profile(radii, *turn, closed))
                .collect(),
            settings: Settings {
                twist_limit: TenthsOfDegree(twist),
                ..Settings::default()
            },
            ..Family::default()
        },
    )
}

fn request(target: Target, margin_mm: f64) -> Request {
    Request {
        margin_mm,
        remedies_first: false,
        ..Request::new(target)
    }
}

/// The family with `moves` made by hand.
fn after_moves(family: &Family, moves: &[Move]) -> Family {
    let mut family = family.clone();
    for moved in moves {
        let crate::MovedPoint::Node(node) = moved.point else {
            panic!("there are only nodes")
        };
        if let Outline::Nodes(nodes) = &mut family.profiles[moved.profile].outline {
            nodes[node].at.x += libm::round(100.0 * moved.right_mm) as i32;
            nodes[node].at.y += libm::round(100.0 * moved.up_mm) as i32;
        }
    }
    family
}

fn is_as_asked(table: &Table, margin_mm: f64) -> bool {
    table.verdict() == Verdict::Clear
        && (margin_mm == 0.0
            || table
                .tolerance()
                .is_some_and(|tolerance| margin_mm <= tolerance.margin.mm))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn a_mend_is_proved_and_nothing_moves_where_all_is_clear(
        family in family(),
        margin in prop::sample::select(vec![0.0, 0.0, 0.3]),
    ) {
        let before = Table::new(family.clone()).unwrap();
        match go(&family, &request(Target::All, margin)) {
            Outcome::AlreadyClear => prop_assert!(is_as_asked(&before, margin)),
            Outcome::Moved(mended) => {
                prop_assert!(!is_as_asked(&before, margin));
                let after = Table::new(mended.family.clone()).unwrap();
                prop_assert!(is_as_asked(&after, margin));
                prop_assert_eq!(after_moves(&family, &mended.moves), mended.family);
                prop_assert!(mended.rms_mm <= mended.largest_mm);
            }
            Outcome::NotFound(approach) => {
                prop_assert!(!approach.open_pairs.is_empty() || !approach.open_profiles.is_empty());
                prop_assert_eq!(after_moves(&family, &approach.moves), approach.family);
            }
            other => prop_assert!(false, "{other:?}"),
        }
    }

    #[test]
    fn a_mend_of_one_pair_keeps_all_clear_pairs(family in family()) {
        let before = Table::new(family.clone()).unwrap();
        if let Outcome::Moved(mended) = go(&family, &request(Target::Pair(0, 1), 0.0)) {
            let after = Table::new(mended.family.clone()).unwrap();
            prop_assert!(after.cell(0, 1).is_clear());
            for high in 0..before.size() {
                for low in 0..high {
                    let broken = before.cell(low, high).is_clear() && !after.cell(low, high).is_clear();
                    prop_assert!(!broken, "{low} {high}");
                }
            }
            let outside = |moved: &Move| 1 < moved.profile;
            prop_assert!(!mended.moves.iter().any(outside));
        }
    }

    #[test]
    fn a_mend_for_any_blend_is_proved(family in family()) {
        let before = Table::new(family.clone()).unwrap();
        let is_proved = |table: &Table| {
            table.verdict() == Verdict::Clear && table.any_blend() == AnyBlend::Proved
        };
        match go(&family, &request(Target::AnyBlend, 0.0)) {
            Outcome::AlreadyClear => prop_assert!(is_proved(&before)),
            Outcome::Moved(mended) => {
                prop_assert!(!is_proved(&before));
                prop_assert!(is_proved(&Table::new(mended.family).unwrap()));
            }
            Outcome::NotFound(approach) => {
                prop_assert!(!is_proved(&Table::new(approach.family).unwrap()));
            }
            other => prop_assert!(false, "{other:?}"),
        }
    }
}
