//! The report for programs, whose structure `series-report.schema.json` fixes.
//!
//! Counts and piece numbers are decimal text, for they pass what a JSON number
//! holds exactly; profiles and stations are counted from 1. Sentences are for
//! people and may change; all else stays within version 1.

use super::Answer;
use crate::arguments::series::SeriesOrder;
use loftkin_exchange::series::{self, words};
use loftkin_form::series::standing::Grounds;
use num_bigint::BigUint;
use serde::Serialize;
use serde_json::Value;

/// The version of the structure.
const VERSION: u32 = 1;

#[derive(Serialize)]
struct SeriesReport {
    format: &'static str,
    version: u32,
    source: String,
    outcome: &'static str,
    series: Option<Value>,
    count: Option<String>,
    up_to_turning: Option<String>,
    up_to_mirroring: Option<String>,
    grounds: Option<&'static str>,
    pieces: Vec<PieceReport>,
    notes: Vec<String>,
    sentences: Vec<String>,
}

#[derive(Serialize)]
struct PieceReport {
    number: String,
    profiles: Vec<usize>,
}

/// The report on a series that could be counted.
pub fn report(order: &SeriesOrder, answer: &Answer) -> String {
    let symmetry = answer.series.up_to_symmetry().ok();
    let pieces = answer
        .pieces
        .iter()
        .map(|(number, arrangement)| PieceReport {
            number: number.to_string(),
            profiles: arrangement.0.iter().map(|index| index + 1).collect(),
        });
    let mut sentences = words::count(&answer.series);
    sentences.extend(answer.no_such.as_ref().map(|error| format!("{error}.")));
    text(&SeriesReport {
        outcome: outcome(answer),
        // What is written here is JSON.
        series: serde_json::from_str(&series::write(&answer.plan)).ok(),
        count: Some(answer.series.count().to_string()),
        up_to_turning: symmetry.as_ref().map(|by| by.turning.to_string()),
        up_to_mirroring: symmetry.map(|by| by.mirroring.to_string()),
        grounds: Some(grounds(answer.series.standing().grounds())),
        pieces: pieces.collect(),
        notes: answer
            .import
            .notes
            .iter()
            .map(ToString::to_string)
            .collect(),
        sentences,
        ..empty(order)
    })
}

/// The report on bad input or use.
pub fn problem(order: &SeriesOrder, sentence: String) -> String {
    text(&SeriesReport {
        sentences: vec![sentence],
        ..empty(order)
    })
}

fn empty(order: &SeriesOrder) -> SeriesReport {
    SeriesReport {
        format: "loftkin-series-report",
        version: VERSION,
        source: order.source.clone(),
        outcome: "problem",
        series: None,
        count: None,
        up_to_turning: None,
        up_to_mirroring: None,
        grounds: None,
        pieces: Vec::new(),
        notes: Vec::new(),
        sentences: Vec::new(),
    }
}

fn outcome(answer: &Answer) -> &'static str {
    if *answer.series.count() == BigUint::ZERO {
        "empty"
    } else if answer.no_such.is_some() {
        "no-such-piece"
    } else {
        "counted"
    }
}

fn grounds(grounds: Grounds) -> &'static str {
    match grounds {
        Grounds::Pairs => "pairs",
        Grounds::WholeSet => "any-blend",
        Grounds::Threes => "threes",
    }
}

fn text(report: &SeriesReport) -> String {
    // Strings, numbers and lists only: nothing that serialising refuses.
    serde_json::to_string_pretty(report).unwrap_or_default() + "\n"
}
