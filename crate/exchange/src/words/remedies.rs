//! What a finding adds to the verdict: regions, margin, shortfall, twist and
//! remedies, a sentence each.

use super::figures::{
    capital, counted, degrees, fraction, millimetres, place, place_of, reach, room,
};
use super::{Cell, MARGIN_COVERS, fault_kind, pacing, profile};
use loftkin_kernel::family::Family;
use loftkin_kernel::verdict::{FaultKind, Hint, Margin, Region, Remedy};

/// One faulty region: its kind and its reach along and across.
pub fn region(cell: Cell<'_>, region: &Region) -> String {
    let mut text = format!(
        "{} {}",
        capital(fault_kind(region.kind)),
        reach(region.along, "along")
    );
    if !cell.is_diagonal() && region.kind != FaultKind::Twist {
        text.push_str(&format!(", {}", reach(region.across, "across")));
    }
    text.push_str(&births(cell, region));
    let worst = place_of(cell, region.kind, &region.place);
    text.push_str(&format!("; worst {worst}"));
    match region.kind {
        FaultKind::Twist | FaultKind::Crease => {
            text.push_str(&format!(", with {}.", degrees(region.angle.abs())));
        }
        FaultKind::Fold | FaultKind::Crossing | FaultKind::Axis => text.push('.'),
    }
    text
}

/// Where the double curve of a fold begins: the places at which the curve of a
/// section stops. Empty for other faults, and for a fold that is one place.
fn births(cell: Cell<'_>, region: &Region) -> String {
    let contacts = || region.curves.iter().flatten();
    if region.kind != FaultKind::Fold || contacts().count() < 2 {
        return String::new();
    }
    let born: Vec<String> = contacts()
        .filter(|contact| contact.along == contact.other_along)
        .map(|contact| {
            let along = format!("{} along", fraction(contact.along));
            if cell.is_diagonal() {
                return along;
            }
            format!("{along}, {} across", fraction(contact.across))
        })
        .collect();
    match born.as_slice() {
        [] => String::new(),
        _ => format!("; its double curve begins at {}", born.join(" and at ")),
    }
}

/// How true the tooling must be.
pub fn margin(cell: Cell<'_>, margin: &Margin) -> String {
    format!(
        "Every control point may move by {} at a kept pace and no fold or crossing can come; the tightest place found is at {}. {MARGIN_COVERS}",
        room(margin.mm),
        place(cell, &margin.place)
    )
}

/// How far from clear a faulty pair is.
pub fn shortfall(mm: f64) -> String {
    format!(
        "Control points must move by at least {} before it can be clear.",
        millimetres(mm)
    )
}

/// The largest twist of a pair.
pub fn twist((angle, along): (f64, f64)) -> String {
    format!(
        "The largest twist is about {}, at {} along.",
        degrees(angle.abs()),
        fraction(along)
    )
}

/// What a remedy does, as an order to follow.
pub fn remedy(family: &Family, remedy: &Remedy) -> String {
    match *remedy {
        Remedy::Reverse { profile: index } => format!("Reverse {}", profile(family, index)),
        Remedy::MoveSeam {
            profile: index,
            node,
        } => format!(
            "Move the seam of {} to node {}",
            profile(family, index),
            node + 1
        ),
        Remedy::SwapPacing => format!(
            "Pace the family by {}",
            pacing(family.settings.pacing.swapped())
        ),
    }
}

/// A remedy with what it does to all pairs of the family.
pub fn hint(family: &Family, hint: &Hint) -> String {
    let lost = match hint.breaks {
        0 => "none is lost".to_owned(),
        1 => "1 that is clear now would not be".to_owned(),
        count => format!("{count} that are clear now would not be"),
    };
    format!(
        "{}: {} clear, {lost}.",
        remedy(family, &hint.remedy),
        counted(hint.mends, "pair becomes", "pairs become")
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::profile::{Node, Profile};
    use loftkin_kernel::verdict::{Contact, Place};

    #[test]
    fn a_fold_tells_where_its_double_curve_begins() {
        let line = Profile::open(vec![Node::smooth(0, 0), Node::smooth(900, 0)]);
        let family = Family {
            profiles: vec![line.clone(), line],
            ..Family::default()
        };
        let contact = |along, other_along, across| Contact {
            along,
            other_along,
            across,
            point: Default::default(),
        };
        let fold = Region {
            kind: FaultKind::Fold,
            across: (0.25, 0.5),
            along: (0.4, 0.6),
            curves: vec![vec![contact(0.5, 0.5, 0.25), contact(0.4, 0.6, 0.5)]],
            place: Place {
                along: 0.4,
                other_along: 0.6,
                across: 0.5,
                point: Default::default(),
            },
            angle: 180.0,
        };
        let told = |region: &Region| self::region(Cell::new(&family, 0, 1), region);
        let begins = "its double curve begins at 0.500 along, 0.250 across;";
        assert!(told(&fold).contains(begins), "{}", told(&fold));
        let crossing = Region {
            kind: FaultKind::Crossing,
            ..fold
        };
        assert!(!told(&crossing).contains("begins"));
    }
}
