//! How the values of each column of a manifest are known: worked out, bounded on the
//! safe side, or seen at sampled places.

use std::collections::BTreeMap;

/// Columns by how their names begin, the longer ones first, and how they are known.
const KNOWN: [(&str, &str); 19] = [
    ("skin_area", "worked out to 0.001 %"),
    (
        "volume_difference",
        "by how much two ways to work out the volume differ",
    ),
    ("volume", "worked out in two ways"),
    ("centre", "worked out"),
    (
        "mass_formed",
        "worked out: the volume of the clamped blank is kept, shared out as on a free dome; without the far opening, which is trimmed away",
    ),
    (
        "mass_flat_gauge",
        "worked out: as if the gauge of the flat sheet were left everywhere",
    ),
    ("capacity", "worked out, with the gauge of the flat sheet"),
    ("draft_deg", "bounded to 0.02 degrees, on the safe side"),
    (
        "undercut_area",
        "at most so much, by a bound to 5 % of it or 0.2 % of the skin",
    ),
    ("undercut_regions", "seen at sampled places"),
    ("parting", "seen at sampled places"),
    ("band_proved", "proved to be at most so much"),
    ("band_area_proved", "proved to be at most so much"),
    ("band", "seen at sampled places"),
    (
        "room_ratio",
        "in hollows bounded to 1 %, on the safe side; between walls seen at sampled places",
    ),
    ("room_apart", "seen at sampled places"),
    ("cutter_radius", BOUNDED),
    ("bend_radius", BOUNDED),
    ("scallop", BOUNDED),
];

/// Of checks whose worst value is bounded.
const BOUNDED: &str = "bounded to 1 %, on the safe side";

/// How the values of `column` are known; of a column that is none of them, nothing.
pub fn of(column: &str) -> &'static str {
    let known = KNOWN.iter().find(|(begin, _)| column.starts_with(begin));
    match (known, column) {
        (Some((_, known)), _) => known,
        (None, "gauge_left_mm" | "pressure_mpa") => BOUNDED,
        _ => "",
    }
}

/// How the values of `columns` are known, by their names, where that is told.
pub fn table(columns: &[String]) -> BTreeMap<String, String> {
    let told = columns
        .iter()
        .map(|column| (column.clone(), of(column).to_owned()));
    told.filter(|(column, known)| !known.is_empty() && !column.ends_with("_basis"))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_longer_name_is_found_first() {
        assert!(of("volume_difference").starts_with("by how much"));
        assert!(of("volume_mm3").starts_with("worked out"));
        assert!(of("band_proved_mm").starts_with("proved"));
        assert!(of("band_mm").starts_with("seen"));
        assert_eq!(of("gauge_left_mm"), of("bend_radius_mm"));
        assert_eq!(of("stl_bytes"), "");
    }
}
