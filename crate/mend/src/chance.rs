//! Numbers by chance, the same every time: a mend must not differ from one run
//! to the next.

use rand_xoshiro::SplitMix64;
use rand_xoshiro::rand_core::{Rng, SeedableRng};

/// A generator, always begun at the same place.
pub struct Chance(SplitMix64);

impl Chance {
    /// The generator at its beginning.
    pub fn new() -> Self {
        Self(SplitMix64::seed_from_u64(0))
    }

    /// A number from -1 to below 1.
    pub fn either_way(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_fill_the_range_evenly() {
        let mut chance = Chance::new();
        let numbers: Vec<f64> = (0..4000).map(|_| chance.either_way()).collect();
        assert!(numbers.iter().all(|number| (-1.0..1.0).contains(number)));
        let mean = |power: i32| numbers.iter().map(|x| x.powi(power)).sum::<f64>() / 4000.0;
        assert!(mean(1).abs() < 0.03 && (mean(2) - 1.0 / 3.0).abs() < 0.02);
    }
}
