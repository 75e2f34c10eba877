//! Counts against published formulas and against listing all words.

use super::*;
use crate::blend::Blend;
use crate::series::symmetry;
use crate::stations::{Station, Stations};
use proptest::prelude::*;
use std::collections::BTreeSet;
use std::sync::Arc;

fn grammar(
    stations: usize,
    size: usize,
    all_round: bool,
    beside: impl Fn(usize, usize) -> bool,
) -> Grammar {
    let cells = (0..size * size).map(|cell| beside(cell / size, cell % size));
    let beside = Arc::new(cells.collect());
    Grammar {
        palette: (0..size).collect(),
        allowed: vec![vec![true; size]; stations],
        beside: vec![beside; stations - usize::from(!all_round)],
        all_round,
        reach: 2,
        turns: vec![0; stations],
        threes: BTreeSet::new(),
    }
}

fn count(grammar: &Grammar) -> u64 {
    let walks = Walks::new(grammar.clone()).unwrap();
    u64::try_from(walks.count()).unwrap()
}

fn symmetric(grammar: &Grammar) -> (u64, u64) {
    let count = grammar.allowed.len();
    let step = 360.0 / count as f64;
    let stations = (0..count).map(|k| Station::at(step * k as f64)).collect();
    let stations = Stations::ring(stations, true).unwrap();
    let layout = crate::blend::Layout::new(stations, Blend::Ruled).unwrap();
    let counted = symmetry::of(&layout, grammar).unwrap();
    let number = |count: BigUint| u64::try_from(count).unwrap();
    (number(counted.turning), number(counted.mirroring))
}

/// Necklaces and bracelets: (1/n) sum over d|n of phi(d) k^(n/d), and its
/// companion with mirrors; values derived from the formula.
#[test]
fn free_rings_are_necklaces_and_bracelets() {
    for (n, k, expected) in [
        (6, 2, (14, 13)),
        (6, 3, (130, 92)),
        (6, 8, (43_800, 23_052)),
        (8, 8, (2_097_684, 1_058_058)),
    ] {
        assert_eq!(symmetric(&grammar(n, k, true, |_, _| true)), expected);
    }
}

/// Derived from 1ᵀ M^(n-1) 1 and tr M^n by computer algebra.
#[test]
fn eight_profiles_without_equal_neighbours() {
    let unequal = |a: usize, b: usize| a != b;
    assert_eq!(count(&grammar(5, 8, false, unequal)), 19_208);
    assert_eq!(count(&grammar(6, 8, false, unequal)), 134_456);
    assert_eq!(count(&grammar(6, 8, true, unequal)), 117_656);
    let but_one = |a: usize, b: usize| a != b && (a.min(b), a.max(b)) != (2, 5);
    assert_eq!(count(&grammar(5, 8, false, but_one)), 16_782);
    // 113 646 is the stack of 6.
    assert_eq!(count(&grammar(6, 8, false, but_one)), 113_646);
}

#[test]
fn the_largest_series_are_counted_exactly() {
    let walks = Walks::new(grammar(24, 256, false, |_, _| true)).unwrap();
    assert_eq!(*walks.count(), BigUint::from(256_u32).pow(24));
    let last = walks.arrangement(walks.count()).unwrap();
    assert_eq!(last, Arrangement(vec![255; 24]));
    assert_eq!(walks.number(&last).unwrap(), *walks.count());
    assert_eq!(
        Walks::new(grammar(24, 256, true, |_, _| true)).unwrap_err(),
        TooLarge { profiles: 256 }
    );
    let ring = Walks::new(grammar(24, 64, true, |_, _| true)).unwrap();
    assert_eq!(*ring.count(), BigUint::from(64_u32).pow(24));
}

#[test]
fn what_is_no_piece_is_told_why() {
    let mut unequal = grammar(3, 2, false, |a, b| a != b);
    unequal.allowed[0][1] = false;
    let walks = Walks::new(unequal).unwrap();
    assert_eq!(*walks.count(), BigUint::from(1_u32));
    let number = |profiles: &[usize]| walks.number(&Arrangement(profiles.to_vec()));
    assert_eq!(number(&[0, 1, 0]), Ok(BigUint::from(1_u32)));
    assert!(matches!(number(&[0, 1]), Err(NumberError::Length { .. })));
    assert_eq!(
        number(&[1, 0, 1]),
        Err(NumberError::NotAllowed {
            station: 1,
            profile: 2
        })
    );
    assert_eq!(
        number(&[0, 1, 1]),
        Err(NumberError::NotBeside {
            station: 3,
            profile: 2,
            before: 2
        })
    );
    for wrong in [0_u32, 2] {
        assert!(walks.arrangement(&BigUint::from(wrong)).is_err());
    }
}

#[test]
fn nothing_allowed_is_a_count_of_zero() {
    for all_round in [false, true] {
        let walks = Walks::new(grammar(4, 3, all_round, |_, _| false)).unwrap();
        assert_eq!(*walks.count(), BigUint::ZERO);
        assert!(walks.arrangement(&BigUint::from(1_u32)).is_err());
    }
}

/// All words of `length` letters below `size`, in their order.
fn words(length: usize, size: usize) -> Vec<Vec<usize>> {
    (0..length).fold(vec![Vec::new()], |words, _| {
        let longer = words.into_iter().flat_map(|word| {
            (0..size).map(move |letter| word.iter().copied().chain([letter]).collect())
        });
        longer.collect()
    })
}

/// The definition: every window of `reach` stations suits, and so does every
/// three within it.
fn is_piece(grammar: &Grammar, word: &[usize]) -> bool {
    let count = word.len();
    let size = grammar.size();
    let joints = grammar.beside.len();
    let letters = word.iter().enumerate();
    let neighbours = (0..joints)
        .all(|joint| grammar.beside[joint][word[joint] * size + word[(joint + 1) % count]]);
    let windows = if grammar.all_round {
        count
    } else {
        count + 1 - grammar.reach
    };
    let blended = grammar.reach == 2
        || (0..windows).all(|start| {
            let at = |k: usize| {
                (
                    grammar.turns[(start + k) % count],
                    word[(start + k) % count],
                )
            };
            (0..grammar.reach).all(|a| {
                (a + 1..grammar.reach).all(|b| {
                    (b + 1..grammar.reach).all(|c| {
                        let mut three = [at(a), at(b), at(c)];
                        three.sort_unstable();
                        grammar.threes.contains(&three)
                    })
                })
            })
        });
    let mut allowed = letters.map(|(station, &letter)| grammar.allowed[station][letter]);
    allowed.all(|allowed| allowed) && neighbours && blended
}

fn any_grammar() -> impl Strategy<Value = Grammar> {
    (2..=4_usize, 0..=2_usize, any::<bool>(), 1..=3_usize).prop_flat_map(
        |(reach, more, all_round, size)| {
            let stations = reach + more;
            let joints = stations - usize::from(!all_round);
            let cells = prop::collection::vec(prop::bool::weighted(0.7), size * size);
            (
                prop::collection::vec(cells, joints),
                prop::collection::vec(
                    prop::collection::vec(prop::bool::weighted(0.8), size),
                    stations,
                ),
                prop::collection::vec(prop::bool::weighted(0.8), size * size * size),
            )
                .prop_map(move |(beside, allowed, chosen)| {
                    let all = words(3, size).into_iter().zip(chosen);
                    let threes = all.filter(|(_, chosen)| *chosen).map(|(word, _)| {
                        let mut three = [(0, word[0]), (0, word[1]), (0, word[2])];
                        three.sort_unstable();
                        three
                    });
                    Grammar {
                        palette: (0..size).map(|profile| 10 + 3 * profile).collect(),
                        allowed,
                        beside: beside.into_iter().map(Arc::new).collect(),
                        all_round,
                        reach,
                        turns: vec![0; stations],
                        threes: threes.collect(),
                    }
                })
        },
    )
}

proptest! {
    #[test]
    fn counts_and_numbers_are_those_of_the_list(grammar in any_grammar()) {
        let stations = grammar.allowed.len();
        let walks = Walks::new(grammar.clone()).unwrap();
        let listed: Vec<_> = words(stations, grammar.size())
            .into_iter()
            .filter(|word| is_piece(&grammar, word))
            .collect();
        prop_assert_eq!(walks.count(), &BigUint::from(listed.len()));
        for (index, word) in listed.iter().enumerate() {
            let number = BigUint::from(index + 1);
            let profiles = word.iter().map(|&index| grammar.palette[index]).collect();
            let arrangement = Arrangement(profiles);
            prop_assert_eq!(&walks.number(&arrangement).unwrap(), &number);
            prop_assert_eq!(walks.arrangement(&number).unwrap(), arrangement);
        }
    }

    /// Against orbits: the least of all turned (and mirrored) words.
    #[test]
    fn symmetric_counts_are_those_of_the_orbits(
        stations in 2..=6_usize,
        cells in prop::collection::vec(prop::bool::weighted(0.7), 9),
        allowed in prop::collection::vec(prop::bool::weighted(0.8), 3),
    ) {
        let mut ring = grammar(stations, 3, true, |a, b| cells[3 * a.min(b) + a.max(b)]);
        ring.allowed = vec![allowed; stations];
        let mut turned = BTreeSet::new();
        let mut mirrored = BTreeSet::new();
        for word in words(stations, 3).into_iter().filter(|word| is_piece(&ring, word)) {
            let mut least = word.clone();
            let mut least_mirrored = word.clone();
            for shift in 0..stations {
                let mut other = word.clone();
                other.rotate_left(shift);
                least = least.min(other.clone());
                least_mirrored = least_mirrored.min(other.clone());
                other.reverse();
                least_mirrored = least_mirrored.min(other);
            }
            turned.insert(least);
            mirrored.insert(least_mirrored);
        }
        prop_assert_eq!(symmetric(&ring), (turned.len() as u64, mirrored.len() as u64));
    }
}
