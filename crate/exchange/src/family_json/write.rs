//! Writing the JSON form: one node a line would be long, one profile a line
//! unreadable, so nodes run on and wrap.
//!
//! Numbers are written from whole grid steps, so they read back exactly.

use crate::json::quoted;
use crate::rounding::decimal;
use crate::words;
use loftkin_kernel::family::Family;
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Node, Outline, PathSpan, Profile};

/// Where a run of nodes or spans is wrapped.
const LINE_WIDTH: usize = 100;

/// `family` as JSON text that [`super::read`] gives back exactly.
pub fn write(family: &Family) -> String {
    let settings = &family.settings;
    let profiles: Vec<String> = family.profiles.iter().map(profile).collect();
    let profiles = if profiles.is_empty() {
        "[]".to_owned()
    } else {
        format!("[\n{}\n  ]", profiles.join(",\n"))
    };
    format!(
        "{{\n  \"format\": \"{}\",\n  \"version\": {},\n  \"name\": {},\n  \"unit\": \"mm\",\n  \"grid\": 0.01,\n  \
         \"settings\": {{\n    \"pacing\": \"{}\",\n    \"placement\": \"{}\",\n    \"twist_limit\": {},\n    \
         \"crease_limit\": {}\n  }},\n  \"profiles\": {profiles}\n}}\n",
        super::FORMAT,
        super::VERSION,
        quoted(&family.name),
        words::pacing(settings.pacing),
        words::placement(settings.placement),
        settings.twist_limit.degrees(),
        settings.crease_limit.degrees(),
    )
}

fn profile(profile: &Profile) -> String {
    let outline = match &profile.outline {
        Outline::Nodes(nodes) => format!("      \"nodes\": {}", wrapped(nodes.iter().map(node), 8)),
        Outline::Path { start, spans } => format!(
            "      \"path\": {{\n        \"start\": {},\n        \"spans\": {}\n      }}",
            point(*start),
            wrapped(spans.iter().map(span), 10)
        ),
    };
    format!(
        "    {{\n      \"name\": {},\n      \"closed\": {},\n{outline}\n    }}",
        quoted(&profile.name),
        profile.closed
    )
}

fn node(node: &Node) -> String {
    let (x, y) = (decimal(node.at.x), decimal(node.at.y));
    let corner = if node.corner { ", \"corner\"" } else { "" };
    format!("[{x}, {y}{corner}]")
}

fn span(span: &PathSpan) -> String {
    match *span {
        PathSpan::Line { to } => format!("{{\"line\": {}}}", point(to)),
        PathSpan::Cubic { first, second, to } => format!(
            "{{\"cubic\": [{}, {}, {}]}}",
            point(first),
            point(second),
            point(to)
        ),
    }
}

fn point(point: GridPoint) -> String {
    format!("[{}, {}]", decimal(point.x), decimal(point.y))
}

fn wrapped(items: impl Iterator<Item = String>, indent: usize) -> String {
    let mut lines: Vec<String> = Vec::new();
    for item in items {
        match lines.last_mut() {
            Some(line) if indent + line.len() + item.len() + 3 <= LINE_WIDTH => {
                line.push_str(", ");
                line.push_str(&item);
            }
            _ => lines.push(item),
        }
    }
    let margin = " ".repeat(indent);
    let close = " ".repeat(indent - 2);
    match lines.is_empty() {
        true => "[]".to_owned(),
        false => format!(
            "[\n{margin}{}\n{close}]",
            lines.join(&format!(",\n{margin}"))
        ),
    }
}
