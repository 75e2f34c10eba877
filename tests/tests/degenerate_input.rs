//! Degenerate drawings: each has a typed error or the right verdict; none
//! panics, none hangs, none is called clear that touches itself.

use loftkin_kernel::family::{Family, FamilyError, Pacing, Placement, Settings, TenthsOfDegree};
use loftkin_kernel::grid::{GridError, GridPoint, REACH};
use loftkin_kernel::profile::{Node, Outline, PathSpan, Profile, ProfileError};
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::{Doubt, FaultKind, Judgement, Verdict};
use loftkin_tests::compare::table;
use loftkin_tests::shapes::{circle, single_cubic, wide};
use proptest::prelude::*;

fn smooth(points: &[(i32, i32)]) -> Vec<Node> {
    points.iter().map(|&(x, y)| Node::smooth(x, y)).collect()
}

fn corners(points: &[(i32, i32)]) -> Vec<Node> {
    points.iter().map(|&(x, y)| Node::corner(x, y)).collect()
}

fn path(closed: bool, start: (i32, i32), spans: Vec<PathSpan>) -> Profile {
    Profile {
        name: String::new(),
        closed,
        outline: Outline::Path {
            start: GridPoint::new(start.0, start.1),
            spans,
        },
    }
}

fn line(x: i32, y: i32) -> PathSpan {
    PathSpan::Line {
        to: GridPoint::new(x, y),
    }
}

fn cubic(first: (i32, i32), second: (i32, i32), to: (i32, i32)) -> PathSpan {
    let [first, second, to] = [first, second, to].map(|(x, y)| GridPoint::new(x, y));
    PathSpan::Cubic { first, second, to }
}

fn alone(profile: Profile) -> Judgement {
    *table(wide(Pacing::Parameter), vec![profile]).cell(0, 0)
}

fn pair(first: Profile, second: Profile) -> Judgement {
    *table(wide(Pacing::Parameter), vec![first, second]).cell(0, 1)
}

fn error_of(profile: Profile) -> ProfileError {
    match alone(profile).doubt {
        Some(Doubt::ProfileInvalid { error, .. }) => error,
        other => panic!("no error but {other:?}"),
    }
}

#[test]
fn faulty_drawings_have_their_own_error() {
    let twice = smooth(&[(0, 0), (100, 50), (100, 50), (200, 0)]);
    assert_eq!(
        error_of(Profile::open(twice)),
        ProfileError::RepeatedNode {
            first: 2,
            second: 3
        }
    );
    let back_at_start = smooth(&[(0, 0), (100, 0), (50, 80), (0, 0)]);
    assert_eq!(
        error_of(Profile::closed(back_at_start)),
        ProfileError::RepeatedNode {
            first: 4,
            second: 1
        }
    );
    let one = Profile::open(smooth(&[(0, 0)]));
    assert_eq!(error_of(one), ProfileError::TooFewNodes { count: 1 });
    let none = Profile::open(Vec::new());
    assert_eq!(error_of(none), ProfileError::TooFewNodes { count: 0 });
    let many = (0..201).map(|x| Node::smooth(10 * x, x % 2)).collect();
    assert_eq!(
        error_of(Profile::open(many)),
        ProfileError::TooManyNodes { count: 201 }
    );
    let far = smooth(&[(0, 0), (REACH + 1, 0)]);
    assert_eq!(
        error_of(Profile::open(far)),
        ProfileError::OutOfReach { node: 2 }
    );
    let no_length = vec![
        line(100, 0),
        cubic((100, 0), (100, 0), (100, 0)),
        line(200, 50),
    ];
    assert_eq!(
        error_of(path(false, (0, 0), no_length)),
        ProfileError::EmptySpan { span: 2 }
    );
    let ajar = vec![line(100, 0), line(50, 80), line(0, 1)];
    assert_eq!(
        error_of(path(true, (0, 0), ajar)),
        ProfileError::PathNotClosed
    );
}

#[test]
fn numbers_that_are_none_have_no_place_on_the_grid() {
    for wrong in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        assert_eq!(GridPoint::from_mm(wrong, 0.0), Err(GridError::NotFinite));
        assert_eq!(GridPoint::from_mm(0.0, wrong), Err(GridError::NotFinite));
    }
    assert_eq!(
        GridPoint::from_mm(0.0, 1e300),
        Err(GridError::OutOfReach { mm: 1e300 })
    );
}

#[test]
fn families_that_are_none_are_refused() {
    let family = |profiles| Family {
        settings: Settings::default(),
        profiles,
        ..Family::default()
    };
    let open = Profile::open(smooth(&[(0, 0), (100, 0)]));
    let closed = circle(1000.0, 6, 0.0);
    assert_eq!(
        Table::new(family(Vec::new())).err(),
        Some(FamilyError::Empty)
    );
    assert_eq!(
        Table::new(family(vec![open.clone(); 257])).err(),
        Some(FamilyError::TooManyProfiles { count: 257 })
    );
    assert_eq!(
        Table::new(family(vec![open, closed])).err(),
        Some(FamilyError::OpenAndClosed { open: 1, closed: 2 })
    );
}

#[test]
fn one_wrong_profile_leaves_the_other_cells_their_verdicts() {
    let wrong = Profile::closed(smooth(&[(0, 0), (5, 5)]));
    let profiles = vec![circle(1000.0, 8, 0.0), wrong, circle(2000.0, 8, 30.0)];
    let table = table(wide(Pacing::Parameter), profiles);
    assert_eq!(table.cell(0, 2).verdict, Verdict::Clear);
    for other in [0, 2] {
        let doubt = table.cell(1, other).doubt;
        assert!(
            matches!(doubt, Some(Doubt::ProfileInvalid { profile: 1, .. })),
            "{doubt:?}"
        );
    }
}

#[test]
fn straight_runs_are_clear() {
    for count in [2, 3, 7, 60, 200] {
        let run = |step: i32, rise: i32| {
            (0..count)
                .map(|i| Node::smooth(step * i, rise * i))
                .collect()
        };
        let judgement = pair(Profile::open(run(100, 0)), Profile::open(run(70, 90)));
        assert_eq!(
            judgement.verdict,
            Verdict::Clear,
            "{count} nodes: {judgement:?}"
        );
    }
    // Very uneven spacing on one line.
    let uneven = smooth(&[(0, 0), (1, 0), (100_000, 0), (100_001, 0), (5_000_000, 0)]);
    assert_eq!(alone(Profile::open(uneven)).verdict, Verdict::Clear);
    let closed = corners(&[(0, 0), (50, 0), (100, 0), (100, 60), (40, 60), (0, 60)]);
    assert_eq!(alone(Profile::closed(closed)).verdict, Verdict::Clear);
}

#[test]
fn equal_profiles_are_clear_when_they_are_simple() {
    let some = [
        circle(1000.0, 3, 0.0),
        circle(1000.0, 200, 7.0),
        Profile::closed(corners(&[(0, 0), (300, 0), (150, 10)])),
        Profile::open(smooth(&[(0, 0), (10, 3000), (20, 0), (30, 3000)])),
        single_cubic([(0, 0), (900, 1000), (100, 1000), (1000, 0)]),
    ];
    for profile in some {
        assert_eq!(alone(profile.clone()).verdict, Verdict::Clear);
        for pacing in [Pacing::Parameter, Pacing::Node] {
            let table = table(wide(pacing), vec![profile.clone(), profile.clone()]);
            assert_eq!(
                table.cell(0, 1).verdict,
                Verdict::Clear,
                "{:?}",
                table.cell(0, 1)
            );
        }
    }
}

/// A profile that meets itself is charged to its own cell, and its pairs say so.
#[test]
fn profiles_that_meet_themselves_are_charged_to_themselves() {
    let eight = smooth(&[
        (0, 0),
        (1000, 1000),
        (2000, 0),
        (1000, -1000),
        (0, 0),
        (-1000, 900),
        (-2000, 0),
        (-1000, -800),
    ]);
    let profiles = vec![circle(1000.0, 8, 0.0), Profile::closed(eight)];
    let table = table(wide(Pacing::Parameter), profiles);
    assert_eq!(table.cell(1, 1).verdict, Verdict::Faulty);
    assert_eq!(
        table.cell(0, 1).doubt,
        Some(Doubt::ProfileNotSimple { profile: 1 })
    );
    assert_eq!(table.cell(0, 1).verdict, Verdict::Unproven);
}

#[test]
fn what_touches_itself_is_never_clear() {
    let touching = [
        (
            "spike",
            Profile::open(corners(&[(0, 0), (300, 0), (100, 0)])),
        ),
        (
            "T-touch",
            Profile::open(corners(&[(0, 0), (300, 0), (300, 200), (150, 0)])),
        ),
        (
            "slit of no width",
            Profile::open(corners(&[(0, 0), (300, 0), (300, 1), (300, 0), (0, 5)])),
        ),
        (
            "ends that meet though open",
            Profile::open(corners(&[(0, 0), (300, 0), (150, 200), (0, 0)])),
        ),
        (
            "smooth ends that meet",
            Profile::open(smooth(&[(0, 0), (300, 0), (150, 200), (0, 0)])),
        ),
        (
            "node on node",
            Profile::closed(corners(&[
                (0, 0),
                (200, 0),
                (100, 100),
                (200, 200),
                (0, 200),
                (100, 100),
            ])),
        ),
        (
            "way and back",
            Profile::closed(corners(&[(0, 0), (300, 0), (600, 0)])),
        ),
        (
            "cusp",
            single_cubic([(0, 0), (1000, 1000), (0, 1000), (1000, 0)]),
        ),
        (
            "way and back in one span",
            single_cubic([(0, 0), (900, 0), (-300, 0), (600, 0)]),
        ),
        (
            "two lines on each other",
            path(
                false,
                (0, 0),
                vec![
                    line(500, 0),
                    cubic((700, 100), (700, 0), (500, 0)),
                    line(100, 0),
                ],
            ),
        ),
    ];
    for (name, profile) in touching {
        let judgement = alone(profile);
        assert_ne!(judgement.verdict, Verdict::Clear, "{name}: {judgement:?}");
        let contact = matches!(judgement.doubt, Some(Doubt::Contact { .. }));
        let fault = judgement.worst().map(|fault| fault.kind);
        let named = contact || matches!(fault, Some(FaultKind::Fold | FaultKind::Crossing));
        assert!(named, "{name} has no name: {judgement:?}");
    }
}

#[test]
fn zero_handles_are_judged() {
    // A drawn line with handles on its ends is a line.
    let on_ends = path(
        false,
        (0, 0),
        vec![
            cubic((0, 0), (900, 0), (900, 0)),
            cubic((900, 0), (900, 700), (900, 700)),
        ],
    );
    assert_eq!(alone(on_ends).verdict, Verdict::Clear);
    let one_sided = path(
        false,
        (0, 0),
        vec![cubic((0, 0), (600, 300), (900, 0)), line(1200, 500)],
    );
    assert_eq!(alone(one_sided).verdict, Verdict::Clear);
}

#[test]
fn exact_half_turns_and_mirrored_copies_need_no_budget() {
    let ragged = [
        (310, 7),
        (140, 290),
        (-60, 200),
        (-300, 11),
        (-120, -280),
        (200, -190),
    ];
    for count in [3, 4, 6] {
        for node in [Node::smooth as fn(i32, i32) -> Node, Node::corner] {
            let drawn = |map: fn((i32, i32)) -> (i32, i32)| {
                let points = ragged.iter().step_by(6 / count).map(|&at| map(at));
                Profile::closed(points.map(|(x, y)| node(100 * x, 100 * y)).collect())
            };
            let (plain, half) = (drawn(|at| at), drawn(|(x, y)| (-x, -y)));
            let mirrored = drawn(|(x, y)| (-x, y));
            for other in [half, mirrored] {
                let judgement = pair(plain.clone(), other);
                assert_eq!(judgement.verdict, Verdict::Faulty, "{judgement:?}");
                assert!(judgement.boxes < 1000, "{} boxes", judgement.boxes);
            }
        }
    }
}

/// Every number that a judgement shows is one, and every place is on the loft.
fn check_judgement(judgement: &Judgement) -> Result<(), TestCaseError> {
    prop_assert!(judgement.boxes <= 210_000, "{} boxes", judgement.boxes);
    let mut places: Vec<_> = judgement.faults().map(|fault| fault.place).collect();
    for fault in judgement.faults() {
        prop_assert!(fault.angle.abs() <= 180.0, "{fault:?}");
    }
    match judgement.doubt {
        Some(Doubt::Contact { place, gap }) => {
            prop_assert!(0.0 <= gap && gap.is_finite(), "{gap}");
            places.push(place);
        }
        Some(Doubt::Limit { place } | Doubt::AtLimit { place, .. }) => places.push(place),
        _ => {}
    }
    for place in places {
        for fraction in [place.along, place.other_along, place.across] {
            prop_assert!((0.0..=1.0).contains(&fraction), "{place:?}");
        }
        prop_assert!(
            place.point.x.is_finite() && place.point.y.is_finite(),
            "{place:?}"
        );
    }
    let expected = match (judgement.worst(), judgement.doubt) {
        (Some(_), _) => Verdict::Faulty,
        (None, Some(_)) => Verdict::Unproven,
        (None, None) => Verdict::Clear,
    };
    prop_assert_eq!(judgement.verdict, expected);
    Ok(())
}

/// Tiny grids, where points coincide and line up all the time; the whole reach;
/// and a point here and there far beyond.
fn coordinate() -> impl Strategy<Value = i32> {
    prop_oneof![
        6 => 0..=6,
        2 => -1000..=1000,
        1 => -REACH..=REACH,
        1 => prop_oneof![Just(REACH), Just(-REACH), Just(REACH - 1)],
    ]
}

fn point() -> impl Strategy<Value = GridPoint> {
    (coordinate(), coordinate()).prop_map(|(x, y)| GridPoint::new(x, y))
}

fn any_span() -> impl Strategy<Value = PathSpan> {
    prop_oneof![
        point().prop_map(|to| PathSpan::Line { to }),
        (point(), point(), point()).prop_map(|(first, second, to)| PathSpan::Cubic {
            first,
            second,
            to
        }),
    ]
}

fn wild(closed: bool) -> impl Strategy<Value = Profile> {
    let node = (point(), any::<bool>()).prop_map(|(at, corner)| Node { at, corner });
    let drawn = prop::collection::vec(node, 0..9).prop_map(Outline::Nodes);
    let imported =
        (point(), prop::collection::vec(any_span(), 0..6)).prop_map(move |(start, mut spans)| {
            if let (true, Some(PathSpan::Line { to } | PathSpan::Cubic { to, .. })) =
                (closed, spans.last_mut())
            {
                *to = start;
            }
            Outline::Path { start, spans }
        });
    prop_oneof![drawn, imported].prop_map(move |outline| Profile {
        name: String::new(),
        closed,
        outline,
    })
}

fn settings() -> impl Strategy<Value = Settings> {
    (any::<bool>(), any::<bool>(), 1u16..1800, 1u16..=900).prop_map(
        |(node, ring, twist, crease)| Settings {
            pacing: if node {
                Pacing::Node
            } else {
                Pacing::Parameter
            },
            placement: if ring {
                Placement::Ring
            } else {
                Placement::Stack
            },
            twist_limit: TenthsOfDegree(twist),
            crease_limit: TenthsOfDegree(crease),
        },
    )
}

fn wild_family() -> impl Strategy<Value = Family> {
    any::<bool>().prop_flat_map(|closed| {
        (settings(), prop::collection::vec(wild(closed), 1..4)).prop_map(|(settings, profiles)| {
            Family {
                settings,
                profiles,
                ..Family::default()
            }
        })
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn wild_families_are_judged_without_panic_or_hang(family in wild_family()) {
        let mut table = Table::new(family).expect("limits are in range and nothing is mixed");
        for second in 0..table.size() {
            for first in 0..=second {
                let judgement = *table.cell(first, second);
                check_judgement(&judgement)?;
                if first < second {
                    let finding = table.finding(first, second);
                    prop_assert_eq!(finding.judgement, judgement);
                    if let Some(margin) = finding.margin {
                        prop_assert!(0.0 <= margin.mm && margin.mm.is_finite(), "{:?}", margin);
                    }
                }
            }
        }
    }
}
