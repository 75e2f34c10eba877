//! The verdict of a pair is that of its moved copies: both profiles reversed, mirrored, turned by a quarter, moved over
//! the sheet, or taken the other way round. A loft of the copies is the same surface, so the verdict cannot depend on it.
//! The pairs are the seeded ones of [`loftkin_tests::generate`], which are aimed at trouble.

use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Outline, PathSpan, Profile};
use loftkin_tests::compare::{Claim, claim, judge};
use loftkin_tests::generate::{Case, case};
use std::collections::BTreeMap;

const PAIRS: u64 = 6_000;

/// So many of them may stay unproven: none do now, and 12 of 400,000 further ones.
const MOST_UNPROVEN: usize = 1;

fn moved(profile: &Profile, place: fn(GridPoint) -> GridPoint) -> Profile {
    let outline = match &profile.outline {
        Outline::Nodes(nodes) => {
            let mut nodes = nodes.clone();
            for node in &mut nodes {
                node.at = place(node.at);
            }
            Outline::Nodes(nodes)
        }
        Outline::Path { start, spans } => Outline::Path {
            start: place(*start),
            spans: spans
                .iter()
                .map(|span| match *span {
                    PathSpan::Line { to } => PathSpan::Line { to: place(to) },
                    PathSpan::Cubic { first, second, to } => PathSpan::Cubic {
                        first: place(first),
                        second: place(second),
                        to: place(to),
                    },
                })
                .collect(),
        },
    };
    Profile {
        outline,
        ..profile.clone()
    }
}

fn both(case: &Case, change: impl Fn(&Profile) -> Profile) -> Case {
    Case {
        first: change(&case.first),
        second: change(&case.second),
        ..case.clone()
    }
}

fn copies(case: &Case) -> [(&'static str, Case); 5] {
    let swapped = Case {
        first: case.second.clone(),
        second: case.first.clone(),
        ..case.clone()
    };
    let placed = |place| both(case, |profile| moved(profile, place));
    [
        ("swapped", swapped),
        ("reversed", both(case, Profile::reversed)),
        ("mirrored", placed(|at| GridPoint::new(-at.x, at.y))),
        ("turned", placed(|at| GridPoint::new(-at.y, at.x))),
        (
            "moved",
            placed(|at| GridPoint::new(at.x + 30_011, at.y - 17_003)),
        ),
    ]
}

fn verdict(case: &Case) -> Option<&'static str> {
    let [first, second, pair] = judge(case);
    (first.is_simple() && second.is_simple()).then(|| match claim(&pair) {
        Claim::Clear => "clear",
        Claim::Faulty(_) => "faulty",
        Claim::Unproven => "unproven",
    })
}

#[test]
fn a_pair_and_its_moved_copies_have_one_verdict() {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for seed in 0..PAIRS {
        let case = case(seed);
        let Some(said) = verdict(&case) else {
            continue;
        };
        *counts.entry(said).or_default() += 1;
        for (name, copy) in copies(&case) {
            assert_eq!(
                verdict(&copy),
                Some(said),
                "seed {seed}, {:?}, {name}",
                case.aim
            );
        }
    }
    println!("verdicts: {counts:?}");
    let unproven = counts.get("unproven").copied().unwrap_or(0);
    assert!(unproven <= MOST_UNPROVEN, "{unproven} pairs unproven");
}
