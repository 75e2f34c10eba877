//! What the figures of a run rest on: how the profiles stand, the sheet, the
//! tolerance of its files, and the inputs of each check beside its limit.

use crate::html::escaped;
use crate::make::checks::Checks;
use crate::make::description::Description;
use loftkin_exchange::making_inputs;
use loftkin_exchange::words;
use loftkin_form::blend::Layout;
use loftkin_form::stations::Station;
use std::fmt::Write;

/// Adds the table.
pub fn part(text: &mut String, run: &Description, layout: &Layout, checks: &Checks) {
    text.push_str("<h3>What these figures rest on</h3>\n<div class=\"scroll\"><table>\n<tbody>\n");
    let mut row = |what: &str, told: &str| {
        let told = escaped(&words::capital(told));
        let _ = writeln!(
            text,
            "<tr><th scope=\"row\">{}</th><td>{told}</td></tr>",
            escaped(what)
        );
    };
    row(
        "stations beyond their places",
        &changes(layout.stations().all()),
    );
    if run.no_equal_neighbours {
        row("neighbours", "no profile stands beside itself");
    }
    for rule in &run.allowed {
        let profiles: Vec<String> = rule.profiles.iter().map(usize::to_string).collect();
        let told = format!("only profiles {} may stand there", profiles.join(", "));
        row(&format!("station {}", rule.station), &told);
    }
    if let Some(gauge) = run.gauge {
        row("gauge of the sheet", &format!("{gauge} mm"));
    }
    if let Some(density) = run.density {
        row("density of the sheet", &format!("{density} g/cm³"));
    }
    if !run.files.is_empty() {
        row(
            "meshes in files",
            &format!("within {} mm of the piece", run.tolerance),
        );
    }
    if let Some(limits) = &run.checks {
        let shop = limits.workshop();
        for (kind, _) in checks.all() {
            row(&checks.title(kind), &making_inputs::inputs(&shop, kind));
        }
    }
    text.push_str("</tbody>\n</table></div>\n");
}

/// Scale, turn and shift of the stations that have any.
fn changes(stations: &[Station]) -> String {
    let told: Vec<String> = stations
        .iter()
        .enumerate()
        .filter_map(|(index, station)| {
            let mut parts = Vec::new();
            if station.scale != 1.0 {
                parts.push(format!("scale {}", station.scale));
            }
            if station.turn != 0.0 {
                parts.push(format!("turn {} degrees", station.turn));
            }
            if station.shift.x != 0.0 || station.shift.y != 0.0 {
                parts.push(format!("shift {}, {} mm", station.shift.x, station.shift.y));
            }
            (!parts.is_empty()).then(|| format!("station {}: {}", index + 1, parts.join(", ")))
        })
        .collect();
    if told.is_empty() {
        return "as drawn: no scale, turn or shift".to_owned();
    }
    told.join("; ")
}
