//! The JSON form of a series plan, field by field. The published schema
//! `series.schema.json` describes the same form.

use super::{BLENDS, PlannedStation, SeriesPlan, piece_number};
use crate::json::Item;
use crate::json::form::{
    Fields, Fit, flag, list, list_of, misfit, number, one_of, refusal, text, whole,
};
use loftkin_form::stations::{Setting, Station};
use loftkin_kernel::family::Placement;
use num_bigint::BigUint;

/// What the field `format` says.
pub const FORMAT: &str = "loftkin-series";
/// The version of the form that is written and read here.
pub const VERSION: u32 = 1;

pub(super) fn plan(item: &Item) -> Fit<SeriesPlan> {
    let fields = Fields::of(
        item,
        &[
            "format",
            "version",
            "placement",
            "all_round",
            "blend",
            "no_equal_neighbours",
            "stations",
            "piece",
        ],
    )?;
    fields.needed("format", |item| one_of(item, [(FORMAT, ())]))?;
    fields.needed("version", version)?;
    let placement = fields.needed("placement", |item| {
        one_of(
            item,
            [("stack", Placement::Stack), ("ring", Placement::Ring)],
        )
    })?;
    let all_round = fields.optional("all_round", |item| all_round(item, placement))?;
    Ok(SeriesPlan {
        setting: match placement {
            Placement::Stack => Setting::Stack,
            Placement::Ring => Setting::Ring {
                all_round: all_round.unwrap_or_default(),
            },
        },
        blend: fields
            .optional("blend", |item| one_of(item, BLENDS))?
            .unwrap_or_default(),
        no_equal_neighbours: fields
            .optional("no_equal_neighbours", flag)?
            .unwrap_or_default(),
        stations: fields.needed("stations", |item| list(item, "station", station))?,
        piece: fields.optional("piece", piece)?,
    })
}

fn version(item: &Item) -> Fit<()> {
    match whole(item) {
        Some(VERSION) => Ok(()),
        Some(other) => Err(refusal(item, format!("expected {VERSION}, found {other}"))),
        None => Err(misfit(item, "a whole number")),
    }
}

fn all_round(item: &Item, placement: Placement) -> Fit<bool> {
    let all_round = flag(item)?;
    if all_round && placement == Placement::Stack {
        let problem = "only a ring can be joined all round: say \"placement\": \"ring\", or false";
        return Err(refusal(item, problem.to_owned()));
    }
    Ok(all_round)
}

fn station(item: &Item) -> Fit<PlannedStation> {
    let fields = Fields::of(item, &["at", "scale", "right", "up", "turn", "profiles"])?;
    let as_drawn = Station::at(fields.needed("at", number)?);
    let (right, up) = (
        fields.optional("right", number)?.unwrap_or_default(),
        fields.optional("up", number)?.unwrap_or_default(),
    );
    let scale = fields.optional("scale", number)?.unwrap_or(as_drawn.scale);
    let turn = fields.optional("turn", number)?.unwrap_or(as_drawn.turn);
    Ok(PlannedStation {
        place: as_drawn.scaled(scale).shifted(right, up).turned(turn),
        profiles: fields.optional("profiles", profiles)?,
    })
}

/// Profiles count from 1 in the file.
fn profiles(item: &Item) -> Fit<Vec<usize>> {
    let index = |item: &Item| {
        let number = whole(item).and_then(|number| number.checked_sub(1));
        number
            .map(|index| index as usize)
            .ok_or_else(|| refusal(item, "profiles are whole numbers from 1".to_owned()))
    };
    list_of(item)?.iter().map(index).collect()
}

fn piece(item: &Item) -> Fit<BigUint> {
    let digits = text(item)?;
    piece_number(&digits).ok_or_else(|| {
        let problem = "a piece number is digits in quotes, from \"1\"";
        refusal(item, problem.to_owned())
    })
}
