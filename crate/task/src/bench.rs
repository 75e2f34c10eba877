//! The task `bench`: measures verdicts, runs of pieces and mends natively and in WebAssembly, and compares both with the goals.
//!
//! It fails when something cannot be measured, not when a goal is missed: times depend on what else the machine
//! does, and a person judges them.

use crate::bind::{self, Loader};
use crate::dist;
use crate::mends;
use crate::pieces;
use crate::place::Project;
use crate::run::{self, Failure, Outcome};
use crate::toolchain::{self, TARGET};
use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::process::Command;

const PACKAGE: &str = "loftkin-bench";

/// One line of the comparison; times and goals in microseconds.
#[derive(Debug, PartialEq)]
struct Row {
    name: String,
    native: f64,
    wasm: f64,
    native_goal: Option<f64>,
    wasm_goal: Option<f64>,
}

/// Runs the task.
pub fn run(project: &Project, arguments: &[String]) -> Outcome {
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let [with_criterion, with_cases, with_runs, with_mends] = match words[..] {
        [] => [true; 4],
        ["--compare-only"] => [false, true, true, true],
        ["--runs-only"] => [false, false, true, false],
        ["--mending-only"] => [false, false, false, true],
        _ => {
            return Err(Failure::new(
                "bench knows one of --compare-only, --runs-only, --mending-only and nothing else.",
            ));
        }
    };
    if with_criterion {
        let mut criterion = run::cargo();
        criterion.current_dir(&project.root).args([
            "bench",
            "--package",
            PACKAGE,
            "--bench",
            "verdicts",
        ]);
        run::run(&mut criterion)?;
    }
    let module = build_wasm(project)?;
    if with_cases {
        let native = measure_native(project, &[])?;
        let wasm = measure_wasm(project, &module, &[])?;
        let rows = compare(&native, &wasm)?;
        print!("\n{}", table(&rows));
    }
    if with_runs {
        let native = measure_native(project, &["runs"])?;
        let wasm = measure_wasm(project, &module, &["runs"])?;
        print!("{}", pieces::report(&native, &wasm)?);
    }
    if !with_mends {
        return Ok(());
    }
    let mending = ["mending", mends::FAMILIES];
    let native = measure_native(project, &mending)?;
    let wasm = measure_wasm(project, &module, &mending)?;
    let [families, starts] = mends::SAMPLE;
    let movements = measure_native(project, &["movement", families, starts])?;
    print!("{}", mends::report(&native, &wasm, &movements)?);
    Ok(())
}

fn measure_native(project: &Project, words: &[&str]) -> Outcome<Vec<String>> {
    let mut command = run::cargo();
    command
        .current_dir(&project.root)
        .args(["run", "--release", "--package", PACKAGE, "--"])
        .args(words);
    lines_of(&mut command)
}

/// Compiles the module and gives the path of its loader for Node.js.
fn build_wasm(project: &Project) -> Outcome<PathBuf> {
    let toolchain = toolchain::find_or_install()?;
    let mut build = toolchain.cargo(project, "build");
    build.args(["--profile", dist::PROFILE, "--lib", "--package", PACKAGE]);
    run::run(&mut build)?;
    let compiled = project.wasm_target().join(TARGET).join(dist::PROFILE);
    let folder = project.wasm_target().join("bench");
    bind::write(&compiled.join("loftkin_bench.wasm"), Loader::Node, &folder)?;
    Ok(folder.join("loftkin_bench.js"))
}

fn measure_wasm(project: &Project, module: &Path, words: &[&str]) -> Outcome<Vec<String>> {
    let mut node = Command::new("node");
    node.arg(project.root.join("crate/bench/in-node.cjs"))
        .arg(module)
        .args(words);
    lines_of(&mut node)
}

fn lines_of(command: &mut Command) -> Outcome<Vec<String>> {
    let mut lines = Vec::new();
    run::run_reading(command, |line| lines.push(line.to_owned()))?;
    Ok(lines)
}

/// Joins the lines `name, microseconds, goal, goal` of the native run with the lines `name, microseconds` of
/// the other.
fn compare(native: &[String], wasm: &[String]) -> Outcome<Vec<Row>> {
    let wasm: HashMap<&str, f64> = wasm
        .iter()
        .filter_map(|line| line.split_once('\t'))
        .filter_map(|(name, time)| Some((name, time.parse().ok()?)))
        .collect();
    native
        .iter()
        .map(|line| {
            row(line, &wasm)
                .ok_or_else(|| Failure::new(format!("This case was not measured twice: {line}")))
        })
        .collect()
}

fn row(line: &str, wasm: &HashMap<&str, f64>) -> Option<Row> {
    let mut fields = line.split('\t');
    let name = fields.next()?;
    Some(Row {
        name: name.to_owned(),
        native: fields.next()?.parse().ok()?,
        native_goal: fields.next()?.parse().ok(),
        wasm_goal: fields.next()?.parse().ok(),
        wasm: *wasm.get(name)?,
    })
}

fn table(rows: &[Row]) -> String {
    let mut text = format!(
        "{:<36}{:>13}{:>13}{:>8}   microseconds\n",
        "case", "native", "WebAssembly", "ratio"
    );
    for row in rows {
        text += &format!(
            "{:<36}{:>13.3}{:>13.3}{:>8.2}   {}\n",
            row.name,
            row.native,
            row.wasm,
            row.wasm / row.native,
            remark(row)
        );
    }
    text
}

/// Says for each goal of a case whether it is kept.
fn remark(row: &Row) -> String {
    let told = [
        ("native", row.native, row.native_goal),
        ("WebAssembly", row.wasm, row.wasm_goal),
    ]
    .into_iter()
    .filter_map(|(side, time, goal)| {
        let goal = goal?;
        let word = if time <= goal { "within" } else { "OVER" };
        Some(format!("{side} {word} {goal}"))
    });
    told.collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_runs_are_joined_by_name_and_held_to_the_goals() {
        let native = ["pair\t2\t3\t4.5".to_owned(), "table\t50\t-\t-".to_owned()];
        let wasm = ["table\t60".to_owned(), "pair\t5".to_owned()];
        let rows = compare(&native, &wasm).unwrap();
        assert_eq!((rows[0].native, rows[0].wasm), (2.0, 5.0));
        assert_eq!(remark(&rows[0]), "native within 3, WebAssembly OVER 4.5");
        assert_eq!(remark(&rows[1]), "");
        assert!(table(&rows).contains("2.50"));
    }

    #[test]
    fn a_case_that_one_run_lacks_is_told() {
        let failure = compare(&["pair\t2\t-\t-".to_owned()], &[]).unwrap_err();
        assert!(failure.to_string().contains("pair"));
    }
}
