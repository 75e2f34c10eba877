//! The names of the manifest's columns.

use super::checks::Checks;
use crate::arguments::make::Format;
use loftkin_exchange::shop::manifest::MEASURES;

/// The columns of the sheet: what the formed skin weighs within its trim, what it would
/// weigh with the gauge of the flat sheet everywhere, and what it holds.
const SHEET: [&str; 3] = ["mass_formed_kg", "mass_flat_gauge_kg", "capacity_mm3"];

/// The names of the columns, files last, for pieces with or without a sheet.
pub fn names(has_sheet: bool, checks: &Checks, formats: &[Format]) -> Vec<String> {
    let names = ["piece", "profiles"].into_iter().chain(MEASURES);
    let mut names: Vec<String> = names.map(str::to_owned).collect();
    if has_sheet {
        names.extend(SHEET.map(str::to_owned));
    }
    names.extend(checks.column_names());
    for &format in formats {
        let word = word(format);
        names.extend(["file", "bytes", "sha256"].map(|what| format!("{word}_{what}")));
    }
    names
}

/// What `format` is called in the manifest.
pub fn word(format: Format) -> &'static str {
    match format {
        Format::Stl => "stl",
        Format::Step => "step",
        Format::ThreeMf => "3mf",
        Format::Gltf => "glb",
        Format::SvgProfiles => "profiles_svg",
        Format::SvgTrim => "trim_svg",
        Format::SvgFlat => "flat_svg",
    }
}
