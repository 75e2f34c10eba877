//! Seeded families of several profiles.

use crate::generate::{moved, shape, turned};
use crate::random::Random;
use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::Profile;

/// The family of `seed`: copies of one shape, turned, scaled and moved, so that
/// some families agree, some fail a pair and some only a blend of three.
pub fn family(seed: u64) -> (Pacing, Vec<Profile>) {
    let mut random = Random::new(seed);
    let closed = random.chance(0.6);
    let size = random.between(2_000.0, 20_000.0);
    let count = random.whole(3, 8);
    let widest = [20.0, 60.0, 120.0, 180.0][random.whole(0, 3) as usize];
    let rough = [0.0, 0.02, 0.1, 0.25][random.whole(0, 3) as usize];
    let first = shape(&mut random, closed, size);
    let profiles = (0..count)
        .map(|_| {
            let copy = moved(&mut random, &first, rough * size);
            let turn = random.between(-widest, widest);
            turned(&copy, turn, random.between(0.5, 1.5))
        })
        .collect();
    let pacing = if random.chance(0.3) {
        Pacing::Node
    } else {
        Pacing::Parameter
    };
    (pacing, profiles)
}
