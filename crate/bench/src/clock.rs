//! Timing a piece of work with any clock: the system's natively, the page's in WebAssembly.
//!
//! It gives the quickest of several batches: whatever else a machine does can only make a batch slower. It does no
//! statistics; criterion does.

/// Batches are made at least this long, in ms, so that a coarse clock does not matter.
const BATCH: f64 = 10.0;

/// How many batches the quickest is taken of.
const BATCHES: usize = 15;

/// How long one call of each piece of work takes, in microseconds, by a clock that counts milliseconds. Their batches
/// are taken in turn, so that a slow spell of the machine meets all of them and their times can be compared.
pub fn microseconds<const N: usize>(
    works: [&mut dyn FnMut(); N],
    now: &dyn Fn() -> f64,
) -> [f64; N] {
    let mut works = works.map(|work| Timed::new(work, now));
    for _ in 0..BATCHES {
        for work in &mut works {
            work.quickest = work.quickest.min(work.batch(now));
        }
    }
    works.map(|work| work.quickest * 1000.0 / f64::from(work.calls))
}

/// A piece of work, how many calls of it make a batch, and its quickest batch so far, in ms.
struct Timed<'a> {
    work: &'a mut dyn FnMut(),
    calls: u32,
    quickest: f64,
}

impl<'a> Timed<'a> {
    fn new(work: &'a mut dyn FnMut(), now: &dyn Fn() -> f64) -> Self {
        let mut timed = Self {
            work,
            calls: 1,
            quickest: f64::INFINITY,
        };
        while timed.batch(now) < BATCH {
            timed.calls *= 2;
        }
        timed
    }

    fn batch(&mut self, now: &dyn Fn() -> f64) -> f64 {
        let start = now();
        for _ in 0..self.calls {
            (self.work)();
        }
        now() - start
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::Cell;

    #[test]
    fn the_time_of_one_call_is_found_whatever_its_length() {
        let time = Cell::new(0.0);
        let lengths = [0.003, 0.7, 40.0];
        let mut works = lengths.map(|length| {
            let time = &time;
            move || time.set(time.get() + length)
        });
        let found = microseconds(
            works.each_mut().map(|work| work as &mut dyn FnMut()),
            &|| time.get(),
        );
        for (found, length) in found.into_iter().zip(lengths) {
            assert!(
                (found - 1000.0 * length).abs() < 1e-6 * found,
                "{length} ms: {found}"
            );
        }
    }
}
