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
mod judged;
mod make;
mod matrix;
mod mend;
mod output;
mod plain;
mod report;
mod series;
mod source;
mod stop;
mod wrap;

use arguments::{Arguments, Order, minus, refusal};
use clap::Parser;
use output::{BAD_INPUT, complain, print, remark};
use std::process::ExitCode;

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
