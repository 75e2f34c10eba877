//! Seeded faulty families are mended, and what is mended is clear to the table
//! and to the oracle of dense sections, which shares no code with it.
//!
//! `LOFTKIN_FAMILIES` sets another number of families than the usual 40.

use loftkin_bench::faulty;
use loftkin_kernel::family::Family;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::Verdict;
use loftkin_mend::{Outcome, Request, Target, mend};
use loftkin_tests::compare::compare_pair;
use loftkin_tests::oracle::pair::OraclePair;
use loftkin_tests::setting::setting;
use std::ops::ControlFlow;

const FAMILIES: u64 = 40;
/// The least share to be mended.
const SHARE: f64 = 0.95;

fn mended(family: &Family) -> Option<Family> {
    let request = Request {
        remedies_first: false,
        ..Request::new(Target::All)
    };
    match mend(family, &request, &mut |_| ControlFlow::Continue(())) {
        Ok(Outcome::Moved(mended)) => Some(mended.family),
        Ok(Outcome::NotFound(_)) => None,
        other => panic!("the families are faulty, but it says {other:?}"),
    }
}

fn is_clear_to_both(family: &Family) -> bool {
    let table = Table::new(family.clone()).expect("a mended family is well formed");
    let mut pairs = (0..table.size()).flat_map(|high| (0..high).map(move |low| (low, high)));
    table.verdict() == Verdict::Clear
        && pairs.all(|(low, high)| {
            let [first, second] = [low, high].map(|index| &family.profiles[index]);
            let pair = OraclePair::new(first, second, family.settings.pacing);
            !compare_pair(&pair, table.cell(low, high)).disagrees()
        })
}

#[test]
fn seeded_faulty_families_are_mended_and_proved_anew() {
    let count = setting("LOFTKIN_FAMILIES", FAMILIES);
    let mut missed = Vec::new();
    for seed in 0..count {
        let family = faulty::family(seed);
        match mended(&family) {
            Some(mended) => assert!(is_clear_to_both(&mended), "family {seed}"),
            None => missed.push(seed),
        }
    }
    let share = 1.0 - missed.len() as f64 / count as f64;
    assert!(SHARE <= share, "not mended: families {missed:?}");
}
