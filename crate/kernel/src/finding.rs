//! Everything to say about one pair. (Being built.)

use crate::family::Family;
use crate::proof::{Memory, Prepared};
use crate::verdict::{Finding, Judgement};

pub(crate) fn work_out(
    _: &Family,
    _: &[Prepared],
    judgement: Judgement,
    _: usize,
    _: usize,
    _: &mut Memory,
) -> Finding {
    Finding {
        judgement,
        regions: Vec::new(),
        complete: false,
        margin: None,
        shortfall: None,
        twist: (0.0, 0.0),
        hints: Vec::new(),
    }
}
