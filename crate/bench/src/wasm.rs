//! The cases for JavaScript: it holds the clock and prints.

use crate::cases::CASES;
use crate::runs::{RUNS, Shop};
use js_sys::Function;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

/// How many cases there are.
#[wasm_bindgen]
pub fn count() -> usize {
    CASES.len()
}

/// The name of case `index` (from 0).
#[wasm_bindgen]
pub fn name(index: usize) -> String {
    CASES[index].name.to_owned()
}

/// How long case `index` takes, in microseconds; `clock` gives milliseconds.
#[wasm_bindgen]
pub fn measure(index: usize, clock: &Function) -> f64 {
    CASES[index].measure(&|| read(clock))
}

/// How long the faulty family of `seed` takes to mend, in milliseconds by `clock`; not a number when it is not mended.
#[wasm_bindgen]
pub fn mending(seed: u32, clock: &Function) -> f64 {
    crate::mending::time(u64::from(seed), &|| read(clock)).unwrap_or(f64::NAN)
}

/// What is done with each piece of a run, with the pieces a minute, as lines whose fields are parted by tabs; the first
/// line is counting the series, in microseconds.
#[wasm_bindgen]
pub fn runs(clock: &Function) -> String {
    let shop = Shop::default();
    let now = || read(clock);
    let counting = format!("counting\t{}", shop.counting(&now));
    let lines = RUNS.iter().map(|run| {
        let rate = shop.pieces_a_minute(run, &now);
        format!("{}\t{rate}", run.name)
    });
    let lines: Vec<String> = std::iter::once(counting).chain(lines).collect();
    lines.join("\n")
}

/// A clock that gives no number would stand still for ever: not a number ends the timing at once.
fn read(clock: &Function) -> f64 {
    let time = clock.call0(&JsValue::UNDEFINED).ok();
    time.and_then(|time| time.as_f64()).unwrap_or(f64::NAN)
}
