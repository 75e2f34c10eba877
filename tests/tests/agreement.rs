//! The sets of profiles that agree, against every subset there is: small
//! families allow to try them all.

use loftkin_kernel::blend::{Agreement, LeaveOut};
use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::Profile;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::AnyBlend;
use loftkin_tests::compare::table;
use loftkin_tests::generate::{moved, shape, turned};
use loftkin_tests::random::Random;
use loftkin_tests::shapes::wide;
use proptest::prelude::*;

/// Copies of one shape, each turned in its own way, so that some agree.
fn family(seed: u64, count: usize, widest: f64) -> Table {
    let mut random = Random::new(seed);
    let closed = random.chance(0.5);
    let first = shape(&mut random, closed, 6_000.0);
    let profiles: Vec<Profile> = (0..count)
        .map(|_| {
            let turn = random.between(-widest, widest);
            turned(&moved(&mut random, &first, 600.0), turn, 1.0)
        })
        .collect();
    table(wide(Pacing::Parameter), profiles)
}

fn members(mask: u32, count: usize) -> Vec<usize> {
    (0..count).filter(|index| mask >> index & 1 == 1).collect()
}

/// Whether every pair of `members`, and every one itself, is clear.
fn agree(table: &Table, members: &[usize]) -> bool {
    members.iter().all(|&one| {
        let mut others = members.iter();
        others.all(|&other| table.cell(one, other).is_clear())
    })
}

fn proved(table: &Table, members: &[usize]) -> bool {
    agree(table, members) && table.any_blend_of(members) == AnyBlend::Proved
}

/// All sets that agree and to which no profile can be added.
fn maximal(table: &Table) -> Vec<Vec<usize>> {
    let count = table.size();
    let good = |mask: u32| agree(table, &members(mask, count));
    let mut sets: Vec<Vec<usize>> = (1u32..1 << count)
        .filter(|&mask| good(mask))
        .filter(|&mask| (0..count).all(|more| mask >> more & 1 == 1 || !good(mask | 1 << more)))
        .map(|mask| members(mask, count))
        .collect();
    sets.sort_by(|one, other| other.len().cmp(&one.len()).then(one.cmp(other)));
    sets
}

fn largest_proved(table: &Table) -> usize {
    let count = table.size();
    let sets = (1u32..1 << count).map(|mask| members(mask, count));
    let proved = sets.filter(|members| proved(table, members));
    proved.map(|members| members.len()).max().unwrap_or(0)
}

/// By trying each: which single profile need only be left out.
fn leave_out(table: &Table) -> Vec<LeaveOut> {
    let all: Vec<usize> = (0..table.size()).collect();
    let rest = |profile: usize| -> Vec<usize> {
        let others = all.iter().copied();
        others.filter(|&other| other != profile).collect()
    };
    if proved(table, &all) {
        return Vec::new();
    }
    let pairs_agree = agree(table, &all);
    all.iter()
        .map(|&profile| (profile, rest(profile)))
        .filter(|(_, rest)| agree(table, rest))
        .map(|(profile, rest)| LeaveOut {
            profile,
            any_blend: proved(table, &rest),
        })
        .filter(|leave_out| leave_out.any_blend || !pairs_agree)
        .collect()
}

fn compare(table: &Table) -> Agreement {
    let agreement = table.agreement();
    assert!(agreement.complete);
    assert_eq!(agreement.by_pairs, maximal(table));
    assert!(agreement.any_blend.is_empty() || proved(table, &agreement.any_blend));
    if agreement.largest {
        assert_eq!(agreement.any_blend.len(), largest_proved(table));
    }
    assert_eq!(agreement.leave_out, leave_out(table));
    agreement
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn sets_that_agree_are_those_found_by_trying_all(
        seed in any::<u64>(),
        count in 3..9usize,
        widest in prop::sample::select(vec![30.0, 90.0, 180.0]),
    ) {
        compare(&family(seed, count, widest));
    }
}

/// Random families have some of everything that is compared above.
#[test]
fn every_sort_of_agreement_is_met() {
    let (mut split, mut pairs_only, mut all) = (0, 0, 0);
    for seed in 0..120 {
        let agreement = compare(&family(seed, 4, 60.0));
        split += usize::from(1 < agreement.by_pairs.len());
        let with = |any_blend| {
            let found = agreement.leave_out.iter();
            found
                .filter(|leave_out| leave_out.any_blend == any_blend)
                .count()
        };
        pairs_only += with(false);
        all += with(true);
    }
    println!("{split} split, {pairs_only} mended for pairs by leaving one out, {all} altogether");
    assert!(10 < split && 5 < all);
}
