//! A pair seen at a lattice of places (u, w): where it is not clear enough, and
//! what would help.
//!
//! The lattice is for choosing rows only; what it misses, the proof finds, and
//! the place of its witness is looked at too.

use crate::clearance::{Clearance, clearance};
use crate::response::{Response, Spot, bend, length, parameter, point, slope};
use crate::unwrap::unwrapped;
use nalgebra::{Point2, Vector2};
use std::cell::OnceCell;

/// About how many places along a pair is seen at.
const PLACES: usize = 96;
/// The most places in one piece between neighbouring joints.
const MOST_IN_PIECE: usize = 6;
/// How far from a kink the places beside it stand, as a share of the shorter
/// span there: it is the limit from that side that matters.
const BESIDE: f64 = 1e-4;
/// Places closer than this count as one.
const APART: f64 = 1e-9;
/// Slopes that differ by this share make a joint a kink.
const KINK: f64 = 1e-3;

/// A place along, on both curves.
#[derive(Clone, Copy, Debug)]
pub struct Along {
    /// The parameter.
    pub u: f64,
    /// Where that is on each curve.
    spots: [Spot; 2],
    /// Set beside a kink: it moves with this joint of this curve.
    anchor: Option<Anchor>,
}

#[derive(Clone, Copy, Debug)]
struct Anchor {
    side: usize,
    /// Whether each curve has a joint of its own there.
    own: [bool; 2],
}

/// A joint at which a section may break: the places just before and after it.
#[derive(Clone, Copy, Debug)]
pub struct Kink {
    /// Place before.
    pub before: usize,
    /// Place after.
    pub after: usize,
    /// Whether one of the curves has a corner there.
    pub corner: bool,
}

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
}

impl<'a> Field<'a> {
    /// The field of two curves, seen at the parameters `extra` too; `unwrap`
    /// when the pair is not known to be free.
    pub fn new(responses: [&'a Response; 2], extra: &[f64], unwrap: bool) -> Self {
        let curves = responses.map(|response| &response.curve);
        let (along, kinks) = places(responses, extra);
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
        };
        if unwrap {
            field.sheets = Some(field.unwrapped());
        }
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

    /// The clearance at `i` <= `j`.
    pub fn clearance(&self, i: usize, j: usize) -> Clearance {
        let [a, b] = self.chords(i, j);
        clearance(a, b, self.sheet(i, j))
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

    fn unwrapped(&self) -> Vec<i8> {
        unwrapped(self.size(), |i, j| self.chords(i, j))
    }
}

/// The places of a pair: some in each piece, the ends of open curves, and two
/// beside every kink.
fn places(responses: [&Response; 2], extra: &[f64]) -> (Vec<Along>, Vec<Kink>) {
    let curves = responses.map(|response| &response.curve);
    let located = |u: f64| {
        curves.map(|curve| {
            let (span, t) = curve.locate(u);
            Spot { span, t }
        })
    };
    let mut joints: Vec<f64> = curves
        .iter()
        .flat_map(|curve| curve.breaks())
        .copied()
        .collect();
    joints.sort_by(f64::total_cmp);
    joints.dedup();
    let each = (PLACES / joints.len().max(1)).clamp(1, MOST_IN_PIECE);
    let mut along: Vec<Along> = Vec::new();
    let mut plain = |u: f64| {
        along.push(Along {
            u,
            spots: located(u),
            anchor: None,
        });
    };
    let closed = curves[0].is_closed();
    if !closed {
        plain(0.0);
        plain(1.0);
    }
    for ends in joints.windows(2) {
        let length = ends[1] - ends[0];
        let each = if length * (PLACES as f64) < 0.25 {
            1
        } else {
            each
        };
        for k in 0..each {
            plain(ends[0] + length * (k as f64 + 0.5) / each as f64);
        }
    }
    for &u in extra {
        plain(u);
    }
    for u in most_twisted(curves) {
        plain(u);
    }
    refine(&mut along, curves, &located);
    let mut kinks = Vec::new();
    for side in 0..2 {
        let curve = curves[side];
        for joint in 0..=curve.span_count() {
            let seam = joint == 0 || joint == curve.span_count();
            // The seam once, by its start; the ends of an open curve not at all.
            if (seam && !closed) || joint == curve.span_count() {
                continue;
            }
            let last = curve.span_count() - 1;
            let (before, after) = (if seam { last } else { joint - 1 }, joint);
            let spots = [
                Spot {
                    span: before,
                    t: 1.0,
                },
                Spot {
                    span: after,
                    t: 0.0,
                },
            ];
            let slopes = spots.map(|spot| slope(curve, spot));
            if (slopes[1] - slopes[0]).norm() <= KINK * slopes[0].norm().max(slopes[1].norm()) {
                continue;
            }
            let at = curve.breaks()[joint];
            let shorter = length(curve, before).min(length(curve, after));
            let beside = BESIDE * shorter;
            let other = curves[1 - side];
            let shared = other
                .breaks()
                .iter()
                .position(|&its| (its - at).abs() < beside);
            // A joint of both is seen from the first curve.
            if side == 1 && shared.is_some_and(|its| is_kink(other, its, closed)) {
                continue;
            }
            let mut own = [false; 2];
            own[side] = true;
            own[1 - side] = shared.is_some();
            let anchor = Some(Anchor { side, own });
            let ends = [at - beside, at + beside].map(|u| if u < 0.0 { 1.0 + u } else { u });
            let mut pair = ends.map(|u| Along {
                u,
                spots: located(u),
                anchor,
            });
            pair[0].spots[side] = Spot {
                span: before,
                t: 1.0 - beside / length(curve, before),
            };
            pair[1].spots[side] = Spot {
                span: after,
                t: beside / length(curve, after),
            };
            let corner = curve.is_corner(joint) || shared.is_some_and(|its| other.is_corner(its));
            kinks.push((pair[0].u, pair[1].u, corner));
            along.extend(pair);
        }
    }
    along.sort_by(|one, other| one.u.total_cmp(&other.u));
    // Of places that coincide one is kept, and rather one beside a kink.
    along.dedup_by(|later, earlier| {
        let same = later.u - earlier.u < APART;
        if same && later.anchor.is_some() {
            *earlier = *later;
        }
        same
    });
    let index = |u: f64| along.partition_point(|place| place.u < u);
    let kinks = kinks
        .into_iter()
        .map(|(before, after, corner)| Kink {
            before: index(before),
            after: index(after),
            corner,
        })
        .collect();
    (along, kinks)
}

/// Puts places in between where a curve turns sharply from one to the next:
/// which way round it turns must not be left to luck.
fn refine(
    along: &mut Vec<Along>,
    curves: [&loftkin_kernel::curve::Curve; 2],
    located: &dyn Fn(f64) -> [Spot; 2],
) {
    // The cosine of the sharpest turn that is left alone, about 53 degrees.
    const SHARP: f64 = 0.6;
    const MOST_REFINED: usize = 48;
    along.sort_by(|one, other| one.u.total_cmp(&other.u));
    let turns = |one: &Along, other: &Along| {
        (0..2).any(|side| {
            let [a, b] = [one, other].map(|place| slope(curves[side], place.spots[side]));
            a.dot(&b) < SHARP * a.norm() * b.norm()
        })
    };
    let mut at = 0;
    let mut added = 0;
    while at + 1 < along.len() && added < MOST_REFINED {
        let (one, other) = (&along[at], &along[at + 1]);
        let u = f64::midpoint(one.u, other.u);
        // A turn that halving does not spread out is a corner.
        if 1e-4 < other.u - one.u && turns(one, other) {
            let spots = located(u);
            along.insert(
                at + 1,
                Along {
                    u,
                    spots,
                    anchor: None,
                },
            );
            added += 1;
        } else {
            at += 1;
        }
    }
}

/// Where the twist has its extremes: at these the lattice is not left to luck.
fn most_twisted(curves: [&loftkin_kernel::curve::Curve; 2]) -> Vec<f64> {
    const STEPS: usize = 256;
    let twist = |u: f64| {
        let [a, b] = curves.map(|curve| curve.slope(u));
        libm::atan2(a.perp(&b), a.dot(&b)).abs()
    };
    let values: Vec<f64> = (0..=STEPS)
        .map(|k| twist(k as f64 / STEPS as f64))
        .collect();
    let mut extremes = Vec::new();
    for k in 1..STEPS {
        let [before, here, after] = [values[k - 1], values[k], values[k + 1]];
        if before <= here && after < here && 1.0 < here {
            // The vertex of the parabola through the three.
            let shift = 0.5 * (before - after) / (before - 2.0 * here + after);
            extremes.push((k as f64 + shift) / STEPS as f64);
        }
    }
    extremes
}

fn is_kink(curve: &loftkin_kernel::curve::Curve, joint: usize, closed: bool) -> bool {
    let count = curve.span_count();
    let seam = joint == 0 || joint == count;
    if seam && !closed {
        return false;
    }
    let (before, after) = (if seam { count } else { joint } - 1, joint % count);
    let slopes = [
        slope(
            curve,
            Spot {
                span: before,
                t: 1.0,
            },
        ),
        slope(
            curve,
            Spot {
                span: after,
                t: 0.0,
            },
        ),
    ];
    KINK * slopes[0].norm().max(slopes[1].norm()) < (slopes[1] - slopes[0]).norm()
}
