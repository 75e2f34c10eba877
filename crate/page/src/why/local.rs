//! The pair near one place: stretches of its sections, their directions, and
//! how large all of it is.

use super::panel::{Item, Part};
use crate::board::Board;
use loftkin_kernel::curve::Curve;
use loftkin_kernel::grid::STEPS_PER_MM;
use loftkin_kernel::loft::Loft;
use nalgebra::{Point2, Vector2};

/// Chords of a stretch.
const STEPS: usize = 72;
/// Chords of a whole section.
const WHOLE_STEPS: usize = 240;

/// The chosen pair, or one profile as a pair with itself.
pub struct Local<'a> {
    /// The two curves.
    pub curves: [&'a Curve; 2],
    /// Whether it is one profile.
    pub alone: bool,
    loft: Loft<'a>,
}

impl<'a> Local<'a> {
    /// Of the pair chosen on `board`, if it can be drawn.
    pub fn of(board: &'a Board) -> Option<Self> {
        let (first, second) = board.pair()?;
        let curves = [
            board.document().curve(first)?,
            board.document().curve(second)?,
        ];
        Some(Self {
            curves,
            alone: first == second,
            loft: Loft::new(curves[0], curves[1]),
        })
    }

    /// `along` brought back onto the profile: round and round on a closed one,
    /// kept at the ends of an open one.
    pub fn wrapped(&self, along: f64) -> f64 {
        if self.curves[0].is_closed() {
            along.rem_euclid(1.0)
        } else {
            along.clamp(0.0, 1.0)
        }
    }

    /// The point of the section at `across`, in mm.
    pub fn point(&self, along: f64, across: f64) -> Point2<f64> {
        self.loft.point(self.wrapped(along), across)
    }

    /// The section at `across` from `along` - `half` to `along` + `half`.
    pub fn stretch(&self, along: f64, half: f64, across: f64) -> Vec<Point2<f64>> {
        let at = |step: usize| along + half * (2.0 * step as f64 / STEPS as f64 - 1.0);
        let mut points: Vec<_> = (0..=STEPS).map(|i| self.point(at(i), across)).collect();
        points.dedup_by(|one, other| (*one - *other).norm() < 1e-12);
        points
    }

    /// The whole section at `across`.
    pub fn whole(&self, across: f64) -> Vec<Point2<f64>> {
        self.loft.section(across, WHOLE_STEPS)
    }

    /// The slopes of both profiles at `along`, in mm for the whole way.
    pub fn slopes(&self, along: f64) -> [Vector2<f64>; 2] {
        let along = self.wrapped(along);
        self.curves.map(|curve| curve.slope(along) / STEPS_PER_MM)
    }

    /// The slope of the section.
    pub fn slope(&self, along: f64, across: f64) -> Vector2<f64> {
        let [a, b] = self.slopes(along);
        a + (b - a) * across
    }

    /// The turn in degrees from the first profile's direction to the second's.
    pub fn turn(&self, along: f64) -> f64 {
        let [a, b] = self.slopes(along);
        a.perp(&b).atan2(a.dot(&b)).to_degrees()
    }

    /// How far `one` and `other` lie apart along, the short way round.
    pub fn apart(&self, one: f64, other: f64) -> f64 {
        let apart = (one - other).abs();
        if self.curves[0].is_closed() {
            apart.min(1.0 - apart)
        } else {
            apart
        }
    }

    /// The larger side of both profiles together, in mm.
    pub fn size(&self) -> f64 {
        let ends = [self.whole(0.0), self.whole(1.0)];
        let mut points = ends.iter().flatten();
        let first = points.next().copied().unwrap_or(Point2::origin());
        let (low, high) = points.fold((first, first), |(low, high), p| (low.inf(p), high.sup(p)));
        (high - low).amax().max(1e-6)
    }

    /// A stretch as a line with two arrows on it that tell its direction.
    pub fn directed(&self, part: Part, (along, half): (f64, f64), across: f64) -> Vec<Item> {
        let points = self.stretch(along, half, across);
        let arrow = |at: f64| {
            let from = self.point(at - 0.02 * half, across);
            Item::Arrow(part, from, self.point(at + 0.02 * half, across))
        };
        vec![
            Item::Line(part, points),
            arrow(along - 0.6 * half),
            arrow(along + 0.6 * half),
        ]
    }
}

/// How far `points` reach from `middle`, in mm.
pub fn reach(points: &[Point2<f64>], middle: Point2<f64>) -> f64 {
    points
        .iter()
        .fold(1e-6, |most: f64, point| most.max((point - middle).amax()))
}
