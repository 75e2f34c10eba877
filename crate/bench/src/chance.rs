//! Numbers by chance from a seed: the same on every machine.

use rand_xoshiro::SplitMix64;
use rand_xoshiro::rand_core::{Rng, SeedableRng};

/// A generator.
pub struct Chance(SplitMix64);

impl Chance {
    /// The generator of `seed`.
    pub fn new(seed: u64) -> Self {
        Self(SplitMix64::seed_from_u64(seed))
    }

    /// A number from `low` to below `high`.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A whole number below `count`.
    pub fn below(&mut self, count: usize) -> usize {
        (self.0.next_u64() % count as u64) as usize
    }
}
