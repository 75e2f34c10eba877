//! The report for people: the table of pairs, the findings, and the sum.

use crate::judged::{Judged, Whole};
use crate::matrix::{self, matrix};
use crate::wrap::wrapped;
use loftkin_exchange::family_words;
use loftkin_exchange::words::{self, Cell};
use loftkin_kernel::verdict::Verdict;

/// The report on one family.
pub fn report(judged: &Judged, colours: bool) -> String {
    let mut text = heading(judged);
    text.push('\n');
    text.push_str(&matrix(judged, colours));
    for (first, second) in judged.cells() {
        if judged.table.cell(first, second).verdict != Verdict::Clear {
            text.push('\n');
            text.push_str(&paragraph(judged, first, second, colours));
        }
    }
    for (heading, lines) in node_margins(judged) {
        text.push_str(&format!("\n{heading}\n"));
        for line in lines {
            text.push_str(&wrapped(&line, "  - ", "    "));
        }
    }
    text.push('\n');
    text.push_str(&summary(judged, colours));
    text.push_str(&whole(judged));
    text
}

/// How far nodes may move: a heading a pair, and its sentences.
pub fn node_margins(judged: &Judged) -> impl Iterator<Item = (String, Vec<String>)> {
    let family = judged.table.family();
    judged.nodes.iter().map(move |(&pair, found)| {
        let cell = Cell::new(family, pair.0, pair.1);
        let heading = format!(
            "{}: how far nodes may move",
            words::capital(&cell.heading())
        );
        (heading, words::margin_of_nodes(family, pair, found))
    })
}

/// What is said of all profiles together.
fn whole(judged: &Judged) -> String {
    let family = judged.table.family();
    if family.profiles.len() < 2 {
        return String::new();
    }
    let Whole {
        any_blend,
        agreement,
        tolerance,
    } = &judged.whole;
    let mut text = String::new();
    if let Some(tolerance) = tolerance {
        text.push_str(&wrapped(
            &family_words::tolerance(family, tolerance, judged.table.verdict()),
            "",
            "",
        ));
    }
    text.push_str(&wrapped(
        &family_words::any_blend(family, any_blend, judged.table.verdict()).text(),
        "",
        "",
    ));
    for line in family_words::agreement(family, agreement, any_blend) {
        text.push_str(&wrapped(&line, "", ""));
    }
    text
}

fn heading(judged: &Judged) -> String {
    format!("{}\n{}", title(judged), wrapped(&facts(judged), "", ""))
}

/// The name of the family, or where it came from.
pub fn title(judged: &Judged) -> String {
    let name = words::shown(&judged.table.family().name);
    match (name.is_empty(), judged.source.as_str()) {
        (false, _) => name,
        (true, "-") => "Standard input".to_owned(),
        (true, source) => words::shown(source),
    }
}

/// What the family is made of, and its settings.
pub fn facts(judged: &Judged) -> String {
    let family = judged.table.family();
    let settings = &family.settings;
    let kind = match family.profiles.first() {
        Some(profile) if profile.closed => "closed",
        _ => "open",
    };
    let profiles = words::counted(family.profiles.len(), "profile", "profiles");
    format!(
        "{profiles}, {kind}, as a {}, paced by {}; twist up to {:.1} and creases up to {}",
        words::placement(settings.placement),
        words::pacing(settings.pacing),
        settings.twist_limit.degrees(),
        words::degrees(settings.crease_limit.degrees()),
    )
}

/// How many pairs stand at each verdict, without colours.
pub fn counts(judged: &Judged) -> String {
    counted(judged, false)
}

fn paragraph(judged: &Judged, first: usize, second: usize, colours: bool) -> String {
    let cell = Cell::new(judged.table.family(), first, second);
    let judgement = judged.table.cell(first, second);
    let colour = if colours {
        matrix::colour(judgement.verdict)
    } else {
        ""
    };
    let word = matrix::padded(words::verdict(judgement.verdict), 0, colour);
    let mut text = format!("{}: {word}\n", words::capital(&cell.heading()));
    let found = judged.finding(first, second);
    let sayings = match found {
        Some(found) => words::found(cell, found),
        None => words::judgement(cell, judgement),
    };
    for saying in sayings {
        text.push_str(&wrapped(&saying.short_text(), "  - ", "    "));
    }
    if let Some(finding) = found {
        for line in words::finding(cell, finding) {
            text.push_str(&wrapped(&line, "  - ", "    "));
        }
    }
    text
}

fn summary(judged: &Judged, colours: bool) -> String {
    wrapped(&counted(judged, colours), "", "")
}

fn counted(judged: &Judged, colours: bool) -> String {
    let table = &judged.table;
    let totals = table.totals();
    let pairs = totals.clear + totals.faulty + totals.unproven;
    let word = |verdict| {
        let colour = if colours { matrix::colour(verdict) } else { "" };
        matrix::padded(words::verdict(verdict), 0, colour)
    };
    let mut text = format!(
        "{}: {} {}, {} {}, {} {}.",
        words::counted(pairs, "pair", "pairs"),
        totals.clear,
        word(Verdict::Clear),
        totals.faulty,
        word(Verdict::Faulty),
        totals.unproven,
        word(Verdict::Unproven),
    );
    let alone = (0..table.size())
        .filter(|&index| table.cell(index, index).verdict != Verdict::Clear)
        .count();
    if 0 < alone {
        let profiles = words::counted(alone, "profile is", "profiles are");
        text.push_str(&format!(" {profiles} not clear already alone."));
    }
    text
}
