//! Where the chosen pair is faulty: stretches of its profiles, double curves, worst places.

use super::{Ink, Item, Scene, Shape};
use loftkin_kernel::verdict::{Contact, FaultKind, Region};
use nalgebra::Point2;

/// Chords of a stretch that is shown as faulty.
const STRETCH_STEPS: usize = 48;

impl Scene<'_> {
    pub(super) fn faulty_stretches(&mut self) {
        let (Some(finding), Some((first, second))) =
            (self.board.known_finding(), self.board.pair())
        else {
            return;
        };
        let stretches: Vec<(f64, f64, f64)> = finding
            .regions
            .iter()
            .flat_map(|region| {
                let strength = strength_of(region.kind);
                let stretches = stretches_of(region).into_iter();
                stretches.map(move |(from, to)| (from, to, strength))
            })
            .collect();
        for profile in [first, second] {
            for &(from, to, strength) in &stretches {
                let Some(curve) = self.board.document().curve(profile) else {
                    continue;
                };
                let points = (0..=STRETCH_STEPS)
                    .map(|i| from + (to - from) * i as f64 / STRETCH_STEPS as f64)
                    .map(|u| self.screen(curve.point_mm(u)))
                    .collect();
                self.items.push(Item::Line {
                    ink: Ink::Fault,
                    width: 9.0,
                    dashed: false,
                    strength,
                    points,
                });
            }
        }
    }

    pub(super) fn double_curves(&mut self) {
        let Some(finding) = self.board.known_finding() else {
            return;
        };
        for region in &finding.regions {
            for curve in &region.curves {
                let points = curve.iter().map(|contact| self.screen(contact.point));
                let points = points.collect();
                self.line(Ink::Fault, 2.5, points);
            }
        }
        let places: Vec<Point2<f64>> = if finding.regions.is_empty() {
            finding
                .judgement
                .worst()
                .iter()
                .map(|fault| fault.place.point)
                .collect()
        } else {
            finding
                .regions
                .iter()
                .map(|region| region.place.point)
                .collect()
        };
        for place in places {
            self.items.push(Item::Mark {
                ink: Ink::Fault,
                fill: Ink::Ground,
                shape: Shape::Diamond,
                radius: 8.0,
                at: self.screen(place),
            });
        }
    }
}

/// How solid a stretch is painted: a passed limit is paler than a contact.
fn strength_of(kind: FaultKind) -> f64 {
    match kind {
        FaultKind::Twist | FaultKind::Crease => 0.14,
        FaultKind::Fold | FaultKind::Crossing | FaultKind::Axis => 0.34,
    }
}

/// The stretches along that a region touches: both strands of its double
/// curve, or its whole reach where it has none.
fn stretches_of(region: &Region) -> Vec<(f64, f64)> {
    if region.curves.is_empty() {
        return vec![region.along];
    }
    let contacts = || region.curves.iter().flatten();
    let reach = |pick: fn(&Contact) -> f64| {
        contacts()
            .map(pick)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), u| {
                (low.min(u), high.max(u))
            })
    };
    let (one, two) = (reach(|c| c.along), reach(|c| c.other_along));
    if one.0.max(two.0) <= one.1.min(two.1) {
        vec![(one.0.min(two.0), one.1.max(two.1))]
    } else {
        vec![one, two]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_strands_are_two_stretches_and_a_fold_is_one() {
        let contact = |along, other_along| Contact {
            along,
            other_along,
            across: 0.5,
            point: Point2::origin(),
        };
        let region = |contacts| Region {
            kind: FaultKind::Crossing,
            across: (0.4, 0.6),
            along: (0.1, 0.9),
            curves: vec![contacts],
            place: loftkin_kernel::verdict::Place {
                along: 0.2,
                other_along: 0.8,
                across: 0.5,
                point: Point2::origin(),
            },
            angle: 30.0,
        };
        let crossing = region(vec![contact(0.1, 0.9), contact(0.3, 0.7)]);
        assert_eq!(stretches_of(&crossing), [(0.1, 0.3), (0.7, 0.9)]);
        let fold = region(vec![contact(0.3, 0.7), contact(0.5, 0.5)]);
        assert_eq!(stretches_of(&fold), [(0.3, 0.7)]);
    }
}
