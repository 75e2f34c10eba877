//! The task `verify`: every check of the project, the same at a desk and in CI.
//!
//! All steps run even when an early one fails, so that one run tells everything; the table at the end says
//! which did. Steps can be named to run only those.

use crate::browser::{self, FLAGS};
use crate::place::Project;
use crate::run::{self, Failure, Outcome};
use crate::serve::Server;
use crate::tally::Tally;
use crate::{dist, flow, libraries, node, python, readers, tidy, toolchain};
use std::path::PathBuf;
use std::process::Command;
use std::time::{Duration, Instant};

/// One check.
struct Step {
    name: &'static str,
    help: &'static str,
    run: fn(&Project, &mut Tally) -> Outcome,
}

/// Quick ones first; those that need the browser last.
const STEPS: &[Step] = &[
    Step {
        name: "format",
        help: "rustfmt",
        run: |project, _| run::run(native(project, "fmt").args(["--all", "--check"])),
    },
    Step {
        name: "tidy",
        help: "header comments, no traces of a machine, spelling",
        run: |project, _| tidy::check(project),
    },
    Step {
        name: "flow",
        help: "which crate may depend on what, no circles between files",
        run: |project, _| flow::check(project),
    },
    Step {
        name: "libraries",
        help: "licences of the libraries, and which come in several versions",
        run: |project, _| libraries::check(project),
    },
    Step {
        name: "lint",
        help: "clippy, warnings are errors",
        run: lint,
    },
    Step {
        name: "test",
        help: "unit, property and outside tests",
        run: test,
    },
    Step {
        name: "doc",
        help: "rustdoc, warnings are errors",
        run: doc,
    },
    Step {
        name: "dist",
        help: "the page for a static host",
        run: |project, _| dist::make_if_stale(project),
    },
    Step {
        name: "types",
        help: "type check of the page's modules",
        run: types,
    },
    Step {
        name: "wasm",
        help: "WebAssembly tests in a headless browser",
        run: wasm,
    },
    Step {
        name: "browser",
        help: "the page from end to end in a headless browser",
        run: end_to_end,
    },
];

/// The browser tests that compare times, which must have the machine to themselves.
const ALONE: &str = "speed.test.mjs";

/// So many files of browser tests run at the same time. They mostly wait for the page: one at a time they use half a core,
/// and take 560 s where three take 380 s.
const FILES_AT_ONCE: usize = 3;

/// How one step went.
struct Report {
    name: &'static str,
    outcome: Outcome,
    time: Duration,
}

/// Runs the task.
pub fn run(project: &Project, arguments: &[String]) -> Outcome {
    let steps = chosen(arguments)?;
    let mut tally = Tally::default();
    let reports: Vec<Report> = steps
        .into_iter()
        .map(|step| {
            println!("\n=== {}: {}", step.name, step.help);
            let start = Instant::now();
            let outcome = (step.run)(project, &mut tally);
            if let Err(failure) = &outcome {
                println!("{failure}");
            }
            Report {
                name: step.name,
                outcome,
                time: start.elapsed(),
            }
        })
        .collect();
    conclude(&reports, tally)
}

fn chosen(names: &[String]) -> Outcome<Vec<&'static Step>> {
    if names.is_empty() {
        return Ok(STEPS.iter().collect());
    }
    names
        .iter()
        .map(|name| {
            STEPS.iter().find(|step| step.name == name).ok_or_else(|| {
                let known: Vec<&str> = STEPS.iter().map(|step| step.name).collect();
                Failure::new(format!(
                    "There is no step \"{name}\"; the steps are {}.",
                    known.join(", ")
                ))
            })
        })
        .collect()
}

fn conclude(reports: &[Report], tally: Tally) -> Outcome {
    println!("\nstep       seconds  result");
    for report in reports {
        let word = if report.outcome.is_ok() {
            "ok"
        } else {
            "FAILED"
        };
        let seconds = report.time.as_secs_f64();
        println!("{:<10} {seconds:>7.1}  {word}", report.name);
    }
    let total: Duration = reports.iter().map(|report| report.time).sum();
    println!("{:<10} {:>7.1}", "all", total.as_secs_f64());
    println!("\ntests: {} passed, {} failed", tally.passed, tally.failed);
    let failed: Vec<&str> = reports
        .iter()
        .filter(|report| report.outcome.is_err())
        .map(|report| report.name)
        .collect();
    if failed.is_empty() {
        Ok(())
    } else {
        Err(Failure::new(format!(
            "These steps failed: {}. `cargo verify {}` repeats them.",
            failed.join(", "),
            failed.join(" ")
        )))
    }
}

fn native(project: &Project, subcommand: &str) -> Command {
    let mut command = run::cargo();
    command.current_dir(&project.root).arg(subcommand);
    command
}

fn lint(project: &Project, _: &mut Tally) -> Outcome {
    let mut clippy = native(project, "clippy");
    clippy.args(["--workspace", "--all-targets", "--", "--deny", "warnings"]);
    run::run(&mut clippy)
}

fn test(project: &Project, tally: &mut Tally) -> Outcome {
    readers::install(project)?;
    let mut test = native(project, "test");
    // What a test prints is its counts: how many pairs were held against the outside, how many stayed unproven.
    test.args(["--workspace", "--no-fail-fast", "--", "--show-output"]);
    run::run_reading(&mut test, |line| tally.take(line))
}

fn doc(project: &Project, _: &mut Tally) -> Outcome {
    let mut doc = native(project, "doc");
    // These docs are read by those who work on the project, so what is private has its links checked as well.
    doc.args(["--workspace", "--no-deps", "--document-private-items"])
        .env("RUSTDOCFLAGS", "--deny warnings");
    run::run(&mut doc)
}

fn types(project: &Project, _: &mut Tally) -> Outcome {
    // The types of the page's crate are written on the way.
    dist::make_if_stale(project)?;
    let mut tsc = node::program(project, "tsc");
    run::run(tsc.args(["--noEmit", "--project", "www/jsconfig.json"]))
}

fn wasm(project: &Project, tally: &mut Tally) -> Outcome {
    let toolchain = toolchain::find_or_install()?;
    let browser = browser::find_or_install()?;
    let mut build = native(project, "build");
    run::run(build.args(["--package", "loftkin-runner"]))?;
    let runner = project.target.join("debug/loftkin-runner");
    let mut test = toolchain.cargo(project, "test");
    test.args([
        "--package",
        "loftkin-page",
        "--package",
        "loftkin-worker",
        "--test",
        "*",
    ])
    .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUNNER", runner)
    .env("CHROMEDRIVER", &browser.driver)
    .env(
        "WASM_BINDGEN_TEST_WEBDRIVER_JSON",
        browser.write_driver_settings(project)?,
    )
    // Seconds. The defaults, 20 and 5, are too short on a busy machine of two cores.
    .env("WASM_BINDGEN_TEST_TIMEOUT", "180")
    .env("WASM_BINDGEN_TEST_DRIVER_TIMEOUT", "60");
    run::run_reading(&mut test, |line| tally.take(line))
}

fn end_to_end(project: &Project, tally: &mut Tally) -> Outcome {
    node::install_packages(project)?;
    let browser = browser::for_pages()?;
    python::find_or_install()?;
    dist::make_if_stale(project)?;
    let tests: Vec<PathBuf> = crate::place::files_below(&project.root.join("tests/browser"))
        .into_iter()
        .filter(|file| file.to_string_lossy().ends_with(".test.mjs"))
        .collect();
    if tests.is_empty() {
        return Err(Failure::new("tests/browser holds no NAME.test.mjs."));
    }
    let server = Server::bind(project.dist(), [0])?;
    let address = server.address()?;
    // It ends with this program.
    std::thread::spawn(move || server.serve());
    let (alone, together): (Vec<PathBuf>, Vec<PathBuf>) =
        tests.into_iter().partition(|file| file.ends_with(ALONE));
    let mut run = |files: &[PathBuf], at_once: usize| {
        let mut node = Command::new("node");
        node.args(["--test", "--test-reporter=spec"])
            // A failed test may leave its browser open, which would keep Node.js waiting for ever. The time, in
            // milliseconds, is that of a whole file.
            .args(["--test-force-exit", "--test-timeout=1200000"])
            .arg(format!("--test-concurrency={at_once}"))
            .args(files)
            .current_dir(&project.root)
            .env("LOFTKIN_PAGE", &address)
            .env("CHROME", &browser)
            .env("CHROME_FLAGS", FLAGS.join(" "));
        run::run_reading(&mut node, |line| tally.take(line))
    };
    let outcome = run(&together, FILES_AT_ONCE);
    run(&alone, 1).and(outcome)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_names_mean_all_steps_and_a_wrong_one_is_refused() {
        assert_eq!(chosen(&[]).unwrap().len(), STEPS.len());
        assert_eq!(chosen(&["doc".to_owned()]).unwrap()[0].name, "doc");
        assert!(chosen(&["docs".to_owned()]).is_err());
    }

    #[test]
    fn one_failed_step_fails_the_run_and_is_named() {
        let report = |name, outcome| Report {
            name,
            outcome,
            time: Duration::ZERO,
        };
        let reports = [
            report("format", Ok(())),
            report("lint", Err(Failure::new("x"))),
        ];
        let failure = conclude(&reports, Tally::default()).unwrap_err();
        assert!(failure.to_string().contains("`cargo verify lint`"));
        assert!(conclude(&reports[..1], Tally::default()).is_ok());
    }
}
