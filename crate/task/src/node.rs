//! Node.js and the npm packages of www: installs them from the lock file and runs their programs.
//!
//! Nothing is installed for the whole machine, and nothing that the lock file does not name.

use crate::place::Project;
use crate::run::{self, Failure, Outcome, answer};
use std::process::Command;

/// The oldest major version of Node.js that the packages and the flags of its test runner work with.
const OLDEST_NODE: u32 = 20;

/// Installs the packages unless those of this very lock file are there already.
///
/// # Errors
/// When Node.js is missing or too old, or npm does not succeed.
pub fn install_packages(project: &Project) -> Outcome {
    check_version()?;
    let lock = std::fs::read(project.www().join("package-lock.json"))?;
    // A copy of the lock file, written last, says that an install came to its end.
    let done = project.www().join("node_modules/.installed-lock.json");
    if std::fs::read(&done).is_ok_and(|installed| installed == lock) {
        return Ok(());
    }
    let mut npm = Command::new(script("npm"));
    npm.args(["ci", "--no-audit", "--no-fund", "--loglevel=error"]);
    run::run(npm.current_dir(project.www()))?;
    std::fs::write(done, lock)?;
    Ok(())
}

/// A program of an installed package, started in the checkout's root.
pub fn program(project: &Project, name: &str) -> Command {
    let mut command = Command::new(project.www().join("node_modules/.bin").join(script(name)));
    command.current_dir(&project.root);
    command
}

fn check_version() -> Outcome {
    let version = answer(Command::new("node").arg("--version"));
    match version.as_deref().and_then(major) {
        Some(major) if OLDEST_NODE <= major => Ok(()),
        Some(major) => Err(Failure::new(format!(
            "Node.js {major} is too old for the page's tools: install {OLDEST_NODE} or newer."
        ))),
        None => Err(Failure::new(format!(
            "Node.js was not found: install version {OLDEST_NODE} or newer, with npm."
        ))),
    }
}

/// The first number of a version such as "v20.20.2".
fn major(version: &str) -> Option<u32> {
    version.strip_prefix('v')?.split('.').next()?.parse().ok()
}

/// npm and what it installs are command scripts on Windows.
fn script(name: &str) -> String {
    if cfg!(windows) {
        format!("{name}.cmd")
    } else {
        name.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_major_version_is_read() {
        assert_eq!(major("v20.20.2"), Some(20));
        assert_eq!(major("20"), None);
        assert_eq!(major("v"), None);
    }
}
