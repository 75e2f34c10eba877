//! Writing the JSON form: one station a line, and of each only what is not as
//! drawn.
//!
//! Numbers are written with the fewest digits that read back as the same f64.

use super::{FORMAT, PlannedStation, SeriesPlan, VERSION, blend_word};
use crate::words;
use loftkin_form::stations::{Setting, Station};
use loftkin_kernel::family::Placement;

/// `plan` as JSON text that [`super::read`] gives back exactly. Numbers must be
/// finite.
pub fn write(plan: &SeriesPlan) -> String {
    let (placement, all_round) = match plan.setting {
        Setting::Stack => (Placement::Stack, false),
        Setting::Ring { all_round } => (Placement::Ring, all_round),
    };
    let stations: Vec<String> = plan.stations.iter().map(station).collect();
    let stations = match stations.is_empty() {
        true => "[]".to_owned(),
        false => format!("[\n    {}\n  ]", stations.join(",\n    ")),
    };
    let piece = match &plan.piece {
        Some(number) => format!(",\n  \"piece\": \"{number}\""),
        None => String::new(),
    };
    format!(
        "{{\n  \"format\": \"{FORMAT}\",\n  \"version\": {VERSION},\n  \"placement\": \"{}\",\n  \
         \"all_round\": {all_round},\n  \"blend\": \"{}\",\n  \"no_equal_neighbours\": {},\n  \
         \"stations\": {stations}{piece}\n}}\n",
        words::placement(placement),
        blend_word(plan.blend),
        plan.no_equal_neighbours,
    )
}

fn station(station: &PlannedStation) -> String {
    let place = &station.place;
    let as_drawn = Station::at(place.at);
    let mut fields = vec![format!("\"at\": {}", number(place.at))];
    let rest = [
        ("scale", place.scale, as_drawn.scale),
        ("right", place.shift.x, as_drawn.shift.x),
        ("up", place.shift.y, as_drawn.shift.y),
        ("turn", place.turn, as_drawn.turn),
    ];
    for (name, value, usual) in rest {
        // By bits: -0 is written, for it must read back.
        if value.to_bits() != usual.to_bits() {
            fields.push(format!("\"{name}\": {}", number(value)));
        }
    }
    if let Some(profiles) = &station.profiles {
        let numbers: Vec<String> = profiles
            .iter()
            .map(|index| index.saturating_add(1).to_string())
            .collect();
        fields.push(format!("\"profiles\": [{}]", numbers.join(", ")));
    }
    format!("{{{}}}", fields.join(", "))
}

/// What is no number is written as null, which reading refuses by name.
fn number(value: f64) -> String {
    match value.is_finite() {
        true => value.to_string(),
        false => "null".to_owned(),
    }
}
