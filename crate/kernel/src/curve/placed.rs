//! A curve scaled, turned and shifted, as it stands at a station.
//!
//! The placed curve is given by its own f64 control points, rounded once from
//! those of the drawing; a proof made of it speaks of these. A turn by whole
//! quarters and a scale by a power of two round nothing.

use super::Curve;
use crate::grid::STEPS_PER_MM;
use nalgebra::{Point2, Vector2};

/// Where a curve stands: scaled and turned about a pivot, then shifted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stand {
    /// Above 0.
    pub scale: f64,
    /// The cosine and the sine of the turn, anticlockwise.
    pub turn: (f64, f64),
    /// What stays in place under scale and turn, in mm of the drawing.
    pub pivot: Point2<f64>,
    /// In mm, after scale and turn.
    pub shift: Vector2<f64>,
}

impl Stand {
    /// As drawn.
    pub const DRAWN: Self = Self {
        scale: 1.0,
        turn: (1.0, 0.0),
        pivot: Point2::new(0.0, 0.0),
        shift: Vector2::new(0.0, 0.0),
    };

    fn rotated(&self, vector: Vector2<f64>) -> Vector2<f64> {
        let (cosine, sine) = self.turn;
        Vector2::new(
            cosine * vector.x - sine * vector.y,
            sine * vector.x + cosine * vector.y,
        )
    }
}

impl Curve {
    /// This curve placed by `stand`: parameters, joints and corners stay.
    pub fn placed(&self, stand: &Stand) -> Self {
        let pivot = stand.pivot.coords * STEPS_PER_MM;
        let map = |vector: Vector2<f64>| stand.rotated(vector) * stand.scale;
        Self {
            controls: self
                .controls
                .iter()
                .map(|point| map(point.coords).into())
                .collect(),
            centre: map(self.centre - pivot) + pivot + stand.shift * STEPS_PER_MM,
            ..self.clone()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::family::Pacing;
    use crate::profile::{Node, Profile};

    fn curve() -> Curve {
        let nodes = vec![
            Node::smooth(310, 7),
            Node::corner(40, 290),
            Node::smooth(-300, 11),
        ];
        Curve::new(&Profile::closed(nodes), Pacing::Parameter).unwrap()
    }

    #[test]
    fn as_drawn_is_the_curve_itself() {
        assert_eq!(curve().placed(&Stand::DRAWN), curve());
    }

    #[test]
    fn a_placed_point_is_the_point_placed() {
        let stand = Stand {
            scale: 1.5,
            turn: (0.6, 0.8),
            pivot: Point2::new(2.0, -1.0),
            shift: Vector2::new(10.0, 20.0),
        };
        let placed = curve().placed(&stand);
        for u in [0.0, 0.2, 0.77, 1.0] {
            let from_pivot = curve().point_mm(u) - stand.pivot;
            let expected = stand.pivot + stand.rotated(from_pivot) * 1.5 + stand.shift;
            assert!((placed.point_mm(u) - expected).norm() < 1e-12);
        }
    }

    #[test]
    fn a_quarter_turn_rounds_nothing() {
        let stand = Stand {
            turn: (0.0, 1.0),
            ..Stand::DRAWN
        };
        let (drawn, placed) = (curve(), curve().placed(&stand));
        for (from, to) in drawn.controls().iter().zip(placed.controls()) {
            assert_eq!((to.x, to.y), (-from.y, from.x));
        }
    }
}
