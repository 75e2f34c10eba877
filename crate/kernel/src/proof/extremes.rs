//! The lesser and the greater of two numbers by one comparison each.
//!
//! `f64::min` and `f64::max` promise an answer when one of the two is no number;
//! in WebAssembly, whose own instructions promise otherwise, they are calls, which took more than
//! a quarter of the time of a table. Here the first argument may be no number
//! and is then passed over, as they would; the second, a running extreme, must
//! be one. The sign of a zero may differ, which no test of the proof can see.

/// The lesser of `candidate` and the running extreme `least`.
#[inline(always)]
pub fn lesser(candidate: f64, least: f64) -> f64 {
    if candidate < least { candidate } else { least }
}

/// The greater of `candidate` and the running extreme `most`.
#[inline(always)]
pub fn greater(candidate: f64, most: f64) -> f64 {
    if most < candidate { candidate } else { most }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn extremes_are_those_of_the_language(candidate in any::<f64>(), running in -1e300..1e300_f64) {
            prop_assert!(lesser(candidate, running) == running.min(candidate));
            prop_assert!(greater(candidate, running) == running.max(candidate));
        }
    }

    #[test]
    fn what_is_no_number_is_passed_over() {
        assert_eq!(lesser(f64::NAN, 1.0), 1.0);
        assert_eq!(greater(f64::NAN, 1.0), 1.0);
    }
}
