//! Mending: the least movement of nodes after which the proof holds.
//!
//! A change that costs nothing is tried first (reverse, seam, pacing). Then
//! nodes move: the weighted sum of squares of their movements is made least
//! under rows that are linear in them (`clearance` says what a row is), in
//! rounds of convex quadratic programs. Whatever the rounds come to is rounded
//! to the grid and judged by [`Table`]; only what it proves is called a mend.
//! The rounds themselves are estimates.
//!
//! In reading order: `request` (what is asked and answered), `check`, `free`
//! (changes that cost nothing, one after the other), `scope`
//! (what it is about), `freedom` (what may move), `response` (how curves
//! answer), `clearance`, `unwrap`, `along`, `kinks`, `places` and `field` (where a pair
//! falls short), `alone`, `relaxed` and `guides` (one profile that meets
//! itself), `together` (any blend
//! of all), `wishes`, `rows` and `holds` (wishes as linear rows), `program` and `solver`
//! (one quadratic program), `survey` (all there is to see at one setting), `rounds`,
//! `tighten`, `remedies`, `chance`, `modelled` and `beginnings` (where else to begin), `work` (one after the other), `blame` (whose
//! movement comes first), `workshop` (the margin where none is named), `outcome`.
//! `nodes` asks the other way round: how little movement breaks a clear pair.
//!
//! A crate of its own, because the solver brings a stop watch that reaches for
//! the web in WebAssembly, which the kernel never does.

#![forbid(unsafe_code)]

mod alone;
mod along;
mod beginnings;
mod blame;
mod chance;
mod check;
mod clearance;
mod field;
mod free;
mod freedom;
mod guides;
mod holds;
mod kinks;
mod modelled;
mod nodes;
mod outcome;
mod places;
mod program;
mod relaxed;
mod remedies;
mod remembered;
mod request;
mod response;
mod rounds;
mod rows;
mod scope;
mod solver;
mod survey;
mod tighten;
mod together;
mod unwrap;
mod wishes;
mod work;
mod workshop;

#[cfg(test)]
mod tests;

pub use free::free_remedies;
pub use nodes::{Broken, ByNode, NodeMargin, Swap, node_margin};
pub use request::{
    Approach, END_TURN_DEGREES, EXTENT_MM, Hindrance, Mended, Move, MovedPoint, Outcome, Progress,
    Request, RequestError, Target,
};
pub use workshop::{DefaultMargin, WORKSHOP_MM, mend_for_workshop};

use loftkin_kernel::family::Family;
use loftkin_kernel::table::Table;
use scope::Scope;
use std::ops::ControlFlow;
use work::Work;

/// Mends `family` as `request` asks. `progress` is told before each round and
/// may break off.
///
/// # Errors
/// A [`RequestError`] when the request names what is not there or is no length.
pub fn mend(
    family: &Family,
    request: &Request,
    progress: &mut dyn FnMut(Progress) -> ControlFlow<()>,
) -> Result<Outcome, RequestError> {
    let mut table = Table::new(family.clone())?;
    check::check(family, request)?;
    let scope = Scope::new(family, request);
    let open = scope.open(&table);
    if open.is_empty() {
        return Ok(Outcome::AlreadyClear);
    }
    if let Some(hindrance) = open.hindrance(&table) {
        return Ok(outcome::not_tried(family, hindrance, &open));
    }
    if request.remedies_first
        && let Some(hint) = remedies::remedy(&mut table, &scope, &open, request)
    {
        return Ok(Outcome::Remedy(hint));
    }
    let mut done = 0;
    if request.blame_first
        && let Some(outcome) = blame::mended(&table, request, &scope, &open, &mut done, progress)
    {
        return Ok(outcome);
    }
    let work = Work::new(&table, request, &scope, &open);
    Ok(work.run(&mut |told| progress(blame::counted_on(told, done))))
}
