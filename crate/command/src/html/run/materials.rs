//! The table of materials that checks start from, temperatures in both scales.

use crate::html::{escaped, paragraph};
use loftkin_exchange::words;
use loftkin_form::making::materials::{self, HotForming};
use std::fmt::Write;

/// Adds the table.
pub fn part(text: &mut String) {
    text.push_str("<h3>Materials to start from</h3>\n<div class=\"scroll\"><table>\n<thead><tr><th scope=\"col\">sheet</th><th scope=\"col\">density</th><th scope=\"col\">least bend radius</th><th scope=\"col\">formed hot at</th><th scope=\"col\">mind</th></tr></thead>\n<tbody>\n");
    for material in materials::table() {
        let bend = format!(
            "{} × gauge; from {} mm of gauge on {} ×<small>{}</small>",
            material.bend.value,
            materials::THICK,
            material.bend_thick.value,
            escaped(&material.bend.source)
        );
        let _ = writeln!(
            text,
            "<tr><th scope=\"row\">{}</th><td>{} g/cm³<small>{}</small></td><td>{bend}</td><td>{}</td><td>{}</td></tr>",
            escaped(&words::capital(&material.name)),
            material.density.value,
            escaped(&material.density.source),
            material.hot.as_ref().map_or_else(String::new, hot),
            escaped(&material.cautions.join(" "))
        );
    }
    text.push_str("</tbody>\n</table></div>\n");
    paragraph(text, "facts", DATA_SHEET);
}

fn hot(hot: &HotForming) -> String {
    format!(
        "{} to {}<small>{}</small>",
        hot.lowest,
        hot.highest,
        escaped(&hot.source)
    )
}

const DATA_SHEET: &str = "Every value is to start from: the supplier's data sheet wins, and the heating itself belongs to licensed practice under local codes. Argon and other inert gases are heavier than air or displace it, and asphyxiate in pits and closed vessels.";
