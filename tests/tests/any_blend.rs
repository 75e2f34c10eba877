//! Any blend of a whole family against the oracle: no family proved for any
//! blend has a blend that meets itself, and the blend that refutes a family
//! does meet itself on the oracle's own curves.
//!
//! `LOFTKIN_FAMILIES` sets another number of families than the usual, and
//! `LOFTKIN_SEED` the first seed.

use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::Profile;
use loftkin_kernel::verdict::{AnyBlend, BadBlend, Fault, Place};
use loftkin_tests::compare::{confirmed, table};
use loftkin_tests::families::family;
use loftkin_tests::oracle::blend::{OracleFamily, weights};
use loftkin_tests::oracle::confirm::TRUE_CONTACT;
use loftkin_tests::oracle::pair::OraclePair;
use loftkin_tests::oracle::search::Sight;
use loftkin_tests::random::Random;
use loftkin_tests::setting::setting;
use loftkin_tests::shapes::wide;
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};
use std::thread;

/// Families drawn; about half of them are proved.
const FAMILIES: u64 = 300;
/// Random blends looked at of each family that is proved.
const BLENDS: usize = 10_000;
/// Random blends of each family refuted by three, to see what chance finds.
const CHANCES: usize = 300;
/// Chords in each piece of a blend.
const CHORDS: usize = 8;

#[derive(Default)]
struct Counts {
    proved: u64,
    pairs: u64,
    triples: u64,
    /// Families refuted by three in which chance alone came upon a bad blend.
    by_chance: u64,
    other: u64,
    complaints: Vec<String>,
}

#[test]
fn no_answer_is_contradicted_by_blends() {
    let (count, first_seed) = (
        setting("LOFTKIN_FAMILIES", FAMILIES),
        setting("LOFTKIN_SEED", 1),
    );
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
                    one(seed, &counts);
                }
            });
        }
    });
    let counts = counts.into_inner().expect("no thread panicked");
    println!(
        "proved {}, refuted by a pair {}, by three {} (by chance {}), other {}",
        counts.proved, counts.pairs, counts.triples, counts.by_chance, counts.other
    );
    assert!(counts.complaints.is_empty(), "{:#?}", counts.complaints);
    // The test could not fail without families of each sort.
    assert!(count / 8 <= counts.proved && count / 8 <= counts.pairs);
    assert!(0 < counts.triples && 0 < counts.by_chance);
}

fn one(seed: u64, counts: &Mutex<Counts>) {
    let (pacing, profiles) = family(seed);
    let oracle = OracleFamily::new(&profiles, pacing);
    let answer = table(wide(pacing), profiles.clone()).any_blend();
    let mut random = Random::new(!seed);
    let complaint = match &answer {
        AnyBlend::Proved => met(&oracle, &mut random, BLENDS)
            .map(|(weights, sight)| format!("seed {seed}: proved, but {weights:?} {sight:?}")),
        AnyBlend::Refuted(bad) => (!meets_itself(&profiles, pacing, &oracle, bad))
            .then(|| format!("seed {seed}: refuted by {bad:?}")),
        _ => None,
    };
    let chance = matches!(&answer, AnyBlend::Refuted(bad) if bad.profiles.len() == 3)
        && met(&oracle, &mut random, CHANCES).is_some();
    let mut counts = counts.lock().expect("no thread panics while it counts");
    match &answer {
        AnyBlend::Proved => counts.proved += 1,
        AnyBlend::Refuted(bad) if bad.profiles.len() == 3 => counts.triples += 1,
        AnyBlend::Refuted(_) => counts.pairs += 1,
        _ => counts.other += 1,
    }
    counts.by_chance += u64::from(chance);
    counts.complaints.extend(complaint);
}

/// The first of `tries` random blends that the oracle sees meet itself, or
/// doubts.
fn met(oracle: &OracleFamily, random: &mut Random, tries: usize) -> Option<(Vec<f64>, Sight)> {
    (0..tries).find_map(|_| {
        let weights = weights(random, oracle.size());
        match oracle.look(&weights, CHORDS) {
            Sight::Nothing => None,
            sight => Some((weights, sight)),
        }
    })
}

/// Whether the oracle's curves confirm `bad`.
fn meets_itself(
    profiles: &[Profile],
    pacing: Pacing,
    oracle: &OracleFamily,
    bad: &BadBlend,
) -> bool {
    if let [first, second] = bad.profiles[..] {
        let pair = OraclePair::new(&profiles[first], &profiles[second], pacing);
        let fault = Fault {
            kind: bad.kind(),
            place: Place {
                along: bad.along,
                other_along: bad.other_along,
                across: bad.weights[1],
                point: bad.point,
            },
            angle: 0.0,
        };
        return !confirmed(&pair, &fault).disagrees();
    }
    // Three that surround zero do so at the very place that is reported: there
    // the chord of their blend (its slope, where both places are one) vanishes.
    let mut weights = vec![0.0; oracle.size()];
    for (&profile, &weight) in bad.profiles.iter().zip(&bad.weights) {
        weights[profile] = weight;
    }
    let is_convex = weights.iter().all(|&weight| 0.0 <= weight)
        && (weights.iter().sum::<f64>() - 1.0).abs() < 1e-12;
    let blend = oracle.blend(&weights);
    let left = blend.difference(bad.along, bad.other_along).first[0].norm();
    is_convex && left <= TRUE_CONTACT * oracle.extent()
}
