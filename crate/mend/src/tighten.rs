//! The last steps on the grid: knobs drawn back towards the drawing, one at a
//! time, as long as the table proves what is left.
//!
//! The rounds end a little clear of every limit, for what they come to is
//! rounded to the grid afterwards. Where a whole mend is a few grid steps, that
//! is a good part of it.

use crate::survey::{Proved, Survey};

/// Steps tried, in grid steps, the widest first.
const STEPS: [f64; 5] = [16.0, 8.0, 4.0, 2.0, 1.0];
/// The most proofs asked for.
const MOST_TRIES: usize = 300;

/// `best` with less movement, as far as single knobs allow.
pub fn tightened(survey: &mut Survey, best: Proved) -> Proved {
    let setting: Vec<f64> = best.setting.iter().map(|z| libm::round(*z)).collect();
    // The same places on the grid, and now the setting says so.
    let mut best = survey.proved_at(&setting).unwrap_or(best);
    let mut tries = 0;
    for step in STEPS {
        let mut helped = true;
        while helped {
            helped = false;
            for knob in farthest_first(&best.setting) {
                let z = best.setting[knob];
                if z.abs() < step || MOST_TRIES <= tries {
                    break;
                }
                tries += 1;
                let mut setting = best.setting.clone();
                setting[knob] -= step.copysign(z);
                if let Some(proved) = survey.proved_at(&setting) {
                    best = proved;
                    helped = true;
                }
            }
        }
    }
    best
}

/// The knobs, those turned farthest first.
fn farthest_first(setting: &[f64]) -> Vec<usize> {
    let mut knobs: Vec<usize> = (0..setting.len()).collect();
    knobs.sort_by(|&one, &other| setting[other].abs().total_cmp(&setting[one].abs()));
    knobs
}
