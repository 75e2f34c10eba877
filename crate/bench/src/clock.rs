//! Timing a piece of work with any clock: the system's natively, the page's in WebAssembly.
//!
//! It gives the quickest of several batches: whatever else a machine does can only make a batch slower. It does no
//! statistics; criterion does.

/// Batches are made at least this long, in ms, so that a coarse clock does not matter.
const BATCH: f64 = 10.0;

/// How many batches the quickest is taken of.
const BATCHES: usize = 15;

/// How long one call of `work` takes, in microseconds, by a clock that counts milliseconds.
pub fn microseconds(mut work: impl FnMut(), now: &dyn Fn() -> f64) -> f64 {
    let mut time_of = |calls: u32| {
        let start = now();
        for _ in 0..calls {
            work();
        }
        now() - start
    };
    let mut calls = 1;
    while time_of(calls) < BATCH {
        calls *= 2;
    }
    let quickest = (0..BATCHES)
        .map(|_| time_of(calls))
        .fold(f64::INFINITY, f64::min);
    quickest * 1000.0 / f64::from(calls)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::Cell;

    #[test]
    fn the_time_of_one_call_is_found_whatever_its_length() {
        for length in [0.003, 0.7, 40.0] {
            let time = Cell::new(0.0);
            let found = microseconds(|| time.set(time.get() + length), &|| time.get());
            assert!(
                (found - 1000.0 * length).abs() < 1e-6 * found,
                "{length} ms: {found}"
            );
        }
    }
}
