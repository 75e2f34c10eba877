//! A crossing: the section with its double point, the two strands enlarged,
//! and the same strands where they still pass. Also a place too near to tell.

use super::local::{Local, reach};
use super::panel::{Item, Panel, Part, arc};
use loftkin_exchange::words::{degrees, fraction, millimetres};
use loftkin_kernel::verdict::{Fault, FaultKind, Place, Region};
use nalgebra::{Point2, Vector2};

/// Half the stretch of each strand, along.
const HALF: f64 = 0.05;
/// The radius of an angle's arc, as a part of the window.
const ARC: f64 = 0.45;

/// The panels for `fault`.
pub fn panels(local: &Local<'_>, regions: &[Region], fault: &Fault) -> Vec<Panel> {
    let place = fault.place;
    let mut panels = vec![whole(local, &place), enlarged(local, &place, fault.angle)];
    if !local.alone {
        panels.extend(passing(local, regions, &place));
    }
    panels
}

/// A place that comes close to touching itself: the gap in mm, where known.
pub fn near(local: &Local<'_>, place: &Place, gap: Option<f64>) -> Vec<Panel> {
    let told = match gap {
        Some(gap) => format!(
            "The gap at the place marked is about {}: too small to be proved open or shut.",
            millimetres(gap)
        ),
        None => "The proof was left undecided at the place marked.".to_owned(),
    };
    let mut second = enlarged(local, place, 0.0);
    second.title = "Enlarged".to_owned();
    second.text = told;
    let mut first = whole(local, place);
    first.text = "The section with the place that is too near.".to_owned();
    vec![first, second]
}

fn named(local: &Local<'_>, across: f64) -> String {
    if local.alone {
        "The profile".to_owned()
    } else {
        format!("The section at {} across", fraction(across))
    }
}

fn whole(local: &Local<'_>, place: &Place) -> Panel {
    let items = vec![
        Item::Line(Part::Section, local.whole(place.across)),
        Item::Mark(place.point),
    ];
    let text = "Two of its strands meet at the place marked.".to_owned();
    Panel::around(named(local, place.across), text, items)
}

/// Half the stretch to show of each strand: less when they are near each other.
fn half(local: &Local<'_>, place: &Place) -> f64 {
    let apart = local.apart(place.along, place.other_along);
    if apart == 0.0 {
        HALF
    } else {
        HALF.min(0.4 * apart)
    }
}

fn enlarged(local: &Local<'_>, place: &Place, angle: f64) -> Panel {
    let half = half(local, place);
    let [one, other] = [place.along, place.other_along];
    let mut items = local.directed(Part::Strand, (one, half), place.across);
    items.extend(local.directed(Part::Other, (other, half), place.across));
    let strands = [one, other].map(|along| local.stretch(along, half, place.across));
    let window = strands
        .iter()
        .map(|points| reach(points, place.point))
        .fold(0.0, f64::max);
    let slopes = [one, other].map(|along| local.slope(along, place.across));
    if 0.5 < angle && slopes.iter().all(|slope| 0.0 < slope.norm()) {
        let [a, b] = slopes.map(|slope| slope.normalize());
        // The lesser of the two angles between the strands.
        let b = if a.dot(&b) < 0.0 { -b } else { b };
        items.push(Item::Angle(
            Part::Fault,
            arc(place.point, ARC * window, a, b),
        ));
        let beside = a + b;
        let away: Vector2<f64> = if 1e-9 < beside.norm() {
            beside.normalize()
        } else {
            a
        };
        let at = place.point + away * (ARC + 0.18) * window;
        items.push(Item::Label(Part::Fault, at, format!("{angle:.1}°")));
    }
    items.push(Item::Mark(place.point));
    let times = local.size() / (2.0 * window);
    let apart = if angle < 0.05 {
        String::new()
    } else {
        format!(", {} apart in direction", degrees(angle))
    };
    Panel::about(
        format!("Enlarged {times:.0} times"),
        format!(
            "The strand at {} along and the strand at {} along pass through one point{apart}.",
            fraction(one.min(other)),
            fraction(one.max(other))
        ),
        (place.point, window),
        items,
    )
}

/// The same strands at a section outside the region, where they do not touch.
fn passing(local: &Local<'_>, regions: &[Region], place: &Place) -> Option<Panel> {
    let region = regions
        .iter()
        .filter(|region| matches!(region.kind, FaultKind::Crossing | FaultKind::Fold))
        .find(|region| region.across.0 <= place.across && place.across <= region.across.1)?;
    let (low, high) = region.across;
    let off = (0.3 * (high - low)).max(0.01);
    let across = if place.across - low <= high - place.across {
        (low - off).max(0.0)
    } else {
        (high + off).min(1.0)
    };
    let half = half(local, place);
    let strands = [place.along, place.other_along].map(|along| local.stretch(along, half, across));
    let (one, other) = nearest(&strands[0], &strands[1])?;
    let middle = nalgebra::center(&one, &other);
    let window = strands
        .iter()
        .map(|points| reach(points, middle))
        .fold(0.0, f64::max);
    let mut items = local.directed(Part::Strand, (place.along, half), across);
    items.extend(local.directed(Part::Other, (place.other_along, half), across));
    items.push(Item::Line(Part::Quiet, vec![one, other]));
    Some(Panel::about(
        format!("Outside it: {} across", fraction(across)),
        format!(
            "Here the same strands still pass each other, {} apart.",
            millimetres((one - other).norm())
        ),
        (middle, window),
        items,
    ))
}

fn nearest(one: &[Point2<f64>], other: &[Point2<f64>]) -> Option<(Point2<f64>, Point2<f64>)> {
    let pairs = one.iter().flat_map(|&p| other.iter().map(move |&q| (p, q)));
    pairs.min_by(|a, b| (a.0 - a.1).norm().total_cmp(&(b.0 - b.1).norm()))
}
