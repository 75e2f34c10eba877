//! The order `report`: one page of HTML that needs nothing else: the table of
//! pairs, the findings with their pictures, what holds for the whole family.
//!
//! Words are the exchange crate's, pictures are `picture`'s; this lays them out.
//! The same family gives the same bytes.

mod facets;
pub mod finish;
pub mod loft;
mod picture;
mod run;
mod solid;

use crate::arguments::ReportOrder;
use crate::arguments::numbers::all;
use crate::check;
use crate::finish::bath;
use crate::judged::Judged;
use crate::{BAD_INPUT, complain, file, plain, print, source};
use loftkin_exchange::family_words;
use loftkin_exchange::words::{self, Cell};
use loftkin_form::finish::lift::LiftError;
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::FamilyError;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::{Finding, Place, Verdict};
use run::Run;
use std::fmt::Write;
use std::io;
use thiserror::Error;

/// Pairs that are shown with a picture; further ones are told in words.
const MOST_PICTURES: usize = 60;

const STYLE: &str = include_str!("style.css");

/// Why there is no report.
#[derive(Debug, Error)]
enum ReportError {
    #[error("{0}")]
    Source(#[from] source::SourceError),
    #[error("{0}")]
    Family(#[from] FamilyError),
    #[error("{path} is there already: give another name, or --overwrite")]
    IsThere { path: String },
    #[error("{0}")]
    Run(#[from] run::RunError),
    #[error("{0}")]
    Lift(#[from] LiftError),
    #[error("the report could not be written to {path}: {error}")]
    Out { path: String, error: io::Error },
}

/// Runs the order and returns the exit code.
pub fn run(order: &ReportOrder) -> u8 {
    match reported(order) {
        Ok(()) => 0,
        Err(error) => {
            complain(&order.source, &error.to_string());
            BAD_INPUT
        }
    }
}

fn reported(order: &ReportOrder) -> Result<(), ReportError> {
    let mut import = source::read(&order.source, order.lists.reading())?;
    for note in &import.notes {
        complain(&order.source, &note.to_string());
    }
    order.settings.apply(&mut import.family)?;
    let table = Table::new(import.family)?;
    let mut judged = check::judged(&order.source, import.notes, table, true);
    if order.node_margins {
        check::add_node_margins(&mut judged);
    }
    let text = page(&judged, order)?;
    let Some(out) = &order.out else {
        print(&text);
        return Ok(());
    };
    let path = words::shown(&out.display().to_string());
    file::write(out, text.as_bytes(), order.overwrite).map_err(|error| {
        if error.kind() == io::ErrorKind::AlreadyExists {
            ReportError::IsThere { path }
        } else {
            ReportError::Out { path, error }
        }
    })
}

/// The beginning of a page, up to its heading.
fn begun(title: &str) -> String {
    let title = escaped(title);
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>{title}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n<h1>{title}</h1>\n"
    )
}

/// The whole page.
fn page(judged: &Judged, order: &ReportOrder) -> Result<String, ReportError> {
    let mut text = begun(&plain::title(judged));
    paragraph(&mut text, "facts", &plain::facts(judged));
    text.push_str("<figure>\n");
    text.push_str(&picture::profiles(&curves(judged)));
    text.push_str("<figcaption>The profiles, each with its number on it. Lengths are mm.</figcaption>\n</figure>\n");
    whole(&mut text, judged);
    pairs(&mut text, judged);
    profiles(&mut text, judged);
    findings(&mut text, judged);
    node_margins(&mut text, judged);
    if let Some(folder) = &order.run {
        let run = Run::open(folder, &judged.table)?;
        run.part(&mut text)?;
        if !order.stops.is_empty() {
            let piece = run.piece(&order.piece)?;
            let worked = bath::worked(&piece, &all(&order.stops), &order.bath)?;
            finish::part(&mut text, &piece, &order.piece.to_string(), &worked);
        }
    }
    text.push_str("<h2>What this report covers</h2>\n");
    for sentence in COVERS {
        paragraph(&mut text, "", sentence);
    }
    Ok(text + "</body>\n</html>\n")
}

const COVERS: [&str; 3] = [
    "Clear means proved: no section between the two profiles folds or crosses itself, and twist and creases stay within their limits, for profiles in parallel planes (in a ring: in half-planes around the axis) with rulings at equal fractions along.",
    "Faulty means that the place named was checked to be at fault. Unproven is neither; it is never to be read as clear.",
    "The proof is of the smooth surface, not of triangles exported from it. Pictures are drawn from samples. Wherever heat, pressure, gas, acid or machines are involved, go by data sheets, local codes and licensed practice.",
];

fn curves(judged: &Judged) -> Vec<(usize, &Curve)> {
    (0..judged.table.size())
        .filter_map(|index| Some((index, judged.table.prepared(index).curve().ok()?)))
        .collect()
}

fn whole(text: &mut String, judged: &Judged) {
    let family = judged.table.family();
    text.push_str("<h2>The whole family</h2>\n");
    paragraph(text, "", &plain::counts(judged));
    if family.profiles.len() < 2 {
        return;
    }
    let whole = &judged.whole;
    if let Some(tolerance) = &whole.tolerance {
        paragraph(
            text,
            "",
            &family_words::tolerance(family, tolerance, judged.table.verdict()),
        );
    }
    paragraph(
        text,
        "",
        &family_words::any_blend(family, &whole.any_blend, judged.table.verdict()).text(),
    );
    for line in family_words::agreement(family, &whole.agreement, &whole.any_blend) {
        paragraph(text, "", &line);
    }
}

/// The table of pairs: verdict or worst fault, and the margin.
fn pairs(text: &mut String, judged: &Judged) {
    let size = judged.table.size();
    text.push_str("<h2>The table of pairs</h2>\n<div class=\"scroll\"><table>\n<thead><tr><th scope=\"col\">with</th>");
    for number in 1..=size {
        let _ = write!(text, "<th scope=\"col\">{number}</th>");
    }
    text.push_str("</tr></thead>\n<tbody>\n");
    for second in 0..size {
        let name = words::capital(&words::profile(judged.table.family(), second));
        let _ = write!(text, "<tr><th scope=\"row\">{}</th>", escaped(&name));
        for first in 0..=second {
            cell(text, judged, first, second);
        }
        text.push_str("</tr>\n");
    }
    text.push_str("</tbody>\n</table></div>\n");
    paragraph(
        text,
        "facts",
        &format!(
            "On the diagonal each profile by itself. Below a verdict: the margin, how far every control point may move at a kept pace with that pair still proved free of folds and crossings. {}",
            words::MARGIN_COVERS
        ),
    );
}

fn cell(text: &mut String, judged: &Judged, first: usize, second: usize) {
    let judgement = judged.table.cell(first, second);
    let verdict = words::verdict(judgement.verdict);
    let word = judgement
        .worst()
        .map_or(verdict, |fault| words::fault_kind(fault.kind));
    let margin = judged
        .finding(first, second)
        .and_then(|finding| finding.margin.as_ref())
        .map_or_else(String::new, |margin| {
            format!(
                "<small>{}</small>",
                words::room(margin.mm).replace(' ', "\u{a0}")
            )
        });
    let _ = write!(text, "<td class=\"{verdict}\">{word}{margin}</td>");
}

fn profiles(text: &mut String, judged: &Judged) {
    text.push_str("<h2>The profiles</h2>\n<table>\n<thead><tr><th scope=\"col\">profile</th><th scope=\"col\">nodes</th><th scope=\"col\">by itself</th></tr></thead>\n<tbody>\n");
    let family = judged.table.family();
    for (index, profile) in family.profiles.iter().enumerate() {
        let verdict = words::verdict(judged.table.cell(index, index).verdict);
        let _ = writeln!(
            text,
            "<tr><th scope=\"row\">{}</th><td>{}</td><td class=\"{verdict}\">{verdict}</td></tr>",
            escaped(&words::capital(&words::profile(family, index))),
            profile.node_count()
        );
    }
    text.push_str("</tbody>\n</table>\n");
}

/// All that is not clear, with pictures of the first of them.
fn findings(text: &mut String, judged: &Judged) {
    let open: Vec<(usize, usize)> = judged
        .cells()
        .filter(|&(first, second)| judged.table.cell(first, second).verdict != Verdict::Clear)
        .collect();
    if open.is_empty() {
        return;
    }
    text.push_str("<h2>Findings</h2>\n");
    for (rank, &(first, second)) in open.iter().enumerate() {
        finding(text, judged, (first, second), rank < MOST_PICTURES);
    }
    if MOST_PICTURES < open.len() {
        let sentence = format!("Pictures are shown of the first {MOST_PICTURES} findings only.");
        paragraph(text, "facts", &sentence);
    }
}

fn finding(text: &mut String, judged: &Judged, (first, second): (usize, usize), pictured: bool) {
    let cell = Cell::new(judged.table.family(), first, second);
    let judgement = judged.table.cell(first, second);
    let _ = writeln!(
        text,
        "<section class=\"finding\">\n<h3>{}: <span class=\"{verdict}\">{verdict}</span></h3>\n<ul>",
        escaped(&words::capital(&cell.heading())),
        verdict = words::verdict(judgement.verdict)
    );
    let found = judged.finding(first, second);
    let sayings = match found {
        Some(found) => words::found(cell, found),
        None => words::judgement(cell, judgement),
    };
    let said = sayings
        .iter()
        .map(words::Saying::short_text)
        .chain(
            found
                .into_iter()
                .flat_map(|found| words::finding(cell, found)),
        )
        .collect::<Vec<String>>();
    for sentence in said {
        let _ = writeln!(text, "<li>{}</li>", escaped(&sentence));
    }
    text.push_str("</ul>\n");
    let curve = |index: usize| judged.table.prepared(index).curve();
    if let (true, Ok(one), Ok(other)) = (pictured, curve(first), curve(second)) {
        text.push_str("<figure>\n");
        text.push_str(&picture::sections(
            one,
            other,
            &places(judged, first, second),
        ));
        text.push_str("<figcaption>Both profiles, sections between them, and the sections at fault with their places.</figcaption>\n</figure>\n");
    }
    text.push_str("</section>\n");
}

/// How far nodes may move, where that was asked for.
fn node_margins(text: &mut String, judged: &Judged) {
    if judged.nodes.is_empty() {
        return;
    }
    text.push_str("<h2>How far nodes may move</h2>\n");
    for (heading, lines) in plain::node_margins(judged) {
        let _ = writeln!(
            text,
            "<section class=\"finding\">\n<h3>{}</h3>\n<ul>",
            escaped(&heading)
        );
        for line in lines {
            let _ = writeln!(text, "<li>{}</li>", escaped(&line));
        }
        text.push_str("</ul>\n</section>\n");
    }
}

/// The witnesses of a cell and the worst places of its regions.
fn places(judged: &Judged, first: usize, second: usize) -> Vec<Place> {
    let judgement = judged.table.cell(first, second);
    let regions = |found: &Finding| -> Vec<Place> {
        found.regions.iter().map(|region| region.place).collect()
    };
    let mut places: Vec<Place> = judged.finding(first, second).map_or(Vec::new(), regions);
    if places.is_empty() {
        places = judgement.faults().map(|fault| fault.place).collect();
    }
    places
}

fn paragraph(text: &mut String, class: &str, sentence: &str) {
    let class = match class {
        "" => String::new(),
        class => format!(" class=\"{class}\""),
    };
    let _ = writeln!(text, "<p{class}>{}</p>", escaped(sentence));
}

/// Text that stays text in HTML.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in words::shown(text).chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            other => out.push(other),
        }
    }
    out
}
