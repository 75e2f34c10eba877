//! What every order prints with, and the exit code for input that cannot be used.

use crate::source;
use std::io::{self, Write};

/// The exit code for input that cannot be read or judged; clap uses the same
/// for wrong use.
pub const BAD_INPUT: u8 = 2;

/// Prints to standard output. A reader that has closed the pipe has seen
/// enough: no error. Where output cannot be written (a full disk), nobody can
/// rely on what was asked for: the process says so and ends.
pub fn print(text: &str) {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
            complain("standard output", &error.to_string());
            std::process::exit(i32::from(BAD_INPUT));
        }
        _ => {}
    }
}

/// Prints one sentence about `source` to standard error.
pub fn complain(source: &str, sentence: &str) {
    remark(&format!("loftkin: {}: {sentence}\n", source::name(source)));
}

/// Prints to standard error. Nobody may be reading it, and there is no other place to say so: no error, where
/// `eprint!` would panic.
pub fn remark(text: &str) {
    let _ = io::stderr().write_all(text.as_bytes());
}
