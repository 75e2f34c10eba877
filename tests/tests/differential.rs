//! The kernel against the oracle on seeded random pairs: no pair proved clear
//! in which a section is found that meets itself, no pair called faulty whose
//! witness will not refine on the true curves.
//!
//! `LOFTKIN_PAIRS` sets another number of pairs than the usual 22,000, and
//! `LOFTKIN_SEED` the first seed. A disagreement is shrunk and printed.

use loftkin_kernel::profile::Profile;
use loftkin_tests::compare::{Outcome, compare, judge};
use loftkin_tests::generate::{Aim, Case, case};
use loftkin_tests::oracle::pair::OraclePair;
use loftkin_tests::oracle::search::{THOROUGH, search};
use loftkin_tests::report::{shrunk, written};
use loftkin_tests::setting::setting;
use loftkin_tests::shapes::nodes;
use std::collections::BTreeMap;
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};
use std::thread;

const PAIRS: u64 = 22_000;

/// The share of pairs that may stay unproven.
const UNPROVEN_SHARE: f64 = 0.0005;

#[derive(Default)]
struct Counts {
    pairs: BTreeMap<Outcome, u64>,
    profiles: BTreeMap<Outcome, u64>,
    judged: BTreeMap<Aim, u64>,
    unproven: BTreeMap<Aim, u64>,
    complaints: Vec<String>,
}

#[test]
fn no_verdict_is_contradicted_by_dense_sections() {
    let (count, first_seed) = (setting("LOFTKIN_PAIRS", PAIRS), setting("LOFTKIN_SEED", 1));
    let next = AtomicU64::new(first_seed);
    let counts = Mutex::new(Counts::default());
    let threads = thread::available_parallelism().map_or(2, usize::from);
    thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                loop {
                    let seed = next.fetch_add(1, Ordering::Relaxed);
                    if first_seed + count <= seed {
                        break;
                    }
                    let case = case(seed);
                    let outcomes = compare(&case);
                    let complaint = outcomes
                        .iter()
                        .any(|outcome| outcome.disagrees())
                        .then(|| complain(seed, &case, outcomes));
                    let mut counts = counts.lock().expect("no thread panics while it counts");
                    *counts.pairs.entry(outcomes[2]).or_default() += 1;
                    for outcome in &outcomes[..2] {
                        *counts.profiles.entry(*outcome).or_default() += 1;
                    }
                    if outcomes[2] != Outcome::Skipped {
                        *counts.judged.entry(case.aim).or_default() += 1;
                    }
                    if outcomes[2] == Outcome::Unproven {
                        *counts.unproven.entry(case.aim).or_default() += 1;
                    }
                    counts.complaints.extend(complaint);
                }
            });
        }
    });
    let counts = counts.into_inner().expect("no thread panicked");
    println!("pairs: {:?}", counts.pairs);
    println!("profiles: {:?}", counts.profiles);
    println!("judged pairs by aim: {:?}", counts.judged);
    println!("unproven pairs by aim: {:?}", counts.unproven);
    for complaint in counts.complaints.iter().take(20) {
        println!("{complaint}");
    }
    assert!(
        counts.complaints.is_empty(),
        "{} disagreements",
        counts.complaints.len()
    );
    let judged: u64 = counts.judged.values().sum();
    let unproven: u64 = counts.unproven.values().sum();
    assert!(
        (unproven as f64) < UNPROVEN_SHARE * judged as f64,
        "{unproven} of {judged} unproven"
    );
}

/// The smallest case that still disagrees in the same respect, in words.
fn complain(seed: u64, case: &Case, outcomes: [Outcome; 3]) -> String {
    let which = outcomes
        .iter()
        .position(|outcome| outcome.disagrees())
        .unwrap_or(2);
    let still = |first: &Profile, second: &Profile| {
        let smaller = Case {
            first: first.clone(),
            second: second.clone(),
            ..case.clone()
        };
        compare(&smaller)[which] == outcomes[which]
    };
    let together = nodes(&case.first).len() == nodes(&case.second).len();
    let (first, second) = shrunk(&case.first, &case.second, together, still);
    let small = Case {
        first,
        second,
        ..case.clone()
    };
    let judgements = judge(&small);
    let pair = match which {
        0 => OraclePair::alone(&small.first, small.pacing),
        1 => OraclePair::alone(&small.second, small.pacing),
        _ => OraclePair::new(&small.first, &small.second, small.pacing),
    };
    format!(
        "seed {seed} {:?} {:?}: {:?} of {}\n  {}\n  {}\n  kernel {:?}\n  oracle {:?}",
        case.aim,
        case.pacing,
        outcomes[which],
        ["the first", "the second", "the pair"][which],
        written(&small.first),
        written(&small.second),
        judgements[which],
        search(&pair, THOROUGH),
    )
}
