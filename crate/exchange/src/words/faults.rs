//! What is wrong with one cell, or why it is unproven: a saying each.
//!
//! Every saying ends in what would be right; what a remedy does to the other
//! pairs is said in the module of remedies.

use super::figures::{capital, degrees, millimetres, place, place_of};
use super::{Cell, Saying, fault_kind, profile};
use loftkin_kernel::family::{Pacing, TenthsOfDegree};
use loftkin_kernel::profile::ProfileError;
use loftkin_kernel::verdict::{Doubt, Fault, FaultKind};

/// A fault of one cell.
pub fn fault(cell: Cell<'_>, fault: &Fault) -> Saying {
    let alone = cell.is_diagonal();
    let settings = &cell.family.settings;
    let (does, right) = match fault.kind {
        FaultKind::Fold if alone => (
            "turns back on itself in a cusp.".to_owned(),
            "Move the nodes or handles beside the cusp apart, or make the node a corner.",
        ),
        FaultKind::Fold => (
            "folds: at that section the curve stops and turns back on itself.".to_owned(),
            "Let the two profiles run more nearly the same way there, or turn one of them round.",
        ),
        FaultKind::Crossing if alone => (
            format!("meets itself: two of its strands touch{}.", apart(fault)),
            "Pull the two strands apart, or take out the loop between them.",
        ),
        FaultKind::Crossing => (
            format!(
                "crosses itself: two strands of that section touch{}.",
                apart(fault)
            ),
            "Bring the two profiles nearer to one another in shape there, or leave more room between the two strands.",
        ),
        FaultKind::Axis => (
            "reaches the axis of the ring.".to_owned(),
            "Keep every point at an x above 0 mm, its distance from the axis.",
        ),
        FaultKind::Twist => (
            format!("twists by {}.", above(fault, settings.twist_limit)),
            "Turn one profile nearer to the direction of the other there, or raise the twist limit if that much is meant.",
        ),
        FaultKind::Crease => (
            format!(
                "creases at a smooth joint by {}.",
                above(fault, settings.crease_limit)
            ),
            crease_remedy(settings.pacing),
        ),
    };
    saying(cell, &does, place_of(cell, fault.kind, &fault.place), right)
}

/// A saying about what `cell` `does`, a sentence without its subject.
fn saying(cell: Cell<'_>, does: &str, place: String, right: &str) -> Saying {
    Saying {
        what: format!("{} {does}", capital(&cell.label())),
        short: capital(does),
        place,
        right: right.to_owned(),
    }
}

/// The angle between two strands, unless it is too small to tell.
fn apart(fault: &Fault) -> String {
    let angle = fault.angle.abs();
    if angle < 0.05 {
        String::new()
    } else {
        format!(", {} apart in direction", degrees(angle))
    }
}

/// "93.1 degrees where 90.0 degrees are allowed", with as many places as tell
/// the two apart.
fn above(fault: &Fault, limit: TenthsOfDegree) -> String {
    let (angle, limit) = (fault.angle.abs(), limit.degrees());
    let angle = if angle - limit < 0.05 {
        format!("{angle:.6} degrees")
    } else {
        degrees(angle)
    };
    format!("{angle} where {} are allowed", degrees(limit))
}

fn crease_remedy(pacing: Pacing) -> &'static str {
    match pacing {
        Pacing::Node => "Pace by parameter, or space the nodes of the two profiles alike.",
        Pacing::Parameter => {
            "Turn the imported path into a smooth profile, or give its handles on both sides of the joint the lengths that its spans have."
        }
    }
}

/// Why one cell is unproven.
pub fn doubt(cell: Cell<'_>, doubt: &Doubt) -> Saying {
    match doubt {
        Doubt::Contact { place: at, gap } => saying(
            cell,
            &format!(
                "comes within {} of touching itself, too near to be proved clear or faulty.",
                millimetres(*gap)
            ),
            place(cell, at),
            "Leave more room there.",
        ),
        Doubt::AtLimit {
            kind: FaultKind::Axis,
            place: at,
        } => saying(
            cell,
            "comes so near the axis of the ring that rounding cannot tell whether it reaches it.",
            place(cell, at),
            "Move the profile away from the axis there.",
        ),
        Doubt::AtLimit { kind, place: at } => saying(
            cell,
            &format!(
                "has a {} too near its limit to be proved within it or beyond it.",
                fault_kind(*kind)
            ),
            place_of(cell, *kind, at),
            "Change the limit a little, or leave more room below it.",
        ),
        Doubt::Limit { place: at } => saying(
            cell,
            "is undecided: the allowed work was used up before a proof was found.",
            place(cell, at),
            "Move a node near this place by a little, or leave more room there.",
        ),
        Doubt::ProfileNotSimple { profile: index } => saying(
            cell,
            &format!(
                "is not judged, since {} is not itself proved free of contact with itself.",
                profile(cell.family, *index)
            ),
            String::new(),
            "Mend that profile first.",
        ),
        Doubt::ProfileInvalid {
            profile: index,
            error,
        } => saying(
            cell,
            &format!(
                "is not judged, since {} cannot be judged as drawn: {}.",
                profile(cell.family, *index),
                profile_error(error)
            ),
            String::new(),
            "Mend that profile first.",
        ),
        Doubt::CountsDiffer { first, second } => saying(
            cell,
            &format!("cannot be paced by node: the profiles have {first} and {second} spans."),
            String::new(),
            "Give both the same number of nodes, or pace the family by parameter.",
        ),
    }
}

/// What is wrong with one profile in itself, with what would be right.
pub fn profile_error(error: &ProfileError) -> String {
    error.to_string()
}

/// What there is to say of a cell that is clear.
pub fn clear(cell: Cell<'_>) -> Saying {
    let does = if cell.is_diagonal() {
        "is clear: it never meets itself."
    } else {
        "is clear: no section of it folds or crosses, and twist and creases stay within their limits."
    };
    saying(cell, does, String::new(), "")
}
