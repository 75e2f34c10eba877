//! Limacons r = b + k cos(phi) with k < b, lofted at equal phi, never touch
//! themselves: every section is b' + k' cos(phi) with the blended b' and k',
//! and k' < b'. (A limacon has a loop when b < k and a cusp when k = b: from
//! memory; the rest is derived here.) A pair that must never be called faulty.

use loftkin_kernel::family::Pacing;
use loftkin_kernel::verdict::Verdict;
use loftkin_tests::compare::table;
use loftkin_tests::random::Random;
use loftkin_tests::shapes::{limacon, wide};

const BASE: f64 = 20_000.0;

#[test]
fn blends_of_simple_limacons_are_never_faulty() {
    let mut random = Random::new(3);
    // Even the sharpest, k = .97 b, keeps its radius of .03 b far above the
    // error of 90 Hermite spans, 1e-6 b.
    let profiles = (0..24)
        .map(|_| {
            let base = BASE * random.between(0.05, 1.0);
            limacon(base, base * random.between(0.0, 0.97), 90)
        })
        .collect();
    let table = table(wide(Pacing::Node), profiles);
    for second in 0..table.size() {
        for first in 0..=second {
            let judgement = table.cell(first, second);
            assert_eq!(
                judgement.verdict,
                Verdict::Clear,
                "{first} {second} {judgement:?}"
            );
        }
    }
}

#[test]
fn a_limacon_with_an_inner_loop_is_faulty_by_itself() {
    for share in [1.02, 1.2, 2.0, 5.0] {
        let table = table(wide(Pacing::Node), vec![limacon(BASE, share * BASE, 90)]);
        assert_eq!(table.cell(0, 0).verdict, Verdict::Faulty, "k = {share} b");
    }
}
