//! Pairs brought to the edge of a fault: the second profile is moved, node by
//! node, from a place that is clear to one that is faulty, and the place where
//! the verdict changes is closed in on as far as the grid allows.
//!
//! On either side of the edge the verdict must stand up to the oracle, and the
//! band that stays unproven between must be narrow.

use loftkin_kernel::profile::Profile;
use loftkin_tests::compare::{Claim, Outcome, claim, compare, judge};
use loftkin_tests::generate::{Aim, Case, between, case, mapped};
use loftkin_tests::report::written;
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};
use std::thread;

const SEEDS: u64 = 3000;

/// Drawings are enlarged, so that a grid step is less than a millionth.
const ENLARGED: f64 = 100.0;

/// The aims of which most ways from near to far lead over one edge only.
const AIMS: [Aim; 6] = [
    Aim::Turned,
    Aim::Scaled,
    Aim::SeamMoved,
    Aim::PlantedTouch,
    Aim::NearTouch,
    Aim::Slit,
];

const HALVINGS: usize = 24;

fn enlarged(case: &Case) -> Case {
    let enlarge = |profile: &Profile| mapped(profile, |at| at * ENLARGED);
    Case {
        first: enlarge(&case.first),
        second: enlarge(&case.second),
        ..case.clone()
    }
}

/// The case with its second profile at `share` of the way from the first.
fn moved(case: &Case, share: f64) -> Case {
    Case {
        second: between(&case.first, &case.second, share),
        ..case.clone()
    }
}

#[derive(Clone, Copy, PartialEq)]
enum Side {
    Clear,
    Faulty,
    Unproven,
    NotSimple,
}

fn side(case: &Case) -> Side {
    let judgements = judge(case);
    if !judgements[0].is_simple() || !judgements[1].is_simple() {
        return Side::NotSimple;
    }
    match claim(&judgements[2]) {
        Claim::Clear => Side::Clear,
        Claim::Faulty(_) => Side::Faulty,
        Claim::Unproven => Side::Unproven,
    }
}

/// The last clear and the first faulty share that halving arrives at; none
/// when the way leads past a second profile that is not simple.
fn edges(case: &Case) -> Option<(f64, f64)> {
    let at = |share: f64| side(&moved(case, share));
    let faulty = (1..=8)
        .map(|k| f64::from(k) / 8.0)
        .find(|&share| at(share) == Side::Faulty)?;
    let edge = |mut low: f64, mut high: f64, low_side: &[Side]| {
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            match at(middle) {
                Side::NotSimple => return None,
                side if low_side.contains(&side) => low = middle,
                _ => high = middle,
            }
        }
        Some((low, high))
    };
    let (clear, unclear) = edge(0.0, faulty, &[Side::Clear])?;
    if at(unclear) == Side::Faulty {
        return Some((clear, unclear));
    }
    let (_, faulty) = edge(unclear, faulty, &[Side::Clear, Side::Unproven])?;
    Some((clear, faulty))
}

fn complaint(case: &Case) -> Option<String> {
    let outcome = compare(case)[2];
    let wrong = outcome.disagrees() || outcome == Outcome::ClearButOracleDoubts;
    wrong.then(|| {
        let (first, second) = (written(&case.first), written(&case.second));
        format!(
            "{outcome:?} {:?}\n  {first}\n  {second}\n  {:?}",
            case.pacing,
            judge(case)[2]
        )
    })
}

#[test]
fn verdicts_stand_on_both_sides_of_an_edge() {
    let next = AtomicU64::new(0);
    let results = Mutex::new((Vec::<f64>::new(), Vec::<String>::new()));
    let threads = thread::available_parallelism().map_or(2, usize::from);
    thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                loop {
                    let seed = next.fetch_add(1, Ordering::Relaxed);
                    if SEEDS <= seed {
                        break;
                    }
                    let case = case(seed);
                    let counts = [&case.first, &case.second].map(|profile| profile.node_count());
                    if !AIMS.contains(&case.aim) || counts[0] != counts[1] {
                        continue;
                    }
                    let case = enlarged(&case);
                    let Some((clear, faulty)) = edges(&case) else {
                        continue;
                    };
                    let complaints: Vec<String> = [clear, faulty]
                        .into_iter()
                        .filter_map(|share| complaint(&moved(&case, share)))
                        .map(|what| format!("seed {seed}: {what}"))
                        .collect();
                    let mut results = results.lock().expect("no thread panics while it notes");
                    results.0.push(faulty - clear);
                    results.1.extend(complaints);
                }
            });
        }
    });
    let (mut bands, complaints) = results.into_inner().expect("no thread panicked");
    bands.sort_by(f64::total_cmp);
    let share = |part: f64| bands[((bands.len() - 1) as f64 * part) as usize];
    println!(
        "{} edges; unproven band over the whole way: median {:.1e}, 90 % {:.1e}, 99 % {:.1e}, widest {:.1e}",
        bands.len(),
        share(0.5),
        share(0.9),
        share(0.99),
        share(1.0)
    );
    for line in complaints.iter().take(10) {
        println!("{line}");
    }
    assert!(complaints.is_empty(), "{} disagreements", complaints.len());
    assert!(100 < bands.len());
    assert!(
        share(0.9) < 1e-5,
        "the band between clear and faulty is {:e} wide",
        share(0.9)
    );
}
