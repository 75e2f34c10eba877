//! The margin that a mend is to have where none is named: one that a workshop can
//! hold.

use crate::blame::counted_on;
use crate::request::{Hindrance, Outcome, Progress, Request, RequestError};
use loftkin_kernel::family::Family;
use loftkin_kernel::table::Table;
use std::ops::ControlFlow;

/// In mm. Press tools for sheet are commonly true to 0.1 mm (common practice, from
/// memory), and two of them meet in a pair; a mend that is clear by less would be
/// undone on the bench.
pub const WORKSHOP_MM: f64 = 0.2;

/// The grid of drawings: margins are asked in steps of it.
const STEP_MM: f64 = 0.01;

/// The margin that was asked for, and why.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DefaultMargin {
    /// In mm; at 0 no more than clear was asked for.
    pub mm: f64,
    /// What the margin would be by the family's clear pairs: [`WORKSHOP_MM`], or
    /// theirs where the least of them have less.
    pub aimed_mm: f64,
}

/// As [`crate::mend`] with a margin that a workshop can hold: [`WORKSHOP_MM`], but
/// no more than every clear pair of the family has already. Where no mend is found
/// with it, the pairs are made clear and no more.
///
/// # Errors
/// As [`crate::mend`].
pub fn mend_for_workshop(
    family: &Family,
    request: &Request,
    progress: &mut dyn FnMut(Progress) -> ControlFlow<()>,
) -> Result<(Outcome, DefaultMargin), RequestError> {
    let aimed_mm = healthy(&Table::new(family.clone())?);
    let with = |mm: f64| Request {
        margin_mm: mm,
        ..request.clone()
    };
    let mut done = 0;
    let outcome = crate::mend(family, &with(aimed_mm), &mut |told| {
        done = told.round;
        progress(told)
    })?;
    let in_vain = matches!(&outcome, Outcome::NotFound(nearest)
        if nearest.hindrance == Hindrance::RoundsUsedUp);
    if !in_vain || aimed_mm == 0.0 {
        let mm = aimed_mm;
        return Ok((outcome, DefaultMargin { mm, aimed_mm }));
    }
    let outcome = crate::mend(family, &with(0.0), &mut |told| {
        progress(counted_on(told, done))
    })?;
    Ok((outcome, DefaultMargin { mm: 0.0, aimed_mm }))
}

/// What all clear pairs of the family have, up to [`WORKSHOP_MM`].
fn healthy(table: &Table) -> f64 {
    let pairs = (0..table.size()).flat_map(|high| (0..high).map(move |low| (low, high)));
    let mut least = WORKSHOP_MM;
    for (low, high) in pairs {
        if table.cell(low, high).is_clear() {
            least = least.min(table.margin_up_to(low, high, least).unwrap_or(0.0));
        }
    }
    // A thousandth of a step is left to rounding.
    libm::floor(least / STEP_MM + 1e-3) * STEP_MM
}
