//! A reference picture under the curves: its place, size and strength.
//!
//! It helps the hand and is no part of the document: it goes into no link, no
//! file and no step of the history. The picture itself stays in the page.

use super::{Board, BoardError, Changes, Hand};
use loftkin_editor::grip::{Bounds, Grip};
use nalgebra::{Point2, Vector2};

/// How much of the window a new picture fills.
const FILLED: f64 = 0.8;
/// How strong a new picture is.
const STRENGTH: f64 = 0.5;
/// Widths in mm that a picture may have.
const WIDTHS: std::ops::RangeInclusive<f64> = 0.1..=100_000.0;

/// Where the picture stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reference {
    /// Its left lower corner, in mm.
    pub low: Point2<f64>,
    /// Its width, in mm.
    pub width: f64,
    /// Its height over its width.
    pub aspect: f64,
    /// How strong it is, from 0 (not to be seen) to 1.
    pub strength: f64,
}

impl Reference {
    /// The box it fills.
    pub fn bounds(&self) -> Bounds {
        let size = Vector2::new(self.width, self.width * self.aspect);
        Bounds {
            low: self.low,
            high: self.low + size,
        }
    }

    /// The same picture after `grip` was moved to `to` (mm): its proportions stay.
    pub(super) fn pulled(&self, grip: Grip, to: Point2<f64>) -> Self {
        let stretch = self.bounds().stretch(grip, to, false, true);
        let scale = if grip.x == 0 {
            stretch.scale.y
        } else {
            stretch.scale.x
        };
        let width = (self.width * scale).clamp(*WIDTHS.start(), *WIDTHS.end());
        Self {
            low: stretch.about + (self.low - stretch.about) * (width / self.width),
            width,
            ..*self
        }
    }
}

impl Board {
    /// The reference picture, if there is one.
    pub fn reference(&self) -> Option<&Reference> {
        self.reference.as_ref()
    }

    /// Lays a picture of `width` by `height` pixels in the middle of the window.
    ///
    /// # Errors
    /// [`BoardError::Picture`] when it has no size.
    pub fn lay_reference(&mut self, width: f64, height: f64) -> Result<(), BoardError> {
        let aspect = height / width;
        if !(aspect.is_finite() && 0.0 < aspect) {
            return Err(BoardError::Picture);
        }
        let room = self.view.size * (FILLED / self.view.scale);
        let width = room.x.min(room.y / aspect);
        let middle = self.view.to_mm(self.view.middle());
        self.put_reference(Some(Reference {
            low: middle - Vector2::new(width, width * aspect) / 2.0,
            width,
            aspect,
            strength: STRENGTH,
        }));
        Ok(())
    }

    /// Puts the picture's left lower corner at `x`, `y` mm, makes it `width` mm
    /// wide and `strength` (0 to 1) strong.
    ///
    /// # Errors
    /// [`BoardError::Picture`] when a figure is out of range.
    pub fn place_reference(
        &mut self,
        (x, y): (f64, f64),
        width: f64,
        strength: f64,
    ) -> Result<(), BoardError> {
        let Some(reference) = self.reference else {
            return Ok(());
        };
        let far = *WIDTHS.end();
        if !(WIDTHS.contains(&width) && x.abs() <= far && y.abs() <= far && strength.is_finite()) {
            return Err(BoardError::Picture);
        }
        self.put_reference(Some(Reference {
            low: Point2::new(x, y),
            width,
            strength: strength.clamp(0.0, 1.0),
            ..reference
        }));
        Ok(())
    }

    /// Takes the picture away.
    pub fn remove_reference(&mut self) {
        self.put_reference(None);
        if self.hand == Hand::Picture {
            self.set_hand(Hand::Move);
        }
    }

    pub(super) fn put_reference(&mut self, reference: Option<Reference>) {
        self.reference = reference;
        self.changed(Changes(Changes::VIEW.0 | Changes::SELECTION.0));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PICTURE: Reference = Reference {
        low: Point2::new(10.0, 20.0),
        width: 40.0,
        aspect: 0.5,
        strength: 0.5,
    };

    #[test]
    fn a_pulled_picture_keeps_its_proportions_and_the_opposite_end() {
        let corner = Grip { x: 1, y: 1 };
        let pulled = PICTURE.pulled(corner, Point2::new(90.0, 60.0));
        assert_eq!((pulled.low, pulled.width), (PICTURE.low, 80.0));
        let left = Grip { x: -1, y: 0 };
        let pulled = PICTURE.pulled(left, Point2::new(30.0, 0.0));
        assert_eq!((pulled.low.x, pulled.width), (30.0, 20.0));
        let top = Grip { x: 0, y: 1 };
        let pulled = PICTURE.pulled(top, Point2::new(0.0, 60.0));
        assert_eq!((pulled.low.y, pulled.width), (20.0, 80.0));
    }
}
