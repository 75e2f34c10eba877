//! The task `bench`: measures the kernel natively and in WebAssembly, and compares.

use crate::place::Project;
use crate::run::{self, Outcome};

/// Runs the task.
pub fn run(project: &Project, arguments: &[String]) -> Outcome {
    let mut bench = run::cargo();
    bench
        .current_dir(&project.root)
        .args(["bench", "--package", "loftkin-kernel"])
        .args(arguments);
    run::run(&mut bench)
}
