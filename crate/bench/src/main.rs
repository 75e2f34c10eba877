//! Measures in native code and prints lines whose fields are parted by tabs.
//!
//! Without arguments the cases: name, microseconds, goals; a goal that is not set is a dash. `mending COUNT`: the seed
//! of each faulty family and the milliseconds its mend took, NaN when it was not mended. `mending-other-kinds COUNT`:
//! the same of families of other kinds, and the kind. `movement COUNT STARTS`: the seed, and the movements in mm of the
//! mend, of the best mend from `STARTS` other beginnings, and of the slow search. `movement-other-kinds COUNT TRIES`:
//! the seed of each small case, the movements of its mend and of the least found, and the kind. `runs`: the microseconds of counting
//! a series, then what is done with each piece of a run, the pieces a minute, and the goal. `cargo bench-all` reads
//! these lines.

use loftkin_bench::cases::CASES;
use loftkin_bench::runs::{RUNS, Shop};
use loftkin_bench::{least, mending, other_kinds, slow_search};
use std::process::ExitCode;
use std::time::Instant;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let start = Instant::now();
    let now = || start.elapsed().as_secs_f64() * 1000.0;
    match words[..] {
        [] => cases(&now),
        ["runs"] => runs(&now),
        ["mending", count] => match count.parse() {
            Ok(count) => mends(count, &now),
            Err(_) => return usage(),
        },
        ["mending-other-kinds", count] => match count.parse() {
            Ok(count) => mends_of_other_kinds(count, &now),
            Err(_) => return usage(),
        },
        ["movement", count, starts] => match (count.parse(), starts.parse()) {
            (Ok(count), Ok(starts)) => movements(count, starts),
            _ => return usage(),
        },
        ["movement-other-kinds", count, tries] => match (count.parse(), tries.parse()) {
            (Ok(count), Ok(tries)) => movements_of_other_kinds(count, tries),
            _ => return usage(),
        },
        _ => return usage(),
    }
    ExitCode::SUCCESS
}

fn usage() -> ExitCode {
    eprintln!(
        "Use: loftkin-bench, or with runs, or with mending COUNT, or with mending-other-kinds COUNT, or with movement COUNT STARTS, or with movement-other-kinds COUNT TRIES."
    );
    ExitCode::FAILURE
}

fn cases(now: &dyn Fn() -> f64) {
    let shown = |goal: Option<f64>| goal.map_or("-".to_owned(), |goal| goal.to_string());
    for case in CASES {
        let time = case.measure(now);
        let (native, wasm) = (shown(case.goal.native), shown(case.goal.wasm));
        println!("{}\t{time}\t{native}\t{wasm}", case.name);
    }
}

fn runs(now: &dyn Fn() -> f64) {
    let shop = Shop::default();
    println!("counting\t{}\t-", shop.counting(now));
    for run in RUNS {
        let rate = shop.pieces_a_minute(run, now);
        let goal = run.goal.map_or("-".to_owned(), |goal| goal.to_string());
        println!("{}\t{rate}\t{goal}", run.name);
    }
}

fn mends(count: u64, now: &dyn Fn() -> f64) {
    for seed in 0..count {
        let time = mending::time(seed, now).unwrap_or(f64::NAN);
        println!("{seed}\t{time}");
    }
}

fn mends_of_other_kinds(count: u64, now: &dyn Fn() -> f64) {
    for seed in 0..count {
        let time = mending::time_of(&other_kinds::family(seed), now).unwrap_or(f64::NAN);
        println!("{seed}\t{time}\t{}", other_kinds::kind(seed));
    }
}

fn movements(count: u64, starts: usize) {
    for seed in 0..count {
        if let Some(found) = slow_search::compared(seed, starts) {
            println!(
                "{seed}\t{}\t{}\t{}",
                found.mended, found.restarted, found.least
            );
        }
    }
}

fn movements_of_other_kinds(count: usize, tries: usize) {
    for case in least::cases(count, tries) {
        let least::Case {
            seed,
            mended,
            least,
        } = case;
        println!("{seed}\t{mended}\t{least}\t{}", other_kinds::kind(seed));
    }
}
