//! The part of the task `bench` about runs of pieces: how many a minute one core does of each thing, natively and in
//! WebAssembly, against the goals.

use crate::run::{Failure, Outcome};

/// One thing done with each piece.
#[derive(Debug, PartialEq)]
struct Row {
    name: String,
    native: f64,
    wasm: f64,
    goal: Option<f64>,
}

/// A table from the lines `name, pieces a minute, goal` of the native run and the lines `name, pieces a minute` of the
/// other; the first line of both is the counting of a series, in microseconds.
pub fn report(native: &[String], wasm: &[String]) -> Outcome<String> {
    let rows: Option<Vec<Row>> = native
        .iter()
        .zip(wasm)
        .map(|(native, wasm)| row(native, wasm))
        .collect();
    let rows = rows.filter(|rows| rows.len() == native.len());
    let Some([counting, pieces @ ..]) = rows.as_deref() else {
        return Err(Failure::new("A run of pieces was not measured twice."));
    };
    let mut text = format!(
        "\n{:<36}{:>13}{:>13}   pieces a minute on one core\n",
        "of a run", "native", "WebAssembly"
    );
    for row in pieces {
        let remark = row.goal.map_or_else(String::new, |goal| {
            let word = if goal <= row.native { "above" } else { "BELOW" };
            format!("native {word} {goal}")
        });
        text += &format!(
            "{:<36}{:>13.0}{:>13.0}   {remark}\n",
            row.name, row.native, row.wasm
        );
    }
    Ok(text
        + &format!(
            "counting the series takes {:.0} microseconds natively, {:.0} in WebAssembly\n",
            counting.native, counting.wasm
        ))
}

fn row(native: &str, wasm: &str) -> Option<Row> {
    let mut fields = native.split('\t');
    let (name, rate) = wasm.split_once('\t')?;
    (fields.next()? == name).then_some(())?;
    Some(Row {
        name: name.to_owned(),
        native: fields.next()?.parse().ok()?,
        wasm: rate.parse().ok()?,
        goal: fields.next()?.parse().ok(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_runs_are_joined_and_held_to_the_goals() {
        let lines = |text: &str| text.lines().map(str::to_owned).collect::<Vec<_>>();
        let native = lines("counting\t40\t-\nmeasured\t900\t1000\nSTEP\t30\t-");
        let wasm = lines("counting\t60\nmeasured\t700\nSTEP\t20");
        let text = report(&native, &wasm).unwrap();
        assert!(text.contains("BELOW 1000") && text.contains("40 microseconds natively, 60"));
        assert_eq!(text.matches("native BELOW").count(), 1, "{text}");
        assert!(report(&native, &wasm[..2]).is_err());
        let other = lines("counting\t60\nSTEP\t20\nmeasured\t700");
        assert!(report(&native, &other).is_err());
    }
}
