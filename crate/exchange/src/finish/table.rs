//! The table for the bath, as comma-separated values.
//!
//! Lines follow RFC 4180. Numbers come first, for programs; then the time as it is
//! read from a clock, and the colours in words.

use super::colours::{code, word};
use super::words::clock;
use loftkin_form::finish::lift::Row;
use std::fmt::Write;

const COLUMNS: &str = "height_mm,lifted_mm,seconds,volts,film_nm,film_least_nm,film_most_nm,colour,colour_least,colour_most,min_s,word,word_least,word_most,colour_aslant,word_aslant,linear";

/// The lines of a table, in the order of the work.
pub fn csv(rows: &[Row]) -> String {
    let mut text = format!("{COLUMNS}\r\n");
    for row in rows {
        let finish = &row.finish;
        let colours = [finish.colour, finish.colour_range.0, finish.colour_range.1];
        // Writing to a string does not fail.
        let _ = write!(
            text,
            "{:.2},{:.2},{:.1},{:.2},{:.1},{:.1},{:.1},{},{},{},{},{},{}\r\n",
            row.height,
            row.lifted,
            row.seconds,
            row.volts,
            finish.film,
            finish.film_range.0,
            finish.film_range.1,
            colours.map(code).join(","),
            clock(row.seconds),
            colours.map(word).join(","),
            code(finish.aslant),
            word(finish.aslant),
            linear(finish.is_linear),
        );
    }
    text
}

/// Whether the voltage lies within the linear range; nothing where that is not given.
fn linear(is_linear: Option<bool>) -> &'static str {
    match is_linear {
        None => "",
        Some(true) => "yes",
        Some(false) => "no",
    }
}
