//! Cones of directions: the arc of angles that a set of vectors spans.
//!
//! If all hodograph vectors of a stretch, of both curves, lie in one open
//! half-plane, then so does every blend of them, the section moves strictly
//! forward along the half-plane's normal, and the stretch cannot meet itself
//! (the hodograph test; Sederberg and Meyers, Loop detection in surface patch
//! intersections, CAGD 5, 1988, 161-171, use it for surfaces).
//!
//! Angles come from a software arctangent, so they are the same bits on every
//! machine; [`bounds::ANGLE`] covers its error and that of the vectors.

use super::bounds;
use nalgebra::Vector2;
use std::f64::consts::{PI, TAU};

/// An arc of directions shorter than a half turn, or none known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cone {
    /// The first direction, radians, counter-clockwise from the x axis.
    pub from: f64,
    /// How far it sweeps counter-clockwise, radians; [`Cone::WIDE`] holds infinity.
    pub sweep: f64,
}

impl Cone {
    /// No half-plane holds it, or a vector is too short to tell.
    pub const WIDE: Self = Self {
        from: 0.0,
        sweep: f64::INFINITY,
    };

    /// The cone of the vectors of one span or a part of it; `longest` is the
    /// largest component among the vectors of the whole span.
    pub fn of(vectors: &[Vector2<f64>], longest: f64) -> Self {
        let mut cone: Option<Self> = None;
        for vector in vectors {
            let is_told = bounds::DIRECTION_SHARE * longest < vector.amax();
            if !is_told {
                return Self::WIDE;
            }
            let ray = Self {
                from: libm::atan2(vector.y, vector.x),
                sweep: 0.0,
            };
            cone = Some(cone.map_or(ray, |cone| cone.joined(ray)));
        }
        cone.unwrap_or(Self::WIDE)
    }

    /// The smallest cone that holds both, wide when no half-plane does.
    pub fn joined(self, other: Self) -> Self {
        let ahead = wrapped(other.from - self.from);
        let start = ahead.min(0.0);
        let end = self.sweep.max(ahead + other.sweep);
        let sweep = end - start;
        if sweep < PI - bounds::ANGLE {
            Self {
                from: self.from + start,
                sweep,
            }
        } else {
            Self::WIDE
        }
    }

    /// Whether all of it lies in one open half-plane.
    pub fn is_narrow(self) -> bool {
        self.sweep < PI
    }

    /// A direction that has a positive product with all vectors of a narrow cone:
    /// with few digits, unless they lie too far apart for that.
    pub fn middle(self) -> Vector2<f64> {
        let angle = self.from + self.sweep * 0.5;
        let exact = Vector2::new(libm::cos(angle), libm::sin(angle));
        // Rounding each component by half of 1 / 4096 turns it by less than this.
        const TURNED: f64 = 1.0 / 4096.0;
        if PI < self.sweep + 2.0 * TURNED + bounds::ANGLE {
            return exact;
        }
        exact.map(|value| libm::round(value * 4096.0) / 4096.0)
    }

    /// The least and greatest turn from a direction of `self` to one of
    /// `other`, radians, about the middle turn taken in (-pi, pi].
    pub fn turns_to(self, other: Self) -> (f64, f64) {
        let least = other.from - self.from - self.sweep;
        let width = self.sweep + other.sweep;
        let middle = wrapped(least + width * 0.5);
        (middle - width * 0.5, middle + width * 0.5)
    }
}

/// `angle` moved by whole turns into about (-pi, pi].
pub fn wrapped(angle: f64) -> f64 {
    let mut angle = angle;
    // A sum of three angles needs two steps at most; infinity must not loop.
    for _ in 0..3 {
        if PI < angle {
            angle -= TAU;
        } else if angle <= -PI {
            angle += TAU;
        }
    }
    angle
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn vector(angle: f64) -> Vector2<f64> {
        Vector2::new(libm::cos(angle), libm::sin(angle))
    }

    #[test]
    fn three_spread_vectors_fit_no_half_plane() {
        let spread = [vector(0.0), vector(2.2), vector(4.4)];
        assert!(!Cone::of(&spread, 1.0).is_narrow());
    }

    #[test]
    fn a_short_vector_has_no_direction() {
        let vectors = [Vector2::new(1.0, 0.0), Vector2::new(1e-9, 0.0)];
        assert_eq!(Cone::of(&vectors, 1.0), Cone::WIDE);
    }

    #[test]
    fn what_is_no_vector_has_no_direction() {
        for nothing in [0.0, f64::NAN] {
            let cone = Cone::of(&[Vector2::repeat(nothing); 3], nothing);
            assert_eq!(cone, Cone::WIDE);
        }
    }

    proptest! {
        #[test]
        fn a_narrow_cone_holds_its_vectors(start in -3.0..3.0f64, steps in prop::collection::vec(0.0..3.0f64, 1..6)) {
            let vectors: Vec<_> = steps.iter().map(|step| vector(start + step)).collect();
            let cone = Cone::of(&vectors, 1.0);
            prop_assert!(cone.is_narrow());
            let middle = vector(cone.from + cone.sweep * 0.5);
            for vector in vectors {
                prop_assert!(0.0 < middle.dot(&vector));
            }
        }

        #[test]
        fn turns_bound_the_true_turn(a in -3.0..3.0f64, b in -3.0..3.0f64, s in 0.0..1.0f64, t in 0.0..1.0f64) {
            let one = Cone { from: a, sweep: 1.0 };
            let two = Cone { from: b, sweep: 1.0 };
            let (least, greatest) = one.turns_to(two);
            let turn = b + t - a - s;
            let around = [turn - TAU, turn, turn + TAU, turn + 2.0 * TAU, turn - 2.0 * TAU];
            prop_assert!(around.iter().any(|turn| (least - 1e-9..=greatest + 1e-9).contains(turn)));
        }
    }
}
