//! Seeded pseudo-random numbers: the same seed gives the same family everywhere.
//!
//! SplitMix64 (Steele, Lea, Flood: Fast splittable pseudorandom number
//! generators, OOPSLA 2014). Not for secrets.

/// A stream of pseudo-random numbers.
#[derive(Clone, Debug)]
pub struct Random {
    state: u64,
}

impl Random {
    /// The stream that belongs to `seed`.
    pub fn new(seed: u64) -> Self {
        Self { state: seed }
    }

    /// The next 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.state;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
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
