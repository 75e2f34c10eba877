//! Chosen pieces of a run with their pictures: the first, those with the extremes
//! of size, and the worst of each check.

use super::columns::{Column, Extreme};
use crate::html::{escaped, solid};
use crate::make::checks::{Checks, column_name};
use loftkin_form::blend::Layout;
use loftkin_form::making::check::Sense;
use loftkin_form::piece::{Arrangement, Piece};
use loftkin_kernel::curve::Curve;
use std::fmt::Write;

/// Pieces shown at most.
const MOST: usize = 8;

/// A piece with why it is shown.
struct Chosen {
    piece: String,
    profiles: String,
    reasons: Vec<String>,
}

/// Adds the pictures; pieces are formed anew from their profiles in `columns`.
pub fn part(
    text: &mut String,
    first: Option<&Extreme>,
    columns: &[Column],
    checks: &Checks,
    (curves, layout): (&[&Curve], &Layout),
) {
    let mut chosen: Vec<Chosen> = Vec::new();
    if let Some(first) = first {
        choose(&mut chosen, first, "the first of the run".to_owned());
    }
    let of = |name: &str| columns.iter().find(|column| column.name == name);
    let size = ["volume_mm3", "skin_area_mm2"].map(of);
    let size = size
        .into_iter()
        .flatten()
        .find(|column| column.least.is_some());
    if let Some(column) = size {
        let what = if column.name == "volume_mm3" {
            "volume"
        } else {
            "skin"
        };
        for (extreme, word) in [(&column.least, "smallest"), (&column.largest, "largest")] {
            if let Some(extreme) = extreme {
                choose(&mut chosen, extreme, format!("the {word} {what}"));
            }
        }
    }
    for (kind, check) in checks.all() {
        let column = of(&column_name(kind, &*check));
        let worst = column.and_then(|column| match check.limit().sense {
            Sense::AtLeast => column.least.as_ref(),
            Sense::AtMost => column.largest.as_ref(),
        });
        if let Some(worst) = worst {
            choose(&mut chosen, worst, format!("the worst by {}", kind.title()));
        }
    }
    text.push_str("<h3>Chosen pieces</h3>\n<div class=\"pieces\">\n");
    for one in chosen.iter().take(MOST) {
        if let Some(piece) = formed(&one.profiles, curves, layout) {
            let number = escaped(&one.piece);
            let _ = writeln!(
                text,
                "<figure>\n{}<figcaption><b>Piece {number}</b>: {}. Profiles from the first station on: {}. {}</figcaption>\n</figure>",
                solid::shaded(&piece, &format!("Piece {number}")),
                escaped(&one.reasons.join("; ")),
                escaped(&one.profiles.replace(' ', ", ")),
                escaped(&checks.edges_told(&piece).join(" "))
            );
        }
    }
    text.push_str("</div>\n");
}

fn choose(chosen: &mut Vec<Chosen>, extreme: &Extreme, reason: String) {
    match chosen.iter_mut().find(|one| one.piece == extreme.piece) {
        Some(one) => one.reasons.push(reason),
        None => chosen.push(Chosen {
            piece: extreme.piece.clone(),
            profiles: extreme.profiles.clone(),
            reasons: vec![reason],
        }),
    }
}

/// The piece of `profiles`, "1 4 2", from 1.
pub fn formed(profiles: &str, curves: &[&Curve], layout: &Layout) -> Option<Piece> {
    let numbers = profiles.split(' ');
    let indices: Option<Vec<usize>> = numbers
        .map(|number| number.parse::<usize>().ok()?.checked_sub(1))
        .collect();
    Piece::new(curves, layout, Arrangement(indices?)).ok()
}
