//! Flat caps: the inside of a closed polygon as triangles on its own corners.
//!
//! The constrained Delaunay triangulation keeps every corner, those on straight
//! sides as well, so a cap fits the skin edge by edge. Its predicates are exact, so
//! a polygon is refused just when its sides really meet.

use nalgebra::Point2;
use spade::{ConstrainedDelaunayTriangulation, HasPosition, Triangulation};

/// A corner of the polygon that knows its number.
#[derive(Clone, Copy, Debug)]
struct Corner {
    at: Point2<f64>,
    index: u32,
}

impl HasPosition for Corner {
    type Scalar = f64;

    fn position(&self) -> spade::Point2<f64> {
        spade::Point2::new(self.at.x, self.at.y)
    }
}

/// Triangles that fill the closed polygon with these corners, each
/// counterclockwise, by the numbers of the corners. `None` when the polygon
/// meets itself.
pub fn fill(polygon: &[Point2<f64>]) -> Option<Vec<[u32; 3]>> {
    let corners = polygon
        .iter()
        .zip(0..)
        .map(|(&at, index)| Corner { at, index });
    let last = polygon.len() - 1;
    let sides = (0..last).map(|i| [i, i + 1]).chain([[last, 0]]).collect();
    let mut meets = false;
    let filled = ConstrainedDelaunayTriangulation::<Corner>::try_bulk_load_cdt(
        corners.collect(),
        sides,
        |_| meets = true,
    )
    .ok()?;
    if meets || filled.num_vertices() != polygon.len() {
        return None;
    }
    let outside = reached_from_outside(&filled);
    let triangles: Vec<[u32; 3]> = filled
        .inner_faces()
        .filter(|face| !outside[face.fix().index()])
        .map(|face| face.vertices().map(|corner| corner.data().index))
        .collect();
    // A simple polygon of n corners is n - 2 triangles.
    (triangles.len() + 2 == polygon.len()).then_some(triangles)
}

/// Which sides of a closed polygon meet others beyond a corner that they share, by
/// their first corners; exact where differences of coordinates have 24 bits.
pub fn meeting_sides(polygon: &[Point2<f64>]) -> Vec<usize> {
    let count = polygon.len();
    let side = |index: usize| [polygon[index], polygon[(index + 1) % count]];
    let mut meeting = Vec::new();
    for one in 0..count {
        for other in one + 1..count {
            let (mine, theirs) = (side(one), side(other));
            let meets = match (other - one, other + 1 - one) {
                (1, _) => fold_back(mine[0], mine[1], theirs[1]),
                (_, all) if all == count => fold_back(theirs[0], theirs[1], mine[1]),
                _ => sides_meet(mine, theirs),
            };
            if meets {
                meeting.extend([one, other]);
            }
        }
    }
    meeting.sort_unstable();
    meeting.dedup();
    meeting
}

/// Whether the side from `middle` to `end` lies back on that from `start`.
fn fold_back(start: Point2<f64>, middle: Point2<f64>, end: Point2<f64>) -> bool {
    let (back, on) = (start - middle, end - middle);
    back.perp(&on) == 0.0 && 0.0 <= back.dot(&on)
}

fn sides_meet([a, b]: [Point2<f64>; 2], [c, d]: [Point2<f64>; 2]) -> bool {
    let apart = |k: usize| a[k].max(b[k]) < c[k].min(d[k]) || c[k].max(d[k]) < a[k].min(b[k]);
    let turn = |p: Point2<f64>, q: Point2<f64>, r: Point2<f64>| (q - p).perp(&(r - p));
    let parted = |x: f64, y: f64| (0.0 < x && 0.0 < y) || (x < 0.0 && y < 0.0);
    !apart(0)
        && !apart(1)
        && !parted(turn(a, b, c), turn(a, b, d))
        && !parted(turn(c, d, a), turn(c, d, b))
}

/// Which faces one comes to from the outer face without crossing a side.
fn reached_from_outside(filled: &ConstrainedDelaunayTriangulation<Corner>) -> Vec<bool> {
    let mut reached = vec![false; filled.num_all_faces()];
    reached[filled.outer_face().fix().index()] = true;
    let hull = filled
        .convex_hull()
        .filter(|edge| !edge.is_constraint_edge());
    let mut open: Vec<_> = hull.map(|edge| edge.rev().face().fix()).collect();
    while let Some(face) = open.pop() {
        if std::mem::replace(&mut reached[face.index()], true) {
            continue;
        }
        let Some(inner) = filled.face(face).as_inner() else {
            continue;
        };
        let ways = inner.adjacent_edges().into_iter();
        let ways = ways.filter(|edge| !edge.is_constraint_edge());
        open.extend(ways.map(|edge| edge.rev().face().fix()));
    }
    reached
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(polygon: &[Point2<f64>], triangles: &[[u32; 3]]) -> f64 {
        let twice = |&[a, b, c]: &[u32; 3]| {
            let [a, b, c] = [a, b, c].map(|index| polygon[index as usize]);
            (b - a).perp(&(c - a))
        };
        triangles.iter().map(twice).sum::<f64>() / 2.0
    }

    fn polygon(corners: &[(f64, f64)]) -> Vec<Point2<f64>> {
        corners.iter().map(|&(x, y)| Point2::new(x, y)).collect()
    }

    #[test]
    fn a_bay_stays_open_and_corners_on_a_line_stay_corners() {
        let bay = polygon(&[
            (0.0, 0.0),
            (2.0, 0.0),
            (4.0, 0.0),
            (4.0, 4.0),
            (3.0, 4.0),
            (3.0, 1.0),
            (1.0, 1.0),
            (1.0, 4.0),
            (0.0, 4.0),
        ]);
        let triangles = fill(&bay).unwrap();
        assert_eq!(triangles.len(), 7);
        // 4 x 4 without the bay of 2 x 3.
        assert!((area(&bay, &triangles) - 10.0).abs() < 1e-12);
        assert!(triangles.iter().flatten().any(|&corner| corner == 1));
        let clockwise: Vec<_> = bay.iter().rev().copied().collect();
        assert!((area(&clockwise, &fill(&clockwise).unwrap()) - 10.0).abs() < 1e-12);
    }

    #[test]
    fn a_polygon_that_meets_itself_is_refused() {
        let bow = polygon(&[(0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 2.0)]);
        assert_eq!(fill(&bow), None);
        let touch = polygon(&[(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 0.0), (0.0, 4.0)]);
        assert_eq!(fill(&touch), None);
        let twice = polygon(&[(0.0, 0.0), (1.0, 0.0), (0.0, 0.0), (1.0, 1.0)]);
        assert_eq!(fill(&twice), None);
        assert_eq!(meeting_sides(&bow), [0, 2]);
        assert_eq!(meeting_sides(&touch), [0, 2, 3]);
        assert_eq!(meeting_sides(&twice), [0, 1, 2, 3]);
        let square = polygon(&[(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)]);
        assert!(meeting_sides(&square).is_empty());
    }
}
