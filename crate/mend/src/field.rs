//! A pair seen at a lattice of places (u, w): where it is not clear enough, and
//! what would help.
//!
//! The lattice is for choosing rows only; what it misses, the proof finds, and
//! the place of its witness is looked at too.

use crate::alone::guided;
use crate::along::Along;
use crate::clearance::{Clearance, along, angle, clearance, clearance_value};
use crate::places::{Kink, places};
use crate::response::{Response, bend, length, parameter, point, slope};
use crate::unwrap::{Turns, unwrapped};
use loftkin_kernel::curve::Curve;
use nalgebra::{Point2, Vector2};
use std::cell::OnceCell;
use std::f64::consts::TAU;

/// What a curve is and does at one place along.
struct Local {
    point: Point2<f64>,
    /// The slope in steps of a sixth of the span: F over its rate.
    lean: Vector2<f64>,
    /// Spans from the start.
    run: f64,
    /// Derivatives of point and lean by each knob of the first and the second curve.
    answers: OnceCell<[Vec<[Vector2<f64>; 2]>; 2]>,
}

/// A pair at its places.
pub struct Field<'a> {
    responses: [&'a Response; 2],
    /// The places, in order.
    pub along: Vec<Along>,
    /// The kinks among them.
    pub kinks: Vec<Kink>,
    locals: [Vec<Local>; 2],
    /// Spans of each curve, if closed.
    round: Option<[f64; 2]>,
    /// Sheets by row, when the angle had to be unwrapped.
    sheets: Option<Vec<i8>>,
    /// Directions by row, for one curve with itself: the way its chords should
    /// go.
    towards: Option<Vec<Vector2<f64>>>,
}

impl<'a> Field<'a> {
    /// The field of two curves, seen at the parameters `extra` too.
    pub fn new(responses: [&'a Response; 2], extra: &[f64], turns: Turns) -> Self {
        let curves = responses.map(|response| &response.curve);
        let (along, kinks) = places(curves, extra);
        let locals = [0, 1].map(|side| {
            let curve = curves[side];
            let local = |along: &Along| {
                let spot = along.spots[side];
                Local {
                    point: point(curve, spot),
                    lean: slope(curve, spot) * (length(curve, spot.span) / 6.0),
                    run: spot.span as f64 + spot.t,
                    answers: OnceCell::new(),
                }
            };
            along.iter().map(local).collect()
        });
        let round = curves[0]
            .is_closed()
            .then(|| curves.map(|curve| curve.span_count() as f64));
        let mut field = Self {
            responses,
            along,
            kinks,
            locals,
            round,
            sheets: None,
            towards: None,
        };
        field.sheets = field.unwrapped(turns);
        field
    }

    /// The field of one curve with itself: clear where its chords go the way
    /// they go on `guide`, which does not meet itself; without one as they
    /// go, on a curve that does not either.
    pub fn alone(response: &'a Response, guide: Option<&Curve>, extra: &[f64]) -> Self {
        let mut field = Self::new([response; 2], extra, Turns::None);
        let chord = |i, j| field.chord(0, i, j);
        let guided_by = |i: usize, j: usize| {
            let [u, w] = [i, j].map(|at| field.along[at].u);
            match guide {
                None => chord(i, j),
                Some(guide) if u < w => guide.point(w) - guide.point(u),
                Some(guide) => guide.slope(u),
            }
        };
        let towards = guided(field.size(), chord, guided_by);
        field.towards = Some(towards);
        field
    }

    /// How many places along there are.
    pub fn size(&self) -> usize {
        self.along.len()
    }

    /// F over its rate of both curves at places `i` <= `j`.
    pub fn chords(&self, i: usize, j: usize) -> [Vector2<f64>; 2] {
        [0, 1].map(|side| self.chord(side, i, j))
    }

    fn chord(&self, side: usize, i: usize, j: usize) -> Vector2<f64> {
        let locals = &self.locals[side];
        if i == j {
            return locals[i].lean;
        }
        (locals[j].point - locals[i].point) / self.rate(side, i, j)
    }

    /// How far the chord between two places moves when control points move by 1.
    fn rate(&self, side: usize, i: usize, j: usize) -> f64 {
        let forth = self.locals[side][j].run - self.locals[side][i].run;
        let spans = self
            .round
            .map_or(forth, |round| forth.min(round[side] - forth));
        loftkin_kernel::verdict::chord_rate(spans)
    }

    /// The place nearest to parameter `u`.
    pub fn nearest(&self, u: f64) -> usize {
        let after = self.along.partition_point(|along| along.u < u);
        let (low, high) = (after.saturating_sub(1), after.min(self.size() - 1));
        if u - self.along[low].u <= self.along[high].u - u {
            low
        } else {
            high
        }
    }

    /// What makes slopes by the parameter of the leans at two places, for each
    /// place and curve, over the greatest of the four.
    pub fn units(&self, before: usize, after: usize) -> [[f64; 2]; 2] {
        let units = [before, after].map(|at| {
            [0, 1].map(|side| {
                let span = self.along[at].spots[side].span;
                1.0 / length(&self.responses[side].curve, span)
            })
        });
        let most = units
            .iter()
            .flatten()
            .fold(0.0, |most: f64, &unit| most.max(unit));
        units.map(|place| place.map(|unit| unit / most))
    }

    /// The unwrapped sheet at `i` <= `j`.
    pub fn sheet(&self, i: usize, j: usize) -> i8 {
        let size = self.size();
        self.sheets
            .as_ref()
            .map_or(0, |sheets| sheets[i * size + j])
    }

    /// The value of the clearance at `i` <= `j`.
    pub fn clearance_value(&self, i: usize, j: usize) -> f64 {
        let [a, b] = self.chords(i, j);
        match &self.towards {
            Some(towards) => along(a, towards[i * self.size() + j]).value,
            None => clearance_value(a, b, self.sheet(i, j)),
        }
    }

    /// The clearance at `i` <= `j`.
    pub fn clearance(&self, i: usize, j: usize) -> Clearance {
        let [a, b] = self.chords(i, j);
        match &self.towards {
            Some(towards) => along(a, towards[i * self.size() + j]),
            None => clearance(a, b, self.sheet(i, j)),
        }
    }

    /// The derivative of `value`, which grows by `by` with the two chords at
    /// `i` <= `j`, by the knobs of the first and of the second curve.
    pub fn slopes(&self, i: usize, j: usize, by: [Vector2<f64>; 2]) -> [Vec<f64>; 2] {
        let mut slopes = self.responses.map(|response| vec![0.0; response.knobs()]);
        for (side, by) in by.into_iter().enumerate() {
            if by == Vector2::zeros() {
                continue;
            }
            let (start, end) = (self.answers(side, i), self.answers(side, j));
            for whose in 0..2 {
                for (knob, slope) in slopes[whose].iter_mut().enumerate() {
                    *slope += if i == j {
                        by.dot(&start[whose][knob][1])
                    } else {
                        let chord = end[whose][knob][0] - start[whose][knob][0];
                        by.dot(&chord) / self.rate(side, i, j)
                    };
                }
            }
        }
        slopes
    }

    /// How point and lean of curve `side` at place `at` answer to the knobs of
    /// both curves.
    fn answers(&self, side: usize, at: usize) -> &[Vec<[Vector2<f64>; 2]>; 2] {
        self.locals[side][at]
            .answers
            .get_or_init(|| [0, 1].map(|whose| self.answer(side, at, whose)))
    }

    fn answer(&self, side: usize, at: usize, whose: usize) -> Vec<[Vector2<f64>; 2]> {
        let Along { spots, anchor, .. } = self.along[at];
        let (spot, curve) = (spots[side], &self.responses[side].curve);
        let stretch = length(curve, spot.span) / 6.0;
        // What the point and the lean do when the place runs on by 1.
        let drift = [slope(curve, spot), bend(curve, spot) * stretch];
        let response = self.responses[whose];
        let follows =
            |leader: usize, knob: usize| response.of(knob, |curve| parameter(curve, spots[leader]));
        (0..response.knobs())
            .map(|knob| {
                // The curve's own change at its spot, and how far the spot runs
                // away from the place.
                let (mut answer, mut run) = if whose == side {
                    let own = [
                        response.of(knob, |curve| point(curve, spot).coords),
                        response.of(knob, |curve| slope(curve, spot)) * stretch,
                    ];
                    (own, -follows(side, knob))
                } else {
                    ([Vector2::zeros(); 2], 0.0)
                };
                if let Some(anchor) = anchor {
                    if anchor.own[side] {
                        run = 0.0;
                    } else if anchor.side == whose {
                        run += follows(whose, knob);
                    }
                }
                for (answer, drift) in answer.iter_mut().zip(drift) {
                    *answer += drift * run;
                }
                answer
            })
            .collect()
    }

    /// The unwrapped angle from the first curve's direction to the second's at
    /// `i` <= `j`, radians.
    pub fn angle(&self, i: usize, j: usize) -> f64 {
        let [a, b] = self.chords(i, j);
        angle(a, b, self.sheet(i, j))
    }

    /// The mean of that angle over the lattice, radians.
    pub fn mean_angle(&self) -> f64 {
        let places = (0..self.size()).flat_map(|j| (0..=j).map(move |i| (i, j)));
        let (sum, count) = places
            .filter(|(i, j)| (i + j) % 5 == 0)
            .fold((0.0, 0.0), |(sum, count), (i, j)| {
                (sum + self.angle(i, j), count + 1.0)
            });
        sum / f64::max(count, 1.0)
    }

    fn unwrapped(&self, turns: Turns) -> Option<Vec<i8>> {
        let size = self.size();
        match turns {
            Turns::None => None,
            Turns::Same(about) => {
                let sheet = libm::round((about - self.mean_angle()) / TAU) as i8;
                (sheet != 0).then(|| vec![sheet; size * size])
            }
            Turns::Followed(about) => Some(unwrapped(size, about, |i, j| self.chords(i, j))),
        }
    }
}
