//! Sentences about series and pieces, for page and command alike.

use super::{SeriesPlan, blend_word};
use crate::words::{counted, profile};
use loftkin_form::blend::Blend;
use loftkin_form::piece::Arrangement;
use loftkin_form::series::Series;
use loftkin_form::series::standing::Grounds;
use loftkin_form::series::symmetry::NotAlike;
use loftkin_form::stations::Setting;
use loftkin_kernel::family::Family;

/// What the count of `series` stands on.
pub fn grounds(series: &Series) -> &'static str {
    match series.standing().grounds() {
        // An eased weight only takes each section of the ruled loft to another height.
        Grounds::Pairs if series.layout().blend() == Blend::Eased => {
            "Every two neighbours are proved clear, which covers the whole skin of an eased piece too: between two neighbours its weights lie between 0 and 1, so every section of it is a section of the ruled loft of these two."
        }
        Grounds::Pairs => {
            "Every two neighbours are proved clear, which covers the whole skin of a piece."
        }
        Grounds::WholeSet => {
            "All profiles are proved for any blend together, which covers every piece."
        }
        Grounds::Threes => {
            "Every three among neighbours are proved for any blend, which covers every piece."
        }
    }
}

/// Where the profiles of `plan` stand and how they are joined.
pub fn facts(plan: &SeriesPlan) -> String {
    let (placement, unit) = match plan.setting {
        Setting::Stack => ("as a stack", "mm"),
        Setting::Ring { all_round: false } => ("as a ring", "degrees"),
        Setting::Ring { all_round: true } => ("as a ring joined all round", "degrees"),
    };
    let mut text = format!(
        "{} {placement}",
        counted(plan.stations.len(), "station", "stations")
    );
    if let [first, .., last] = &plan.stations[..] {
        text.push_str(&format!(
            ", from {} to {} {unit}",
            first.place.at, last.place.at
        ));
    }
    text.push_str(&format!(", {}", blend_word(plan.blend)));
    if plan.no_equal_neighbours {
        text.push_str(", no profile beside itself");
    }
    text
}

/// Which profiles stations take that do not take any.
pub fn lists(family: &Family, plan: &SeriesPlan) -> Vec<String> {
    let stations = plan.stations.iter().enumerate();
    let lists = stations.filter_map(|(index, station)| {
        let allowed = station.profiles.as_ref()?;
        Some(format!(
            "station {} takes {}",
            index + 1,
            named(family, allowed)
        ))
    });
    lists.collect()
}

/// How many pieces `series` has, also up to turning and mirroring where that
/// makes sense, or why it has none.
pub fn count(series: &Series) -> Vec<String> {
    if let Some(reason) = series.emptiness() {
        return vec![format!("No piece: {reason}.")];
    }
    let total = series.count();
    let noun = if total.to_string() == "1" {
        "piece"
    } else {
        "pieces"
    };
    match series.up_to_symmetry() {
        Ok(by) => vec![format!(
            "{total} {noun}; up to turning {}, up to turning and mirroring {}.",
            by.turning, by.mirroring
        )],
        Err(NotAlike::NotAllRound) => vec![format!("{total} {noun}.")],
        Err(reason) => vec![
            format!("{total} {noun}."),
            format!("Not counted up to turning: {reason}."),
        ],
    }
}

/// The profiles of `arrangement`, station by station, by number and by name.
pub fn arrangement(family: &Family, arrangement: &Arrangement) -> String {
    let numbers: Vec<String> = arrangement
        .0
        .iter()
        .map(|index| (index + 1).to_string())
        .collect();
    format!("{} ({})", numbers.join(","), named(family, &arrangement.0))
}

fn named(family: &Family, profiles: &[usize]) -> String {
    let names: Vec<String> = profiles
        .iter()
        .map(|&index| profile(family, index))
        .collect();
    names.join(", ")
}
