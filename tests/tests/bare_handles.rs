//! Exact paths with handles of no length: they are judged as they are drawn,
//! against the oracle, which takes such a handle as it stands.

use loftkin_kernel::family::Pacing;
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Outline, PathSpan, Profile};
use loftkin_kernel::verdict::{FaultKind, Judgement, Verdict};
use loftkin_tests::compare::{Outcome, compare, judge, table};
use loftkin_tests::generate::{Aim, Case, case};
use loftkin_tests::oracle::confirm::confirm_crossing;
use loftkin_tests::oracle::pair::OraclePair;
use loftkin_tests::oracle::search::{THOROUGH, search};
use loftkin_tests::random::Random;
use loftkin_tests::report::written;
use loftkin_tests::shapes::wide;
use std::collections::BTreeMap;

/// Cases looked at; about a thirteenth are paths.
const SEEDS: u64 = 20_000;

/// A path that runs back through its own start, which has no handle, by a ten
/// thousandth of a mm: opened by 1/65,536 of the way, as it once was, it kept clear.
#[test]
fn a_crossing_beside_a_bare_end_is_found() {
    let at = |x: i32, y: i32| GridPoint::new(x, y);
    let profile = Profile {
        name: String::new(),
        closed: false,
        outline: Outline::Path {
            start: at(0, 0),
            spans: vec![
                PathSpan::Cubic {
                    first: at(0, 0),
                    second: at(-339, 4014),
                    to: at(9510, -444),
                },
                PathSpan::Line { to: at(423, 1046) },
                PathSpan::Line {
                    to: at(9410, -2000),
                },
            ],
        },
    };
    let judged = *table(wide(Pacing::Parameter), vec![profile.clone()]).cell(0, 0);
    assert_eq!(judged.verdict, Verdict::Faulty, "{judged:?}");
    let worst = judged.worst().expect("a fault");
    assert_eq!(worst.kind, FaultKind::Crossing);
    let drawn = OraclePair::alone(&profile, Pacing::Parameter);
    let place = (
        worst.place.along,
        worst.place.other_along,
        worst.place.across,
    );
    assert!(confirm_crossing(&drawn, place).is_some(), "{worst:?}");
}

/// A handle of some cubics laid onto its end; never both of one, which would
/// make it a line.
fn bared(random: &mut Random, profile: &Profile, chance: f64) -> Profile {
    let Outline::Path { start, spans } = &profile.outline else {
        return profile.clone();
    };
    let mut from = *start;
    let spans = spans
        .iter()
        .map(|span| {
            let (is_bare, at_start) = (random.chance(chance), random.chance(0.5));
            let mut changed = *span;
            if let (PathSpan::Cubic { first, second, to }, true) = (&mut changed, is_bare) {
                if at_start {
                    *first = from;
                } else {
                    *second = *to;
                }
            }
            from = span.to();
            changed
        })
        .collect();
    Profile {
        outline: Outline::Path {
            start: *start,
            spans,
        },
        ..profile.clone()
    }
}

/// Beside a bare end the places of a crossing may lie closer together, and closer
/// to the profile with that end, than the oracle tells places apart.
fn is_beyond_the_oracle(judged: &Judgement) -> bool {
    judged.worst().is_some_and(|fault| {
        let across = fault.place.across;
        fault.kind == FaultKind::Crossing && across.min(1.0 - across) < 1e-5
    })
}

#[test]
fn no_verdict_on_bare_ends_is_contradicted() {
    let mut pairs: BTreeMap<Outcome, u64> = BTreeMap::new();
    let mut alone: BTreeMap<Outcome, u64> = BTreeMap::new();
    let (mut wrong, mut beyond) = (Vec::new(), 0);
    for seed in 0..SEEDS {
        let drawn = case(seed);
        if drawn.aim != Aim::Paths {
            continue;
        }
        let mut random = Random::new(seed);
        let chance = [0.3, 1.0][random.whole(0, 1) as usize];
        let bare = Case {
            first: bared(&mut random, &drawn.first, chance),
            second: bared(&mut random, &drawn.second, chance),
            ..drawn
        };
        if [&bare.first, &bare.second]
            .into_iter()
            .any(|profile| profile.validate().is_err())
        {
            continue;
        }
        let outcomes = compare(&bare);
        for outcome in &outcomes[..2] {
            *alone.entry(*outcome).or_default() += 1;
        }
        *pairs.entry(outcomes[2]).or_default() += 1;
        let judged = judge(&bare);
        if outcomes[2] == Outcome::FalseFaulty && is_beyond_the_oracle(&judged[2]) {
            beyond += 1;
        } else if outcomes.iter().any(|outcome| outcome.disagrees()) {
            let sight = search(
                &OraclePair::new(&bare.first, &bare.second, bare.pacing),
                THOROUGH,
            );
            let (one, other) = (written(&bare.first), written(&bare.second));
            wrong.push(format!(
                "{seed} {outcomes:?} {sight:?} {judged:?}\n  {one}\n  {other}"
            ));
        } else if outcomes.contains(&Outcome::Unproven) {
            println!("open {seed}: {:?}", judged.map(|judged| judged.doubt));
        }
    }
    println!("alone {alone:?}\npairs {pairs:?}");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let count =
        |counts: &BTreeMap<Outcome, u64>, outcome| counts.get(&outcome).copied().unwrap_or(0);
    // Bare ends are corners as good as others: nearly all can be decided. Most crossings
    // grow out of a fold and bear its name.
    assert!(300 < count(&pairs, Outcome::Clear) && 300 < count(&pairs, Outcome::Fold));
    assert!(100 < count(&alone, Outcome::Crossing));
    assert!(beyond <= 2, "{beyond} faults beyond the oracle");
    assert_eq!(
        (
            count(&pairs, Outcome::Unproven),
            count(&alone, Outcome::Unproven)
        ),
        (0, 0)
    );
}
