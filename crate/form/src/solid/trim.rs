//! Where a formed sheet is trimmed: the edges of the skin in plan, seen along z.
//!
//! Edges along the outline are exact cubics; so are the edges across of a stack,
//! whose degree is 3 at most. Edges that go round an axis keep within a stated
//! tolerance (`solid::around`). Caps are no sheet: a closed outline has edges at
//! both ends of a stack, and in a ring its ends stand upright and have no plan.

use super::around::Round;
use super::net::{Net, in_space};
use nalgebra::Point2;

/// A closed path of cubic Bézier pieces, mm.
pub type Loop = Vec<[Point2<f64>; 4]>;

/// The closed edges of the skin of `net` in plan; those that go round an axis
/// within `tolerance` mm. None where the skin has no edge, or stands upright.
pub fn edges(net: &Net, tolerance: f64) -> Vec<Loop> {
    match (net.closed_along, net.closed_across()) {
        (true, _) if net.is_ring() => Vec::new(),
        (true, _) => vec![along(net, 0), along(net, 1)],
        (false, true) => vec![across(net, 0, tolerance), across(net, 1, tolerance)],
        (false, false) => {
            let mut path = along(net, 0);
            path.extend(across(net, 1, tolerance));
            path.extend(reversed(along(net, 1)));
            path.extend(reversed(across(net, 0, tolerance)));
            vec![path]
        }
    }
}

/// The outline at the first station (`end` 0) or the last (`end` 1).
fn along(net: &Net, end: usize) -> Loop {
    let (chain, place) = net.end_sections()[end];
    let flat = |section: &Point2<f64>| in_space(net.setting, *section, place).xy();
    (0..net.spans())
        .map(|span| [0, 1, 2, 3].map(|i| flat(&chain[3 * span + i])))
        .collect()
}

/// The edge at the start of the outline (`end` 0) or its end (`end` 1).
fn across(net: &Net, end: usize, tolerance: f64) -> Loop {
    let index = end * 3 * net.spans();
    let mut path = Vec::new();
    for band in &net.bands {
        let points: Vec<Point2<f64>> = band.rows.iter().map(|row| row[index]).collect();
        if net.is_ring() {
            let round = Round {
                radius: points.iter().map(|point| point.x).collect(),
                angle: band.places.clone(),
                height: points.iter().map(|point| point.y).collect(),
            };
            path.extend(round.plan(tolerance));
        } else {
            path.push(as_cubic(&points));
        }
    }
    path
}

/// The same polynomial of degree 1 to 3 in degree 3.
fn as_cubic(points: &[Point2<f64>]) -> [Point2<f64>; 4] {
    let third = |from: Point2<f64>, to: Point2<f64>| from + (to - from) / 3.0;
    match *points {
        [a, b] => [a, third(a, b), third(b, a), b],
        [a, b, c] => [a, third(b, a), third(b, c), c],
        [a, b, c, d] => [a, b, c, d],
        _ => unreachable!("degrees are 1 to 3"),
    }
}

fn reversed(path: Loop) -> Loop {
    let backward = path.into_iter().rev();
    backward.map(|[a, b, c, d]| [d, c, b, a]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn raising_the_degree_changes_no_point() {
        let at = |x: f64, y: f64| Point2::new(x, y);
        let [_, b, c, _] = as_cubic(&[at(0.0, 0.0), at(3.0, 6.0), at(6.0, 0.0)]);
        // The parabola through (3, 3) with these controls: thirds of the legs.
        assert_eq!((b, c), (at(2.0, 4.0), at(4.0, 4.0)));
        let [_, b, c, _] = as_cubic(&[at(0.0, 0.0), at(3.0, 6.0)]);
        assert_eq!((b, c), (at(1.0, 2.0), at(2.0, 4.0)));
    }
}
