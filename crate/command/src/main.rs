//! The native command `loftkin`: judges and mends families from files, links
//! and pipes.
//!
//! It reads, asks the kernel and prints; every verdict is the kernel's and
//! every sentence about it the exchange crate's. The exit codes of each order
//! stand with its arguments.

#![forbid(unsafe_code)]

mod arguments;
mod change;
mod check;
mod convert;
mod file;
mod finish;
mod html;
mod make;
mod matrix;
mod mend;
mod plain;
mod report;
mod series;
mod source;
mod stop;
mod wrap;

use arguments::{Arguments, Order, minus, refusal};
use clap::Parser;
use std::io::{self, Write};
use std::process::ExitCode;

/// The exit code for input that cannot be read or judged; clap uses the same
/// for wrong use.
const BAD_INPUT: u8 = 2;

fn main() -> ExitCode {
    let arguments = Arguments::try_parse_from(minus::joined(std::env::args_os()));
    let arguments = arguments.map_err(refusal::shortened);
    let code = match arguments.unwrap_or_else(|error| error.exit()).order {
        Order::Check(order) => check::run(&order),
        Order::Make(order) => make::run(&order),
        Order::Series(order) => series::run(&order),
        Order::Mend(order) => mend::run(&order),
        Order::Finish(order) => finish::run(&order),
        Order::Link(order) => convert::link(&order),
        Order::Write(order) => convert::write(&order),
        Order::Report(order) => html::run(&order),
    };
    ExitCode::from(code)
}

/// Prints to standard output. A reader that has closed the pipe has seen
/// enough: no error. Where output cannot be written (a full disk), nobody can
/// rely on what was asked for: the process says so and ends.
fn print(text: &str) {
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
fn complain(source: &str, sentence: &str) {
    eprintln!("loftkin: {}: {sentence}", source::name(source));
}
