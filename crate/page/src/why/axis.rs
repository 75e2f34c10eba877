//! The axis of a ring: the section that reaches it, and what lies beyond.

use super::local::Local;
use super::panel::{Item, Panel, Part};
use loftkin_exchange::words::{fraction, millimetres};
use loftkin_kernel::verdict::Fault;
use nalgebra::Point2;

/// The panels for `fault`.
pub fn panels(local: &Local<'_>, fault: &Fault) -> Vec<Panel> {
    let across = fault.place.across;
    let section = local.whole(across);
    let furthest = section.iter().fold(0.0, |least: f64, p| least.min(p.x));
    let (low, high) = section
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), p| {
            (low.min(p.y), high.max(p.y))
        });
    let mut items = vec![
        Item::Line(
            Part::Limit,
            vec![Point2::new(0.0, low), Point2::new(0.0, high)],
        ),
        Item::Line(Part::Section, section.clone()),
    ];
    items.extend(
        beyond(&section)
            .into_iter()
            .map(|run| Item::Line(Part::Fault, run)),
    );
    let middle = Point2::new(0.0, f64::midpoint(low, high));
    items.push(Item::Label(Part::Limit, middle, "axis".to_owned()));
    items.push(Item::Mark(fault.place.point));
    let whose = if local.alone {
        "The profile".to_owned()
    } else {
        format!("The section at {} across", fraction(across))
    };
    let text = if furthest < 0.0 {
        format!(
            "It reaches {} past the axis: turned round it, the skin would pass through itself there.",
            millimetres(-furthest)
        )
    } else {
        "It comes to the axis itself: turned round it, the skin would shrink to a point there."
            .to_owned()
    };
    let runs = beyond(&section);
    let mut panels = vec![Panel::around(whose, text, items)];
    panels.extend(enlarged(&runs, fault));
    panels
}

/// What lies beyond the axis, from near.
fn enlarged(runs: &[Vec<Point2<f64>>], fault: &Fault) -> Option<Panel> {
    let points = || runs.iter().flatten();
    let (low, high) = points().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), p| {
        (low.min(p.y), high.max(p.y))
    });
    let furthest = points().fold(0.0, |least: f64, p| least.min(p.x));
    if furthest == 0.0 {
        return None;
    }
    let reach = (high - low).max(-furthest);
    let axis = [low - 0.3 * reach, high + 0.3 * reach].map(|y| Point2::new(0.0, y));
    let mut items = vec![Item::Line(Part::Limit, axis.to_vec())];
    items.extend(runs.iter().map(|run| Item::Line(Part::Fault, run.clone())));
    items.push(Item::Mark(fault.place.point));
    let text = "Only this part lies beyond the axis, which is the broken line.".to_owned();
    Some(Panel::around("What lies beyond it".to_owned(), text, items))
}

/// The runs of the section that lie beyond the axis, from axis to axis.
fn beyond(section: &[Point2<f64>]) -> Vec<Vec<Point2<f64>>> {
    let mut runs: Vec<Vec<Point2<f64>>> = Vec::new();
    let mut run = Vec::new();
    let on_axis = |p: Point2<f64>, q: Point2<f64>| p + (q - p) * (p.x / (p.x - q.x));
    for (index, &point) in section.iter().enumerate() {
        let before = index.checked_sub(1).map(|before| section[before]);
        match (before, point.x <= 0.0) {
            (Some(before), true) if 0.0 < before.x => run.push(on_axis(before, point)),
            (Some(before), false) if before.x <= 0.0 => {
                run.push(on_axis(before, point));
                runs.push(std::mem::take(&mut run));
            }
            _ => {}
        }
        if point.x <= 0.0 {
            run.push(point);
        }
    }
    runs.push(run);
    runs.retain(|run| 1 < run.len());
    runs
}
