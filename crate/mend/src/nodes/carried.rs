//! How far control points go when nodes do, by node pace.
//!
//! There joints keep their parameters, so moved nodes move control points and
//! nothing else, and the margin of the surface holds for the nodes too, over how
//! much farther a control point goes than any node. Exact paths and straight
//! spans have points of the drawing and blends of them: no farther at all.
//!
//! For a spline let nodes move by e at most, over chords h > 2 e. A chord's
//! length changes by 2 e at most; its direction, a unit vector s, by
//! x = 2 e / (h - e) (Dunkl and Williams, A simple norm inequality, 1964: unit
//! vectors of a and b differ by at most 2 |a - b| / (|a| + |b|)); the weight
//! b = h_out / (h_in + h_out) of a row by y = 2 e / (h_in + h_out). The row of a
//! node in the spline's equations, with its slope m and those beside it,
//! b m₋ + 2 m + (1-b) m₊ = 3 (b s_in + (1-b) s_out), less the same row before,
//! bounds what it asks of the change of slopes:
//!
//! rho = 3 ((b + y) x_in + (1 - b + y) x_out) + y |3 (s_in - s_out) - m₋ + m₊|.
//!
//! The diagonal, 2, outweighs the neighbours, 1: no slope changes by more than
//! the largest rho, and sweeps through the rows make that closer. A handle
//! P + m h / 3 then goes e + (mu (h + 2 e) + |m| 2 e) / 3 at most.

use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::{Node, Outline, PathSpan, Profile};
use nalgebra::{Point2, Vector2};

/// Sweeps that make the bound of the slopes closer; each halves what it may
/// still gain.
const SWEEPS: usize = 24;
/// Roundings of f64, and of the solve by sweeps, are far below this share.
const ROUNDING: f64 = 1e-9;

/// How far any control point of `profile` goes at most when every node, joint
/// and handle goes by `e` at most, grid steps; none where nothing is known.
pub fn carried(profile: &Profile, e: f64) -> Option<f64> {
    let most = match &profile.outline {
        Outline::Nodes(nodes) => through_nodes(profile, nodes, e)?,
        Outline::Path { start, spans } => {
            let mut from = *start;
            for span in spans {
                // A handle on its joint is opened towards another point.
                if let PathSpan::Cubic { first, second, to } = span
                    && (*first == from || second == to)
                {
                    return None;
                }
                from = span.to();
            }
            e
        }
    };
    Some(most * (1.0 + ROUNDING))
}

/// The greatest e up to `room` by which all nodes of `profiles` may move with no
/// control point going farther than `room`, grid steps; none where no bound is
/// known.
pub fn room_of_nodes(profiles: &[Profile], room: f64) -> Option<f64> {
    let holds = |e: f64| {
        let mut bounds = profiles.iter().map(|profile| carried(profile, e));
        bounds.all(|bound| bound.is_some_and(|bound| bound <= room))
    };
    let (mut low, mut high) = (0.0, room);
    for _ in 0..50 {
        let middle = f64::midpoint(low, high);
        if holds(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    (0.0 < low).then_some(low)
}

fn through_nodes(profile: &Profile, nodes: &[Node], e: f64) -> Option<f64> {
    let curve = Curve::new(profile, Pacing::Node).ok()?;
    let (count, spans) = (nodes.len(), curve.span_count());
    let is_cut = |joint: usize| {
        nodes[joint % count].corner || (!profile.closed && (joint == 0 || joint == spans))
    };
    let mut most = e;
    let Some(first) = (0..count).find(|&joint| is_cut(joint)) else {
        return Chain::new(&curve, 0, spans, true).carried(e);
    };
    let mut from = first;
    while from < first + spans {
        let to = (from + 1..=first + spans).find(|&joint| is_cut(joint))?;
        most = most.max(Chain::new(&curve, from, to - from, false).carried(e)?);
        from = to;
    }
    Some(most)
}

/// A row of spans that one spline goes through.
struct Chain {
    /// Chords, one for each span.
    chords: Vec<Vector2<f64>>,
    /// Slopes by chord length, one for each node.
    slopes: Vec<Vector2<f64>>,
    round: bool,
}

impl Chain {
    fn new(curve: &Curve, from: usize, length: usize, round: bool) -> Self {
        let spans: Vec<[Point2<f64>; 4]> = (from..from + length)
            .map(|span| curve.span(span % curve.span_count()))
            .collect();
        let chords: Vec<Vector2<f64>> = spans.iter().map(|[a, _, _, d]| d - a).collect();
        let thirds = |at: usize| 3.0 / chords[at].norm();
        let mut slopes: Vec<Vector2<f64>> = (0..length)
            .map(|at| (spans[at][1] - spans[at][0]) * thirds(at))
            .collect();
        if !round {
            let last = length - 1;
            slopes.push((spans[last][3] - spans[last][2]) * thirds(last));
        }
        Self {
            chords,
            slopes,
            round,
        }
    }

    /// How far its handles go when nodes go by `e`.
    fn carried(&self, e: f64) -> Option<f64> {
        if self.chords.iter().any(|chord| chord.norm() <= 2.0 * e) {
            return None;
        }
        if self.chords.len() == 1 {
            return Some(e);
        }
        let changes = self.changes_of_slopes(e);
        let count = self.slopes.len();
        let handles = self.chords.iter().enumerate().flat_map(|(span, chord)| {
            let long = chord.norm();
            [span, (span + 1) % count].map(|node| {
                e + (changes[node] * (long + 2.0 * e) + self.slopes[node].norm() * 2.0 * e) / 3.0
            })
        });
        Some(handles.fold(e, f64::max))
    }

    /// How far each slope changes at most.
    fn changes_of_slopes(&self, e: f64) -> Vec<f64> {
        let count = self.slopes.len();
        let rows: Vec<Row> = (0..count).map(|node| self.row(node, e)).collect();
        let largest = rows.iter().fold(0.0, |most: f64, row| most.max(row.asked));
        let mut changes = vec![largest; count];
        for _ in 0..SWEEPS {
            changes = rows
                .iter()
                .zip(&changes)
                .map(|(row, before)| before.min(row.bound(&changes)))
                .collect();
        }
        changes
    }

    fn row(&self, node: usize, e: f64) -> Row {
        let count = self.slopes.len();
        let turned = |chord: &Vector2<f64>| 2.0 * e / (chord.norm() - e);
        let is_end = !self.round && (node == 0 || node + 1 == count);
        if is_end {
            let (span, beside) = if node == 0 {
                (0, 1)
            } else {
                (node - 1, node - 1)
            };
            return Row {
                asked: 3.0 * turned(&self.chords[span]),
                beside: [beside; 2],
                before: 0.5,
                sway: 0.0,
            };
        }
        let (back, on) = ((node + count - 1) % count, (node + 1) % count);
        let [arriving, leaving] = [&self.chords[back], &self.chords[node]];
        let whole = arriving.norm() + leaving.norm();
        let (before, sway) = (leaving.norm() / whole, 2.0 * e / whole);
        let pull = (arriving.normalize() - leaving.normalize()) * 3.0 - self.slopes[back]
            + self.slopes[on];
        let steep = (before + sway) * turned(arriving) + (1.0 - before + sway) * turned(leaving);
        Row {
            asked: 3.0 * steep + sway * pull.norm(),
            beside: [back, on],
            before,
            sway,
        }
    }
}

/// One row, as a bound: twice the change of a slope is what is asked and the
/// weighted changes of its neighbours.
struct Row {
    asked: f64,
    beside: [usize; 2],
    /// The weight of the neighbour before, and how far it may change.
    before: f64,
    sway: f64,
}

impl Row {
    fn bound(&self, changes: &[f64]) -> f64 {
        let [back, on] = self.beside.map(|node| changes[node]);
        let pull = self.before * back + (1.0 - self.before) * on + self.sway * (back - on).abs();
        0.5 * (self.asked + pull)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::chance::Chance;
    use loftkin_kernel::grid::GridPoint;

    fn wavy(closed: bool, corners: bool, chance: &mut Chance) -> Profile {
        let nodes = (0..9)
            .map(|k| {
                let angle = f64::from(k) * 40.0_f64.to_radians();
                let radius = 6000.0 + 1500.0 * chance.either_way();
                let at = |value: f64| libm::round(radius * value) as i32;
                Node {
                    at: GridPoint::new(at(libm::cos(angle)), at(libm::sin(angle))),
                    corner: corners && k % 3 == 0,
                }
            })
            .collect();
        if closed {
            Profile::closed(nodes)
        } else {
            Profile::open(nodes)
        }
    }

    /// Nodes go by `e` each, any way.
    fn strewn(profile: &Profile, e: f64, chance: &mut Chance) -> Profile {
        let Outline::Nodes(nodes) = &profile.outline else {
            unreachable!("drawn by nodes")
        };
        let nodes = nodes.iter().map(|node| {
            let angle = chance.either_way() * std::f64::consts::PI;
            let step = |way: f64| (e * way) as i32;
            let at = GridPoint::new(
                node.at.x + step(libm::cos(angle)),
                node.at.y + step(libm::sin(angle)),
            );
            Node { at, ..*node }
        });
        Profile {
            outline: Outline::Nodes(nodes.collect()),
            ..profile.clone()
        }
    }

    fn controls(profile: &Profile) -> Vec<Vector2<f64>> {
        let curve = Curve::new(profile, Pacing::Node).unwrap();
        let controls = curve.controls().iter();
        controls.map(|at| at.coords + curve.centre()).collect()
    }

    /// The bound against curves made anew; it is not far above them either.
    #[test]
    fn no_control_point_goes_farther_than_the_bound() {
        let mut chance = Chance::new();
        let mut nearest = 0.0_f64;
        for round in 0..600 {
            let profile = wavy(round % 2 == 0, round % 3 == 0, &mut chance);
            let e = [2.0, 40.0, 500.0][round % 3];
            let bound = carried(&profile, e).unwrap();
            let moved = controls(&strewn(&profile, e, &mut chance));
            for (from, to) in controls(&profile).iter().zip(moved) {
                let went = (to - from).norm();
                assert!(went <= bound, "{went} of {bound}");
                nearest = nearest.max(went / bound);
            }
        }
        assert!(0.25 < nearest, "{nearest}");
    }

    #[test]
    fn straight_spans_carry_no_farther_and_the_room_is_theirs() {
        let corners = |at: [(i32, i32); 4]| {
            let node = |(x, y)| Node {
                corner: true,
                ..Node::smooth(x, y)
            };
            Profile::closed(at.map(node).to_vec())
        };
        let square = corners([(0, 0), (4000, 0), (4000, 4000), (0, 4000)]);
        assert!(carried(&square, 300.0).unwrap() < 300.001);
        let room = room_of_nodes(&[square.clone(), square], 300.0).unwrap();
        assert!((299.9..=300.0).contains(&room));
    }
}
