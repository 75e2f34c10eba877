//! The part of the task `bench` about mending: how many seeded faulty families are mended, how long that takes natively
//! and in WebAssembly, and how far the movement is above the least that a slow search finds.

use crate::run::{Failure, Outcome};

/// How many families are mended.
pub const FAMILIES: &str = "200";
/// How many families the slow search is compared with, and how often it begins anew for each.
pub const SAMPLE: [&str; 2] = ["30", "12"];

/// The least share of families to be mended, in percent.
const SHARE: f64 = 95.0;
/// The most milliseconds that half of the mends may take in WebAssembly.
const MEDIAN: f64 = 300.0;
/// The most movement of a mend, against the least found, that counts as near.
const NEAR: f64 = 1.1;
/// Movements below this many mm in all are bound by the grid of .01 mm.
const FEW_STEPS: f64 = 0.2;

/// What a run over seeded families came to.
#[derive(Debug, PartialEq)]
struct Summary {
    families: usize,
    mended: usize,
    median: f64,
    slowest: f64,
}

/// A paragraph from the lines `seed, milliseconds` of both runs and the lines `seed, movement, movement, movement`.
pub fn report(native: &[String], wasm: &[String], movements: &[String]) -> Outcome<String> {
    let (native, wasm) = (summary(native)?, summary(wasm)?);
    let mut text = String::from("\nmending, milliseconds\n");
    for (side, found) in [("native", &native), ("WebAssembly", &wasm)] {
        let share = 100.0 * found.mended as f64 / found.families as f64;
        text += &format!(
            "{side:<12} mended {} of {} ({share:.1} %, {} {SHARE}), median {:.1}, slowest {:.0}\n",
            found.mended,
            found.families,
            if SHARE <= share { "above" } else { "BELOW" },
            found.median,
            found.slowest,
        );
    }
    text += &format!(
        "WebAssembly median {} {MEDIAN}, {:.2} times the native one\n",
        if wasm.median <= MEDIAN {
            "within"
        } else {
            "OVER"
        },
        wasm.median / native.median
    );
    Ok(text + &movement(movements)?)
}

fn summary(lines: &[String]) -> Outcome<Summary> {
    let times = lines.iter().map(|line| numbers(line)?.get(1).copied());
    let times: Option<Vec<f64>> = times.collect();
    let times = times.ok_or_else(|| Failure::new("A time of mending cannot be read."))?;
    let mut mended: Vec<f64> = times
        .iter()
        .copied()
        .filter(|time| !time.is_nan())
        .collect();
    mended.sort_by(f64::total_cmp);
    match (mended.get(mended.len() / 2), mended.last()) {
        (Some(&median), Some(&slowest)) => Ok(Summary {
            families: times.len(),
            mended: mended.len(),
            median,
            slowest,
        }),
        _ => Err(Failure::new("No family was mended.")),
    }
}

fn movement(lines: &[String]) -> Outcome<String> {
    let (mut near, mut small, mut told) = (0, 0, String::new());
    for line in lines {
        let fields = numbers(line).filter(|fields| fields.len() == 4);
        let fields = fields.ok_or_else(|| Failure::new("A movement cannot be read."))?;
        let (moved, least) = (fields[1], fields[3]);
        if moved <= NEAR * least {
            near += 1;
            continue;
        }
        small += usize::from(moved < FEW_STEPS);
        told += &format!(
            "  family {}: {moved:.3} mm against {least:.3} mm\n",
            fields[0]
        );
    }
    let count = lines.len();
    let mut text = format!("movement within 10 % of the least found: {near} of {count}\n");
    if near < count {
        text += &format!(
            "not within it ({small} of them below {FEW_STEPS} mm in all, where the grid counts):\n{told}"
        );
    }
    Ok(text)
}

fn numbers(line: &str) -> Option<Vec<f64>> {
    line.split('\t').map(|field| field.parse().ok()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lines(text: &str) -> Vec<String> {
        text.lines().map(str::to_owned).collect()
    }

    #[test]
    fn shares_and_medians_are_held_to_the_goals() {
        let native = lines("0\t10\n1\t30\n2\t20");
        let wasm = lines("0\t310\n1\tNaN\n2\t320");
        let moved = lines("0\t1.05\t1.0\t1.0\n1\t0.15\t0.1\t0.1\n2\t3\t3\t2");
        let text = report(&native, &wasm, &moved).unwrap();
        assert!(text.contains("mended 3 of 3 (100.0 %, above 95), median 20.0, slowest 30"));
        assert!(text.contains("mended 2 of 3 (66.7 %, BELOW 95)"));
        assert!(text.contains("median OVER 300, 16.00 times"));
        assert!(text.contains("least found: 1 of 3"));
        assert!(text.contains("(1 of them below") && text.contains("family 2: 3.000"));
    }

    #[test]
    fn a_line_that_is_none_is_told() {
        assert!(report(&lines("0\tx"), &lines("0\t1"), &[]).is_err());
    }
}
