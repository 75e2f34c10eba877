//! The task runner behind the cargo aliases: finds one task by its name and runs it.
//!
//! Each task is one file. What a task does is told in its file; this one holds the table and nothing else.

mod bench;
mod bind;
mod browser;
mod bundling;
mod circles;
mod dist;
mod flow;
mod items;
mod libraries;
mod mends;
mod modules;
mod node;
mod offline;
mod one_file;
mod page;
mod pieces;
mod place;
mod python;
mod readers;
mod remap;
mod run;
mod scripts;
mod serve;
mod setup;
mod spelling;
mod tally;
mod tidy;
mod toolchain;
mod uses;
mod verify;

use place::Project;
use run::{Failure, Outcome};
use std::process::ExitCode;

/// One task: its name on the command line, one line of help, and what it does.
struct Task {
    name: &'static str,
    help: &'static str,
    run: fn(&Project, &[String]) -> Outcome,
}

const TASKS: &[Task] = &[
    Task {
        name: "setup",
        help: "install what page and verify need: WebAssembly target, npm packages, browser and Python for tests",
        run: setup::run,
    },
    Task {
        name: "dist",
        help: "make dist/, the static folder that any host can serve",
        run: dist::run,
    },
    Task {
        name: "page",
        help: "make dist/ if it is stale, serve it on this machine and open it  [--port N] [--no-open]",
        run: page::run,
    },
    Task {
        name: "verify",
        help: "run every check, or only the steps that are named",
        run: verify::run,
    },
    Task {
        name: "bench",
        help: "measure verdicts, runs and mends natively and in WebAssembly, and compare  [--compare-only] [--runs-only] [--mending-only]",
        run: bench::run,
    },
];

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match start(&arguments) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            eprintln!("\n{failure}");
            ExitCode::FAILURE
        }
    }
}

fn start(arguments: &[String]) -> Outcome {
    let Some((name, rest)) = arguments.split_first() else {
        print!("{}", help());
        return Ok(());
    };
    match TASKS.iter().find(|task| task.name == name) {
        Some(task) => (task.run)(&Project::find()?, rest),
        None => Err(Failure::new(format!(
            "There is no task \"{name}\".\n\n{}",
            help()
        ))),
    }
}

fn help() -> String {
    let lines = TASKS
        .iter()
        .map(|task| format!("  cargo task {:<8}{}\n", task.name, task.help));
    format!("The tasks:\n{}", lines.collect::<String>())
}
