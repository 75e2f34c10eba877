//! Numbers by chance, the same every time: a mend must not differ from one run
//! to the next.

/// A generator (splitmix64; Steele, Lea and Flood, Fast splittable pseudorandom
/// number generators, OOPSLA 2014).
pub struct Chance(u64);

impl Chance {
    /// The generator at its beginning.
    pub fn new() -> Self {
        Self(0)
    }

    /// A number from -1 to below 1.
    pub fn either_way(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^= z >> 31;
        (z >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
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
