//! Two fingers on the board: they move what is seen, and zoom about their middle.

use super::Gesture;
use crate::board::Board;
use nalgebra::{Point2, Vector2};

impl Board {
    pub(super) fn other_pointer(&self, id: i32) -> Option<(i32, Point2<f64>)> {
        let (other, at) = match &self.gesture {
            Gesture::Drag(drag) => (drag.pointer, drag.from),
            Gesture::Frame { pointer, to, .. } => (*pointer, *to),
            Gesture::Picture { pointer, from, .. } => (*pointer, *from),
            Gesture::Pan { pointer, last, .. } => (*pointer, *last),
            Gesture::Stroke { pointer } => {
                let last = self.sketch.as_ref()?.stroke.last()?;
                (*pointer, self.view.to_screen(*last))
            }
            Gesture::None | Gesture::Pinch(_) => return None,
        };
        (other != id).then_some((other, at))
    }

    pub(super) fn pinch(
        &mut self,
        before: [(i32, Point2<f64>); 2],
        after: [(i32, Point2<f64>); 2],
    ) {
        let middle = |pair: [(i32, Point2<f64>); 2]| nalgebra::center(&pair[0].1, &pair[1].1);
        let spread = |pair: [(i32, Point2<f64>); 2]| (pair[1].1 - pair[0].1).norm().max(1.0);
        let moved: Vector2<f64> = middle(after) - middle(before);
        self.pan(moved.x, moved.y);
        self.zoom(Some(middle(after)), spread(after) / spread(before));
    }
}
