//! The making checks of a run: limits, how many pieces keep them, the worst, and
//! below the table how each is worked out, from what source and with what caution.

use crate::html::{escaped, paragraph};
use crate::make::basis;
use crate::make::checks::{Checks, Kept, column_name, unit_shown};
use loftkin_exchange::words;
use loftkin_form::making::check::{Provenance, Sense};
use std::fmt::Write;

/// Adds the table of `checks`, kept as `kept` says, and what stands behind it.
pub fn part(text: &mut String, checks: &Checks, kept: &[Kept]) {
    if checks.is_empty() {
        return;
    }
    text.push_str("<h3>Making checks</h3>\n<div class=\"scroll\"><table>\n<thead><tr><th scope=\"col\">check</th><th scope=\"col\">limit</th><th scope=\"col\">pass</th><th scope=\"col\">do not</th><th scope=\"col\">the worst</th><th scope=\"col\">known</th></tr></thead>\n<tbody>\n");
    for ((kind, check), kept) in checks.all().zip(kept) {
        let unit = unit_shown(check.unit());
        let limit = check.limit();
        let sense = match limit.sense {
            Sense::AtLeast => "at least",
            Sense::AtMost => "at most",
        };
        let proved = format!("<small>{} proved</small>", kept.proved);
        let known = basis::of(&column_name(kind, &*check));
        let worst = kept
            .worst
            .as_ref()
            .map_or_else(String::new, |(value, piece)| {
                format!("{value:.3}{unit}<small>piece {}</small>", escaped(piece))
            });
        let class = if kept.fail == 0 { "clear" } else { "faulty" };
        let _ = writeln!(
            text,
            "<tr><th scope=\"row\">{}</th><td>{sense} {}{unit}</td><td>{}{proved}</td><td class=\"{class}\">{}</td><td>{worst}</td><td>{known}</td></tr>",
            checks.title(kind),
            limit.value,
            kept.pass,
            kept.fail,
        );
    }
    text.push_str("</tbody>\n</table></div>\n");
    for sentence in kept.iter().flat_map(|kept| checks.more_told(kept)) {
        paragraph(text, "", &sentence);
    }
    paragraph(text, "facts", BASIS);
    text.push_str("<h3>How the checks are worked out</h3>\n<dl>\n");
    for (kind, check) in checks.all() {
        let formula = check.formula();
        let known = match formula.provenance {
            Provenance::Published => "published",
            Provenance::Derived => "derived",
            Provenance::Memory => "from memory: confirm it",
            Provenance::CommonPractice => "common practice",
        };
        let _ = writeln!(
            text,
            "<dt>{}</dt><dd>{}. <span class=\"facts\">Source: {} ({known}).</span> {}</dd>",
            checks.title(kind),
            escaped(&words::capital(formula.text)),
            escaped(formula.source),
            escaped(formula.caution)
        );
    }
    text.push_str("</dl>\n");
}

const BASIS: &str = "A limit that is broken was checked at the place where it is. A limit that is kept is proved to be for every place of the skin where the table says so: the worst value told is a bound on the safe side of all places. Where neither is so, the piece does not pass, and its line says open. Whether parts of the skin face one another too nearly, and the width of a band at a parting line, is seen at many places: between them it may be worse.";
