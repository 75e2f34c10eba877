//! What the hand holds or may take hold of: frame, grips, seam, crosshair.

use super::{Ink, Item, Scene, Shape};
use crate::board::Hand;
use loftkin_editor::grip::{Bounds, GRIPS, Grip};
use loftkin_editor::hit::{Hit, seam_mark};
use nalgebra::{Point2, Vector2};

/// Half the size of a grip, in pixels.
const GRIP: f64 = 5.0;
/// Half the size of the crosshair, in pixels.
const CROSSHAIR: f64 = 11.0;
/// About how wide the label of a box is, in pixels.
const LABEL: f64 = 215.0;

impl Scene<'_> {
    pub(super) fn hands(&mut self) {
        self.frame();
        match self.board.hand() {
            Hand::Move => self.seam(),
            Hand::Scale => self.scale_box(),
            Hand::Picture => self.picture_box(),
            Hand::Place => self.crosshair(),
            Hand::Stroke | Hand::Frame => {}
        }
    }

    fn frame(&mut self) {
        let Some([from, to]) = self.board.frame() else {
            return;
        };
        let corners = vec![
            from,
            Point2::new(to.x, from.y),
            to,
            Point2::new(from.x, to.y),
            from,
        ];
        self.items.push(Item::Area {
            ink: Ink::Chosen,
            strength: 0.12,
            points: corners.clone(),
        });
        self.dashes(Ink::Chosen, corners);
    }

    fn seam(&mut self) {
        let (Some(profile), false) = (self.board.active(), self.board.sketch().is_some()) else {
            return;
        };
        let curve = self.board.document().curve(profile);
        let Some([at, mark]) = curve.and_then(|curve| seam_mark(curve, self.board.view())) else {
            return;
        };
        let held =
            self.board.is_dragging_seam() || self.board.hover() == Some(Hit::Seam { profile });
        self.line(Ink::Active, 1.5, vec![at, mark]);
        self.items.push(Item::Mark {
            ink: Ink::Active,
            fill: if held { Ink::Chosen } else { Ink::Ground },
            shape: Shape::Pennant,
            radius: if held { 8.0 } else { 6.5 },
            at: mark,
        });
        if held {
            let beside = mark + Vector2::new(12.0, 4.0);
            self.label(Ink::Label, beside, "seam".to_owned());
        }
    }

    fn scale_box(&mut self) {
        let Some(bounds) = self.board.scale_bounds() else {
            return;
        };
        let hovered = match self.board.hover() {
            Some(Hit::Grip { grip, .. }) => Some(grip),
            _ => None,
        };
        self.grips(&bounds, hovered, "nodes");
    }

    fn picture_box(&mut self) {
        if let Some(reference) = self.board.reference() {
            self.grips(&reference.bounds(), None, "picture");
        }
    }

    /// A box with its grips, and its size below it.
    fn grips(&mut self, bounds: &Bounds, hovered: Option<Grip>, held: &str) {
        let view = *self.board.view();
        let shown = |grip| bounds.shown(&view, grip);
        let mut rim: Vec<Point2<f64>> = GRIPS[..4].iter().map(|&grip| shown(grip)).collect();
        rim.push(rim[0]);
        self.dashes(Ink::Chosen, rim);
        for grip in GRIPS {
            let under = hovered == Some(grip);
            self.items.push(Item::Mark {
                ink: Ink::Chosen,
                fill: if under { Ink::Chosen } else { Ink::Ground },
                shape: if grip.is_corner() {
                    Shape::Square
                } else {
                    Shape::Diamond
                },
                radius: if grip.is_corner() { GRIP } else { GRIP + 2.0 },
                at: shown(grip),
            });
        }
        let size = bounds.high - bounds.low;
        let window = view.size;
        let below = shown(Grip { x: 0, y: -1 }) + Vector2::new(12.0, 18.0);
        let at = Point2::new(
            below.x.min(window.x - LABEL).max(4.0),
            below.y.min(window.y - 20.0).max(14.0),
        );
        let text = format!("{held} {:.2} mm wide, {:.2} mm high", size.x, size.y);
        self.label(Ink::Label, at, text);
    }

    fn crosshair(&mut self) {
        let Some(mm) = self.board.cursor() else {
            return;
        };
        let at = self.screen(mm);
        for arm in [Vector2::new(CROSSHAIR, 0.0), Vector2::new(0.0, CROSSHAIR)] {
            self.line(Ink::Chosen, 2.0, vec![at - arm, at + arm]);
        }
        let beside = at + Vector2::new(10.0, -10.0);
        self.label(Ink::Label, beside, format!("{:.2}, {:.2} mm", mm.x, mm.y));
    }

    fn dashes(&mut self, ink: Ink, points: Vec<Point2<f64>>) {
        self.items.push(Item::Line {
            ink,
            width: 1.25,
            dashed: true,
            strength: 1.0,
            points,
        });
    }
}
