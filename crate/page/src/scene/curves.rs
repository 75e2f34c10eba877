//! Profiles as curves: the active one, the pair, the others, the section and the sketch.

use super::{Ink, Item, Scene, Shape};
use loftkin_editor::edit::joints;
use loftkin_editor::hit::{chords, span_point};
use loftkin_kernel::curve::Curve;
use nalgebra::{Point2, Vector2};

/// Chords of the section that is shown.
const SECTION_STEPS: usize = 160;
/// How solid the profiles are that stand back behind the active one and the pair.
const STANDING_BACK: f64 = 0.75;
/// Where the arrow of direction stands: the fraction along.
const ARROW_AT: f64 = 0.06;

impl<'a> Scene<'a> {
    pub(super) fn siblings(&mut self) {
        for index in 0..self.board.family().profiles.len() {
            if Some(index) == self.board.active() {
                continue;
            }
            let paired = self.pair_ink(index).is_some();
            let hovered = self.board.is_pointed(index);
            if !paired && !hovered && !self.board.looks().siblings {
                continue;
            }
            let (ink, width) = self.pair_ink(index).unwrap_or((Ink::Sibling, 1.25));
            let width = if hovered { width + 1.5 } else { width };
            if let Some(curve) = self.board.document().curve(index) {
                let stands_back = !paired && !hovered && !self.is_mended(index);
                let strength = if stands_back { STANDING_BACK } else { 1.0 };
                self.profile_line(index, ink, (width, strength), curve);
                let start = self.screen(curve.point_mm(0.0)) + Vector2::new(-4.0, -8.0);
                self.label(ink, start, (index + 1).to_string());
            } else {
                self.bare_nodes(index, ink);
            }
        }
    }

    pub(super) fn active(&mut self) {
        let Some(index) = self.board.active() else {
            return;
        };
        let ink = self.pair_ink(index).map_or(Ink::Active, |(ink, _)| ink);
        if let Some(curve) = self.board.document().curve(index) {
            let width = if self.board.is_pointed(index) {
                4.0
            } else {
                2.75
            };
            self.profile_line(index, ink, (width, 1.0), curve);
            self.arrow(curve, ink);
        } else {
            self.bare_nodes(index, ink);
        }
        self.nodes(index, ink);
    }

    pub(super) fn section(&mut self) {
        let Some(loft) = self.board.loft() else {
            return;
        };
        let points = loft.section(self.board.across(), SECTION_STEPS);
        let points = points.into_iter().map(|p| self.screen(p)).collect();
        self.items.push(Item::Line {
            ink: Ink::Section,
            width: 1.5,
            dashed: true,
            strength: 1.0,
            points,
        });
    }

    pub(super) fn sketch(&mut self) {
        let Some(sketch) = self.board.sketch() else {
            return;
        };
        if let Some(curve) = sketch.curve() {
            self.line(Ink::Active, 2.25, self.polyline(&curve));
        }
        if !sketch.stroke.is_empty() {
            let points = sketch.stroke.iter().map(|&p| self.screen(p)).collect();
            self.line(Ink::Active, 2.25, points);
        }
        for node in &sketch.nodes {
            let (x, y) = node.to_mm();
            self.items.push(Item::Mark {
                ink: Ink::Active,
                fill: Ink::Ground,
                shape: Shape::Round,
                radius: 5.0,
                at: self.screen(Point2::new(x, y)),
            });
        }
    }

    /// The curve of the active profile, unless it cannot be drawn.
    pub(super) fn active_curve(&self) -> Option<&'a Curve> {
        self.board.document().curve(self.board.active()?)
    }

    fn pair_ink(&self, index: usize) -> Option<(Ink, f64)> {
        let (first, second) = self.board.pair()?;
        if index == first {
            Some((Ink::First, 2.0))
        } else if index == second {
            Some((Ink::Second, 2.0))
        } else {
            None
        }
    }

    /// A profile that cannot be drawn as a curve still shows its nodes.
    fn bare_nodes(&mut self, index: usize, ink: Ink) {
        let nodes = self.board.document().profile(index).map(joints);
        let points = nodes.unwrap_or_default().into_iter().map(|node| {
            let (x, y) = node.at.to_mm();
            self.screen(Point2::new(x, y))
        });
        let points = points.collect();
        self.items.push(Item::Line {
            ink,
            width: 1.25,
            dashed: true,
            strength: 1.0,
            points,
        });
    }

    /// A profile of some width and strength: dashed while a mend of it is on
    /// trial.
    fn profile_line(
        &mut self,
        index: usize,
        ink: Ink,
        (width, strength): (f64, f64),
        curve: &Curve,
    ) {
        self.items.push(Item::Line {
            ink,
            width,
            dashed: self.is_mended(index),
            strength,
            points: self.polyline(curve),
        });
    }

    pub(super) fn polyline(&self, curve: &Curve) -> Vec<Point2<f64>> {
        let mut points = vec![self.screen(curve.point_mm(0.0))];
        for span in 0..curve.span_count() {
            let chords = chords(curve, self.board.view(), span);
            for step in 1..=chords {
                let t = step as f64 / chords as f64;
                points.push(self.screen(span_point(curve, span, t)));
            }
        }
        points
    }

    fn arrow(&mut self, curve: &Curve, ink: Ink) {
        let slope = curve.slope(ARROW_AT);
        let direction = Vector2::new(slope.x, -slope.y);
        let length = direction.norm();
        if length <= 0.0 {
            return;
        }
        let forward = direction / length;
        let sideways = Vector2::new(-forward.y, forward.x);
        let tip = self.screen(curve.point_mm(ARROW_AT)) + forward * 5.0;
        let back = tip - forward * 10.0;
        self.line(
            ink,
            2.75,
            vec![back + sideways * 6.0, tip, back - sideways * 6.0],
        );
    }
}
