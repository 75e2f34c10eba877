//! Running the built command in tests: what it prints, and its exit code.

pub mod folder;

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// What one run gave.
pub struct Run {
    pub code: i32,
    pub out: String,
    pub err: String,
}

/// Runs `loftkin` with `arguments` in the folder of demo families, `input` on
/// its standard input.
pub fn loftkin(arguments: &[&str], input: &str) -> Run {
    loftkin_in(&demo_folder(), arguments, input)
}

/// The same in another folder.
pub fn loftkin_in(folder: &Path, arguments: &[&str], input: &str) -> Run {
    let mut child = Command::new(env!("CARGO_BIN_EXE_loftkin"))
        .args(arguments)
        .current_dir(folder)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // A run that needs no input may have ended before it takes any.
    let _ = child.stdin.take().unwrap().write_all(input.as_bytes());
    let Output {
        status,
        stdout,
        stderr,
    } = child.wait_with_output().unwrap();
    Run {
        code: status.code().unwrap(),
        out: String::from_utf8(stdout).unwrap(),
        err: String::from_utf8(stderr).unwrap(),
    }
}

/// The folder of demo families.
pub fn demo_folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../demo-curves")
}
