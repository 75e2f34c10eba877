//! The table of pairs as text: a word a cell, or a letter when there are many.

use crate::judged::Judged;
use loftkin_exchange::words;
use loftkin_kernel::verdict::{FaultKind, Judgement, Verdict};

/// More profiles than this and cells are letters.
const MOST_WORDS: usize = 9;
/// Names are cut to this many characters in front of their row.
const NAME_WIDTH: usize = 20;

/// The table of `judged`, each line ending in a line break.
pub fn matrix(judged: &Judged, colours: bool) -> String {
    let family = judged.table.family();
    let size = judged.table.size();
    let letters = MOST_WORDS < size;
    let width = if letters { 3 } else { 9 };
    let names: Vec<String> = family
        .profiles
        .iter()
        .enumerate()
        .map(|(index, profile)| {
            let name: String = words::shown(&profile.name)
                .chars()
                .take(NAME_WIDTH)
                .collect();
            format!("{:>4} {name}", index + 1)
        })
        .collect();
    let margin = names
        .iter()
        .map(|name| name.chars().count())
        .max()
        .unwrap_or(0)
        + 2;
    let mut text = " ".repeat(margin);
    for number in 1..=size {
        text.push_str(&padded(&number.to_string(), width, ""));
    }
    text = text.trim_end().to_owned() + "\n";
    for (second, name) in names.iter().enumerate() {
        let mut line = format!("{name}{}", " ".repeat(margin - name.chars().count()));
        for first in 0..=second {
            let cell = judged.table.cell(first, second);
            let word = if letters { letter(cell) } else { word(cell) };
            let colour = if colours { colour(cell.verdict) } else { "" };
            line.push_str(&padded(word, width, colour));
        }
        text.push_str(line.trim_end());
        text.push('\n');
    }
    if letters {
        text.push_str("     . clear  F fold  X crossing  A axis  T twist  C crease  ? unproven\n");
    }
    text
}

/// The word of a cell: its worst fault, or its verdict.
fn word(cell: &Judgement) -> &'static str {
    cell.worst().map_or(words::verdict(cell.verdict), |fault| {
        words::fault_kind(fault.kind)
    })
}

fn letter(cell: &Judgement) -> &'static str {
    match (cell.worst().map(|fault| fault.kind), cell.verdict) {
        (Some(FaultKind::Fold), _) => "F",
        (Some(FaultKind::Crossing), _) => "X",
        (Some(FaultKind::Axis), _) => "A",
        (Some(FaultKind::Twist), _) => "T",
        (Some(FaultKind::Crease), _) => "C",
        (None, Verdict::Clear) => ".",
        (None, _) => "?",
    }
}

/// The escape code that begins the colour of a verdict (ECMA-48, 8.3.117).
pub fn colour(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Clear => "\u{1b}[32m",
        Verdict::Faulty => "\u{1b}[1;31m",
        Verdict::Unproven => "\u{1b}[33m",
    }
}

/// `text` in its colour, then room up to `width`.
pub fn padded(text: &str, width: usize, colour: &str) -> String {
    let room = " ".repeat(width.saturating_sub(text.chars().count()));
    if colour.is_empty() {
        format!("{text}{room}")
    } else {
        format!("{colour}{text}\u{1b}[0m{room}")
    }
}
