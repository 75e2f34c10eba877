//! A fold: the sections before, at and after the place where a section stops
//! and turns back, and the two slopes that cancel there.

use super::local::Local;
use super::panel::{Item, Panel, Part};
use loftkin_exchange::words::fraction;
use loftkin_kernel::verdict::{Contact, Fault, FaultKind, Region};
use nalgebra::Point2;

/// How far apart along the two strands are to be in the section that shows
/// the loop.
const WANTED_GAP: f64 = 0.14;
/// The stretch about the fold when no loop is known, half of it.
const HALF: f64 = 0.06;
/// Fractions across between the panels when no loop is known.
const STEP: f64 = 0.04;

/// The panels for `fault`.
pub fn panels(local: &Local<'_>, regions: &[Region], fault: &Fault) -> Vec<Panel> {
    let place = fault.place;
    let along = place.along;
    if local.alone {
        return vec![at_fold(local, (along, HALF), 0.0, "")];
    }
    let looped = loop_near(local, regions, along);
    let (half, after) = looped.map_or((HALF, None), |(_, contact)| {
        let gap = local.apart(contact.along, contact.other_along);
        ((0.8 * gap).max(0.02), Some(contact))
    });
    let later = after.map_or(place.across + STEP, |contact| contact.across);
    let way = if later < place.across { -1.0 } else { 1.0 };
    let earlier = match looped {
        // Beyond the end of the region on the side away from the loop.
        Some((region, _)) => {
            let end = if way < 0.0 {
                region.across.1
            } else {
                region.across.0
            };
            end - (later - place.across).abs().max(0.01) * way
        }
        None => place.across - STEP,
    };
    let [earlier, later] = [earlier, later].map(|across| across.clamp(0.0, 1.0));
    let names = told_apart([earlier, place.across, later]);
    vec![
        before(local, (along, half), earlier, &names[0]),
        at_fold(local, (along, half), place.across, &names[1]),
        behind(local, (along, half), (later, after), &names[2]),
        slopes(local, along),
    ]
}

/// Fractions across with as many places as tell them apart.
fn told_apart(across: [f64; 3]) -> [String; 3] {
    let names = across.map(fraction);
    if names[0] != names[1] && names[1] != names[2] {
        return names;
    }
    across.map(|across| format!("{across:.5}"))
}

/// The region that begins at this fold, and the place of its double curve at
/// which the loop is large enough to see.
fn loop_near<'a>(
    local: &Local<'_>,
    regions: &'a [Region],
    along: f64,
) -> Option<(&'a Region, Contact)> {
    let folds = regions
        .iter()
        .filter(|region| region.kind == FaultKind::Fold);
    let begins = |curve: &&Vec<Contact>| {
        curve.iter().any(|contact| {
            contact.along == contact.other_along && local.apart(contact.along, along) < 0.01
        })
    };
    let (region, curve) = folds
        .flat_map(|region| region.curves.iter().map(move |curve| (region, curve)))
        .find(|(_, curve)| begins(curve) && 2 < curve.len())?;
    let off =
        |contact: &Contact| (local.apart(contact.along, contact.other_along) - WANTED_GAP).abs();
    let best = curve
        .iter()
        .filter(|contact| contact.along != contact.other_along)
        .min_by(|one, other| off(one).total_cmp(&off(other)))?;
    Some((region, *best))
}

fn before(local: &Local<'_>, reach: (f64, f64), across: f64, name: &str) -> Panel {
    Panel::around(
        format!("Before: {name} across"),
        "Here the section still runs on: it bends, but it never stops.".to_owned(),
        local.directed(Part::Section, reach, across),
    )
}

fn at_fold(local: &Local<'_>, (along, half): (f64, f64), across: f64, name: &str) -> Panel {
    let mut items = local.directed(Part::Section, (along, half), across);
    items.push(Item::Mark(local.point(along, across)));
    let (title, text) = if local.alone {
        (
            format!("The cusp at {} along", fraction(along)),
            "The profile stops at the place marked and turns straight back.",
        )
    } else {
        (
            format!("The fold: {name} across"),
            "At the place marked the section stops and turns straight back: the skin has no direction there.",
        )
    };
    Panel::around(title, text.to_owned(), items)
}

fn behind(
    local: &Local<'_>,
    reach: (f64, f64),
    (across, contact): (f64, Option<Contact>),
    name: &str,
) -> Panel {
    let mut items = local.directed(Part::Section, reach, across);
    let text = match contact {
        Some(contact) => {
            items.push(Item::Mark(contact.point));
            "Further on it has a loop: at the place marked the skin passes through itself."
        }
        None => "On the other side of the fold the section has turned over there.",
    };
    Panel::around(format!("After: {name} across"), text.to_owned(), items)
}

fn slopes(local: &Local<'_>, along: f64) -> Panel {
    let longest = local.slopes(along).map(|slope| slope.norm());
    let longest = longest[0].max(longest[1]).max(1e-9);
    let [a, b] = local.slopes(along).map(|slope| slope / longest);
    let aside = nalgebra::Vector2::new(-a.y, a.x).normalize() * 0.12;
    let origin = Point2::origin();
    let arrow = |part, slope: nalgebra::Vector2<f64>, side: f64| {
        Item::Arrow(part, origin + aside * side, origin + aside * side + slope)
    };
    let label = |part, slope: nalgebra::Vector2<f64>, side: f64, text: &str| {
        Item::Label(
            part,
            origin + aside * (2.6 * side) + slope * 0.5,
            text.to_owned(),
        )
    };
    Panel::about(
        "Why it stops".to_owned(),
        format!(
            "At {} along the two profiles run in opposite directions. Part of the way across, the one direction cancels the other.",
            fraction(along)
        ),
        (origin, 1.0),
        vec![
            arrow(Part::First, a, 1.0),
            arrow(Part::Second, b, -1.0),
            label(Part::First, a, 1.0, "first"),
            label(Part::Second, b, -1.0, "second"),
        ],
    )
}
