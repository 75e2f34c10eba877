//! Some pieces of a series by chance, the same from one seed on every machine.
//!
//! The stream of numbers is part of the meaning of a seed: changing anything
//! here changes which pieces people get from the seed that they noted. It is
//! splitmix64 begun at the seed (Steele, Lea and Flood, Fast splittable
//! pseudorandom number generators, OOPSLA 2014, figure 17 with the constants of
//! its variant 13), 64 bits at a time.

use num_bigint::BigUint;
use rand_xoshiro::SplitMix64;
use rand_xoshiro::rand_core::{Rng, SeedableRng};
use std::collections::BTreeSet;

/// `wanted` distinct numbers from 1 to `count` by chance from `seed`, ascending;
/// all numbers when there are no more.
///
/// Every set is equally likely, and nothing but the set is held: algorithm F2 of
/// Floyd (Bentley and Floyd, Programming pearls: a sample of brilliance, CACM
/// 30(9), 1987, 754-757).
pub fn distinct_numbers(seed: u64, wanted: usize, count: &BigUint) -> Vec<BigUint> {
    let wanted = BigUint::from(wanted).min(count.clone());
    let mut chance = SplitMix64::seed_from_u64(seed);
    let mut chosen = BTreeSet::new();
    let mut most = count - wanted;
    while &most < count {
        most += 1_u32;
        let drawn = up_to(&most, &mut chance);
        if !chosen.insert(drawn) {
            chosen.insert(most.clone());
        }
    }
    chosen.into_iter().collect()
}

/// A number from 1 to `most`, all alike: as many bits as `most` has, low
/// words first, drawn again while they say too much.
fn up_to(most: &BigUint, chance: &mut SplitMix64) -> BigUint {
    let bits = most.bits();
    loop {
        let words = bits.div_ceil(64);
        let mut digits = Vec::with_capacity(2 * words as usize);
        for word in 0..words {
            let kept = (bits - 64 * word).min(64);
            let drawn = chance.next_u64() >> (64 - kept);
            digits.extend([drawn as u32, (drawn >> 32) as u32]);
        }
        let drawn = BigUint::new(digits) + 1_u32;
        if &drawn <= most {
            return drawn;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_stream_is_the_published_one() {
        // From memory: the first values for seed 1234567 of the reference code.
        let mut chance = SplitMix64::seed_from_u64(1_234_567);
        assert_eq!(chance.next_u64(), 6_457_827_717_110_365_317);
        assert_eq!(chance.next_u64(), 3_203_168_211_198_807_973);
        assert_eq!(chance.next_u64(), 9_817_491_932_198_370_423);
    }

    #[test]
    fn a_choice_is_distinct_ascending_and_repeatable() {
        let count = BigUint::from(8_u32).pow(24);
        let choice = distinct_numbers(7, 500, &count);
        assert_eq!(choice.len(), 500);
        assert!(choice.windows(2).all(|pair| pair[0] < pair[1]));
        assert!(BigUint::from(1_u32) <= choice[0] && choice[499] <= count);
        assert_eq!(choice, distinct_numbers(7, 500, &count));
        assert_ne!(choice, distinct_numbers(8, 500, &count));
        // About as many in each half: off by less than five standard deviations.
        let low = choice
            .iter()
            .filter(|&number| number * 2_u32 <= count)
            .count();
        assert!((194..=306).contains(&low), "{low}");
    }

    /// Worked out apart, by the same definition written in Python: seeds that
    /// people have noted must go on giving the same pieces.
    #[test]
    fn a_seed_gives_the_same_pieces_for_ever() {
        let few = distinct_numbers(7, 5, &BigUint::from(134_456_u32));
        let expected = [4401_u32, 65_387, 102_192, 118_605, 122_672];
        assert_eq!(few, expected.map(BigUint::from));
        let far = distinct_numbers(2026, 3, &BigUint::from(8_u32).pow(24));
        let expected = [
            1_820_091_260_821_290_793_103_u128,
            2_164_445_868_243_539_727_093,
            2_229_433_906_149_585_095_972,
        ];
        assert_eq!(far, expected.map(BigUint::from));
    }

    #[test]
    fn wanting_more_than_there_are_gives_all() {
        let all = distinct_numbers(1, 10, &BigUint::from(4_u32));
        assert_eq!(all, [1_u32, 2, 3, 4].map(BigUint::from));
        assert!(distinct_numbers(1, 10, &BigUint::ZERO).is_empty());
    }

    #[test]
    fn every_pair_of_five_is_equally_likely() {
        let mut times = std::collections::BTreeMap::new();
        for seed in 0..20_000 {
            *times
                .entry(distinct_numbers(seed, 2, &BigUint::from(5_u32)))
                .or_insert(0) += 1;
        }
        assert_eq!(times.len(), 10);
        // 2 000 expected each, standard deviation 42.
        assert!(times.values().all(|&times| (1790..=2210).contains(&times)));
    }
}
