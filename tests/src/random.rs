//! Seeded pseudo-random numbers: the same seed gives the same family everywhere.
//! Not for secrets.

use rand_xoshiro::SplitMix64;
use rand_xoshiro::rand_core::{Rng, SeedableRng};

/// A stream of pseudo-random numbers.
#[derive(Clone, Debug)]
pub struct Random {
    stream: SplitMix64,
}

impl Random {
    /// The stream that belongs to `seed`.
    pub fn new(seed: u64) -> Self {
        Self {
            stream: SplitMix64::seed_from_u64(seed),
        }
    }

    /// The next 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.stream.next_u64()
    }

    /// An even number in \[0, 1).
    pub fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// An even number in \[`low`, `high`).
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// A whole number from `low` to `high`, both included.
    pub fn whole(&mut self, low: i32, high: i32) -> i32 {
        let choices = (i64::from(high) - i64::from(low) + 1) as u64;
        (i64::from(low) + (self.bits() % choices) as i64) as i32
    }

    /// True with the given chance.
    pub fn chance(&mut self, chance: f64) -> bool {
        self.unit() < chance
    }
}
