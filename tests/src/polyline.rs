//! Exact truth for polylines: do two segments of a section share a point, for
//! some fraction across?
//!
//! Profiles whose nodes are all corners are polylines, and lofted node to node
//! so are their sections: vertices `(1-v) A[i] + v B[i]`. Orientations of three
//! of them are quadratics in v with whole coefficients; between two of their
//! roots nothing changes, so one exact test in whole numbers at a dyadic v
//! decides the whole interval. At the roots themselves (touches of a moment)
//! the test is in f64, with a tolerance far below what a small grid can hide.

/// A point on the grid.
pub type Vertex = (i64, i64);

/// When the sections of a polyline loft meet themselves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Meeting {
    /// Never.
    Never,
    /// They only touch: at single fractions across, or sliding along.
    Touch,
    /// Two segments cross properly over an interval of fractions across; the
    /// widest has this width.
    Crossing(f64),
}

/// Fractions across are tested at whole multiples of 2^-36: below 2^128 for
/// coordinates up to 2^20.
const FRACTION_BITS: u32 = 36;

/// Roots nearer than this are one.
const SAME_ROOT: f64 = 1e-9;

/// Whether the polyline meets itself: two segments share a point that is not
/// the end they share as neighbours. Exact.
pub fn meets_itself(points: &[Vertex], closed: bool) -> bool {
    let wide: Vec<(i128, i128)> = points
        .iter()
        .map(|&(x, y)| (i128::from(x), i128::from(y)))
        .collect();
    pairs(points.len(), closed).any(|(i, j)| meets(&wide, closed, i, j))
}

/// When the sections between two polylines of equal counts meet themselves.
pub fn meeting(first: &[Vertex], second: &[Vertex], closed: bool) -> Meeting {
    let mut widest: Option<f64> = None;
    let mut touch = false;
    for (i, j) in pairs(first.len(), closed) {
        let events = events(first, second, i, j);
        for ends in events.windows(2) {
            let middle = 0.5 * (ends[0] + ends[1]);
            let section = exact_section(first, second, middle);
            touch = touch || meets(&section, closed, i, j);
            if crosses(&section, closed, i, j) {
                widest = Some(widest.unwrap_or(0.0).max(ends[1] - ends[0]));
            }
        }
        touch = touch
            || events
                .iter()
                .any(|&v| nearly_meets(first, second, closed, (i, j), v));
    }
    let collapses = (0..segment_count(first.len(), closed)).any(|i| collapses(first, second, i));
    match (widest, touch || collapses) {
        (Some(width), _) => Meeting::Crossing(width),
        (None, true) => Meeting::Touch,
        (None, false) => Meeting::Never,
    }
}

/// Whether segment i shrinks to a point at some v: its two coordinates vanish
/// together, that is, its ends run against each other in proportion. Exact.
fn collapses(first: &[Vertex], second: &[Vertex], i: usize) -> bool {
    let next = (i + 1) % first.len();
    let along = |points: &[Vertex]| (points[next].0 - points[i].0, points[next].1 - points[i].1);
    let ((a, b), (c, d)) = (along(first), along(second));
    a * d == b * c && a * c + b * d <= 0
}

fn segment_count(points: usize, closed: bool) -> usize {
    if closed { points } else { points - 1 }
}

fn pairs(points: usize, closed: bool) -> impl Iterator<Item = (usize, usize)> {
    let count = segment_count(points, closed);
    (0..count).flat_map(move |i| (i + 1..count).map(move |j| (i, j)))
}

/// Which vertex two segments share, and the two others: none when apart.
fn shared(points: usize, closed: bool, i: usize, j: usize) -> Option<[usize; 3]> {
    let next = |k: usize| (k + 1) % points;
    if j == i + 1 {
        Some([i, j, next(j)])
    } else if closed && next(j) == i {
        Some([j, i, next(i)])
    } else {
        None
    }
}

fn exact_section(first: &[Vertex], second: &[Vertex], v: f64) -> Vec<(i128, i128)> {
    let one = 1i128 << FRACTION_BITS;
    let share = (v * one as f64) as i128;
    let blend = |a: i64, b: i64| (one - share) * i128::from(a) + share * i128::from(b);
    first
        .iter()
        .zip(second)
        .map(|(a, b)| (blend(a.0, b.0), blend(a.1, b.1)))
        .collect()
}

fn orientation(a: (i128, i128), b: (i128, i128), c: (i128, i128)) -> i128 {
    ((b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0)).signum()
}

fn ends(points: &[(i128, i128)], i: usize, j: usize) -> [(i128, i128); 4] {
    [i, i + 1, j, j + 1].map(|k| points[k % points.len()])
}

/// On which sides of the one segment the ends of the other lie, and the reverse.
fn sides([a, b, c, d]: [(i128, i128); 4]) -> [i128; 4] {
    [
        orientation(a, b, c),
        orientation(a, b, d),
        orientation(c, d, a),
        orientation(c, d, b),
    ]
}

fn opposed(sides: [i128; 4]) -> bool {
    sides[0] * sides[1] < 0 && sides[2] * sides[3] < 0
}

/// Whether the segments cross at inner points of both.
fn crosses(points: &[(i128, i128)], closed: bool, i: usize, j: usize) -> bool {
    shared(points.len(), closed, i, j).is_none() && opposed(sides(ends(points, i, j)))
}

fn meets(points: &[(i128, i128)], closed: bool, i: usize, j: usize) -> bool {
    let count = points.len();
    if let Some([a, b, c]) = shared(count, closed, i, j) {
        let (a, b, c) = (points[a], points[b], points[c]);
        let dot = (a.0 - b.0) * (c.0 - b.0) + (a.1 - b.1) * (c.1 - b.1);
        // A triangle's sides share all three vertices, but each pair only one.
        return a == b || b == c || (orientation(a, b, c) == 0 && 0 < dot);
    }
    let [a, b, c, d] = ends(points, i, j);
    let sides = sides([a, b, c, d]);
    if opposed(sides) {
        return true;
    }
    let within = |p: (i128, i128), q: (i128, i128), x: (i128, i128)| {
        p.0.min(q.0) <= x.0 && x.0 <= p.0.max(q.0) && p.1.min(q.1) <= x.1 && x.1 <= p.1.max(q.1)
    };
    (sides[0] == 0 && within(a, b, c))
        || (sides[1] == 0 && within(a, b, d))
        || (sides[2] == 0 && within(c, d, a))
        || (sides[3] == 0 && within(c, d, b))
}

/// All fractions across at which anything about segments i and j can change.
fn events(first: &[Vertex], second: &[Vertex], i: usize, j: usize) -> Vec<f64> {
    let count = first.len();
    let ends = [i, (i + 1) % count, j, (j + 1) % count];
    let mut all = vec![0.0, 1.0];
    let line = |k: usize, l: usize| {
        let at = |points: &[Vertex]| {
            (
                (points[l].0 - points[k].0) as f64,
                (points[l].1 - points[k].1) as f64,
            )
        };
        let (start, end) = (at(first), at(second));
        [(start.0, end.0 - start.0), (start.1, end.1 - start.1)]
    };
    for (k, &a) in ends.iter().enumerate() {
        for &b in &ends[k + 1..] {
            let [x, y] = line(a, b);
            roots([0.0, x.1, x.0], &mut all);
            roots([0.0, y.1, y.0], &mut all);
            for &c in ends.iter().filter(|&&c| c != a && c != b) {
                let [p, q] = line(a, c);
                roots(
                    [
                        x.1 * q.1 - y.1 * p.1,
                        x.0 * q.1 + x.1 * q.0 - y.0 * p.1 - y.1 * p.0,
                        x.0 * q.0 - y.0 * p.0,
                    ],
                    &mut all,
                );
                roots(
                    [
                        x.1 * p.1 + y.1 * q.1,
                        x.0 * p.1 + x.1 * p.0 + y.0 * q.1 + y.1 * q.0,
                        x.0 * p.0 + y.0 * q.0,
                    ],
                    &mut all,
                );
            }
        }
    }
    all.sort_by(f64::total_cmp);
    all.dedup_by(|later, earlier| *later - *earlier < SAME_ROOT);
    all
}

/// The roots in \[0, 1\] of `a v^2 + b v + c`, whole coefficients.
fn roots([a, b, c]: [f64; 3], all: &mut Vec<f64>) {
    let found = if a == 0.0 {
        if b == 0.0 { return } else { [-c / b; 2] }
    } else {
        let discriminant = b * b - 4.0 * a * c;
        if discriminant < 0.0 {
            return;
        }
        let sum = -0.5 * (b + discriminant.sqrt().copysign(b));
        [sum / a, if sum == 0.0 { 0.0 } else { c / sum }]
    };
    all.extend(found.into_iter().filter(|v| (0.0..=1.0).contains(v)));
}

/// Whether the two segments come within a billionth of a step at `v`.
fn nearly_meets(
    first: &[Vertex],
    second: &[Vertex],
    closed: bool,
    (i, j): (usize, usize),
    v: f64,
) -> bool {
    let count = first.len();
    let at = |k: usize| {
        let (a, b) = (first[k % count], second[k % count]);
        [
            a.0 as f64 * (1.0 - v) + b.0 as f64 * v,
            a.1 as f64 * (1.0 - v) + b.1 as f64 * v,
        ]
    };
    let tolerance = 1e-7;
    if let Some([a, b, c]) = shared(count, closed, i, j) {
        let (a, b, c) = (at(a), at(b), at(c));
        let (p, q) = ([a[0] - b[0], a[1] - b[1]], [c[0] - b[0], c[1] - b[1]]);
        let (cross, dot) = (p[0] * q[1] - p[1] * q[0], p[0] * q[0] + p[1] * q[1]);
        let lengths = (p[0].hypot(p[1]), q[0].hypot(q[1]));
        return lengths.0 < tolerance
            || lengths.1 < tolerance
            || (0.0 < dot && cross.abs() < tolerance * lengths.0 * lengths.1);
    }
    let (a, b, c, d) = (at(i), at(i + 1), at(j), at(j + 1));
    [
        distance(c, a, b),
        distance(d, a, b),
        distance(a, c, d),
        distance(b, c, d),
    ]
    .iter()
    .any(|&gap| gap < tolerance)
}

/// From a point to a segment.
fn distance(x: [f64; 2], a: [f64; 2], b: [f64; 2]) -> f64 {
    let (along, off) = ([b[0] - a[0], b[1] - a[1]], [x[0] - a[0], x[1] - a[1]]);
    let square = along[0] * along[0] + along[1] * along[1];
    let share = if 0.0 < square {
        ((off[0] * along[0] + off[1] * along[1]) / square).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (off[0] - along[0] * share).hypot(off[1] - along[1] * share)
}

#[cfg(test)]
mod tests {
    use super::*;

    const SQUARE: [Vertex; 4] = [(0, 0), (6, 0), (6, 6), (0, 6)];

    #[test]
    fn spikes_touches_and_bows_meet_themselves() {
        assert!(!meets_itself(&SQUARE, true));
        assert!(meets_itself(&[(0, 0), (6, 6), (6, 0), (0, 6)], true));
        assert!(meets_itself(&[(0, 0), (6, 0), (3, 0)], false));
        assert!(meets_itself(&[(0, 0), (6, 0), (6, 3), (3, 0)], false));
        assert!(!meets_itself(&[(0, 0), (3, 0), (6, 0)], false));
    }

    #[test]
    fn a_half_turn_meets_for_a_moment_and_a_mirror_for_longer() {
        let turned: Vec<Vertex> = SQUARE.iter().map(|&(x, y)| (6 - x, 6 - y)).collect();
        assert_eq!(meeting(&SQUARE, &turned, true), Meeting::Touch);
        let quarter: Vec<Vertex> = (0..4).map(|i| SQUARE[(i + 1) % 4]).collect();
        assert_eq!(meeting(&SQUARE, &quarter, true), Meeting::Never);
        // One vertex of a strip pushed through the other side: from v = 1/2 on.
        let strip = [(0, 0), (3, 0), (6, 0), (6, 2), (3, 2), (0, 2)];
        let mut pushed = strip;
        pushed[1] = (3, 4);
        let Meeting::Crossing(width) = meeting(&strip, &pushed, true) else {
            panic!("the strip is pushed through itself")
        };
        assert!((width - 0.5).abs() < 1e-9, "{width}");
    }
}
