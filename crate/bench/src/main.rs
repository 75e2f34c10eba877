//! Measures the cases in native code and prints a line for each: name, microseconds, goals, parted by tabs.
//!
//! `cargo bench-all` reads these lines; a goal that is not set is a dash.

use loftkin_bench::cases::CASES;
use std::time::Instant;

fn main() {
    let start = Instant::now();
    let now = || start.elapsed().as_secs_f64() * 1000.0;
    let shown = |goal: Option<f64>| goal.map_or("-".to_owned(), |goal| goal.to_string());
    for case in CASES {
        let time = case.measure(&now);
        let (native, wasm) = (shown(case.goal.native), shown(case.goal.wasm));
        println!("{}\t{time}\t{native}\t{wasm}", case.name);
    }
}
