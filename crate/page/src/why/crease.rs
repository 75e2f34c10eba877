//! A crease: the section kinked at a joint that is smooth in both profiles,
//! and the speeds at which the two run through the joint.

use super::local::{Local, reach};
use super::panel::{Item, Panel, Part, arc};
use loftkin_exchange::words::{degrees, fraction};
use loftkin_kernel::grid::STEPS_PER_MM;
use loftkin_kernel::verdict::Fault;
use nalgebra::{Point2, Vector2};

/// Half the stretch of the section, along.
const HALF: f64 = 0.05;

/// The panels for `fault`.
pub fn panels(local: &Local<'_>, fault: &Fault) -> Vec<Panel> {
    vec![kink(local, fault), speeds(local, fault.place.along)]
}

/// The slopes before and after the joint: of each profile, in mm for the whole way.
fn beside(local: &Local<'_>, along: f64) -> [(Vector2<f64>, Vector2<f64>); 2] {
    local.curves.map(|curve| {
        let (before, after) = curve.slopes_beside(along);
        (before / STEPS_PER_MM, after / STEPS_PER_MM)
    })
}

fn kink(local: &Local<'_>, fault: &Fault) -> Panel {
    let (along, across) = (fault.place.along, fault.place.across);
    let at = local.point(along, across);
    let window = reach(&local.stretch(along, HALF, across), at);
    let [a, b] = beside(local, along);
    let unit = |slope: Vector2<f64>| slope.try_normalize(1e-12).unwrap_or(Vector2::x());
    let arriving = unit(a.0 + (b.0 - a.0) * across);
    let leaving = unit(a.1 + (b.1 - a.1) * across);
    let items = vec![
        Item::Line(Part::Section, local.stretch(along, HALF, across)),
        Item::Line(Part::Quiet, vec![at, at + arriving * window]),
        Item::Arrow(Part::Strand, at - arriving * window * 0.8, at),
        Item::Arrow(Part::Other, at, at + leaving * window * 0.8),
        Item::Angle(Part::Fault, arc(at, 0.6 * window, arriving, leaving)),
        Item::Label(
            Part::Fault,
            at + unit(arriving + leaving) * 0.78 * window,
            format!("{:.1}°", fault.angle.abs()),
        ),
        Item::Mark(at),
    ];
    Panel::about(
        format!("The section at {} across", fraction(across)),
        format!(
            "At the joint at {} along the section arrives in one direction and leaves in another, {} off.",
            fraction(along),
            degrees(fault.angle.abs())
        ),
        (at, window),
        items,
    )
}

fn speeds(local: &Local<'_>, along: f64) -> Panel {
    let [a, b] = beside(local, along);
    let longest = [a.0, a.1, b.0, b.1].map(|slope| slope.norm());
    let longest = longest.into_iter().fold(1e-9, f64::max);
    let origin = Point2::origin();
    let items =
        [(Part::First, a), (Part::Second, b)]
            .into_iter()
            .flat_map(|(part, (before, after))| {
                [
                    Item::Arrow(part, origin - before / longest, origin),
                    Item::Arrow(part, origin, origin + after / longest),
                ]
            });
    let ratio =
        |(before, after): (Vector2<f64>, Vector2<f64>)| after.norm() / before.norm().max(1e-12);
    Panel::about(
        "How fast the profiles run through the joint".to_owned(),
        format!(
            "Each profile is smooth, but behind the joint the first runs at {:.2} times its speed before it, the second at {:.2} times. A mix of the two turns where these differ.",
            ratio(a),
            ratio(b)
        ),
        (origin, 1.0),
        items.collect(),
    )
}
