//! One section as a dense polyline, and where it crosses itself.
//!
//! Which two chords cross is decided by the `geo` crate (its orientation tests
//! are robust); a sweep over bounding boxes only saves work.

use super::Vector;
use super::curve::value;
use super::pair::OraclePair;
use geo::line_intersection::line_intersection;
use geo::{Coord, Line};

/// The parameters of a polyline with `chords` chords in each piece.
pub fn parameters(pair: &OraclePair, chords: usize) -> Vec<f64> {
    let mut all = Vec::with_capacity(chords * pair.piece_count() + 1);
    for index in 0..pair.piece_count() {
        all.extend((0..chords).map(|k| pair.along(index, k as f64 / chords as f64)));
    }
    all.push(1.0);
    all
}

/// The points of both curves at `chords` chords in each piece, to be blended.
pub fn points(pair: &OraclePair, chords: usize) -> Vec<(Vector, Vector)> {
    let mut all = Vec::with_capacity(chords * pair.piece_count() + 1);
    for (a, b) in pair.first.iter().zip(&pair.second) {
        all.extend((0..chords).map(|k| {
            let t = k as f64 / chords as f64;
            (value(a, t), value(b, t))
        }));
    }
    let last = pair.piece_count() - 1;
    all.push((
        value(&pair.first[last], 1.0),
        value(&pair.second[last], 1.0),
    ));
    all
}

/// The pairs of chords, not neighbours, that share a point.
pub fn crossing_chords(points: &[Vector], closed: bool, found: &mut Vec<(usize, usize)>) {
    found.clear();
    let chords = points.len() - 1;
    let mut order: Vec<(f64, usize)> = (0..chords)
        .map(|i| (points[i].x.min(points[i + 1].x), i))
        .collect();
    order.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
    for (rank, &(_, i)) in order.iter().enumerate() {
        let (a, b) = (points[i], points[i + 1]);
        let (low, high) = (a.y.min(b.y), a.y.max(b.y));
        let right = a.x.max(b.x);
        for &(left, j) in &order[rank + 1..] {
            if right < left {
                break;
            }
            let (c, d) = (points[j], points[j + 1]);
            if c.y.max(d.y) < low || high < c.y.min(d.y) {
                continue;
            }
            let apart = i.abs_diff(j);
            if apart <= 1 || (closed && apart + 1 == chords) {
                continue;
            }
            if chords_cross([a, b, c, d]) {
                found.push((i.min(j), i.max(j)));
            }
        }
    }
}

/// Whether the chord of the first two points meets that of the last two.
pub fn chords_cross([a, b, c, d]: [Vector; 4]) -> bool {
    line_intersection(line(a, b), line(c, d)).is_some()
}

fn line(a: Vector, b: Vector) -> Line<f64> {
    Line::new(Coord { x: a.x, y: a.y }, Coord { x: b.x, y: b.y })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bow_crosses_once_and_a_square_never() {
        let mut found = Vec::new();
        let square =
            [(0., 0.), (1., 0.), (1., 1.), (0., 1.), (0., 0.)].map(|(x, y)| Vector::new(x, y));
        crossing_chords(&square, true, &mut found);
        assert!(found.is_empty());
        let bow =
            [(0., 0.), (1., 1.), (1., 0.), (0., 1.), (0., 0.)].map(|(x, y)| Vector::new(x, y));
        crossing_chords(&bow, true, &mut found);
        assert_eq!(found, [(0, 2)]);
    }
}
