//! Finds the Python that the independent checker of proofs runs on, and installs it where the distribution has it.
//!
//! The checker needs nothing but Python's own library. The readers of files for the shop are packages: see readers.rs.

use crate::run::{Failure, Outcome, answer};
use crate::toolchain::{can_install_packages, install_packages};
use std::process::Command;

/// The oldest version that the readers of files for the shop come for.
const OLDEST: (u32, u32) = (3, 11);

/// Finds Python under the name that the tests call, installing it if need be.
///
/// # Errors
/// When it is missing or too old and cannot be installed: says what is needed.
pub fn find_or_install() -> Outcome<String> {
    if let Some(version) = usable() {
        return Ok(version);
    }
    if can_install_packages() {
        install_packages(&["python3"])?;
    }
    usable().ok_or_else(|| {
        Failure::new(format!(
            "The checkers of proof files and files for the shop need Python {}.{} or newer as `python3` on the PATH: install it.",
            OLDEST.0, OLDEST.1
        ))
    })
}

fn usable() -> Option<String> {
    let version = answer(Command::new("python3").arg("--version"))?;
    (OLDEST <= numbers(&version)?).then_some(version)
}

/// The first two numbers of a version such as "Python 3.11.7".
fn numbers(version: &str) -> Option<(u32, u32)> {
    let mut parts = version.strip_prefix("Python ")?.split('.');
    Some((parts.next()?.parse().ok()?, parts.next()?.parse().ok()?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn versions_are_compared_by_number() {
        assert_eq!(numbers("Python 3.11.7"), Some((3, 11)));
        assert!(OLDEST <= numbers("Python 3.12.0").unwrap());
        assert!(numbers("Python 3.9.2").unwrap() < OLDEST);
        assert_eq!(numbers("3.11"), None);
    }
}
