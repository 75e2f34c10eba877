//! How a piece rests on a level floor: what it stands on, and how far it may be
//! tilted before it tips.
//!
//! The support polygon is the hull of the places that touch the floor. A body
//! stands while its centre of gravity is above the polygon, and tips over the
//! edge whose distance d from below the centre is least against the height h:
//! at the angle arctan(d / h) (elementary statics). Places are sampled, so a
//! contact narrower than the samples is missed; a round bottom rests on all that
//! comes within the tolerance of touching.

use super::extent::each_place;
use crate::piece::Piece;
use crate::stations::cosine_and_sine;
use nalgebra::{Point2, Point3, Unit, UnitVector3, Vector2, Vector3};

/// Samples along and across a cell.
const STEPS: usize = 12;

/// How a piece rests.
#[derive(Clone, Debug, PartialEq)]
pub struct Rest {
    /// The corners of the support polygon, anticlockwise seen from above, in mm
    /// in space. One or two when it balances on a point or an edge.
    pub support: Vec<Point3<f64>>,
    /// Where the centre of gravity meets the floor.
    pub below_centre: Point3<f64>,
    /// The height of the centre of gravity above the floor, mm.
    pub height: f64,
    /// From below the centre to the nearest edge, mm; negative outside.
    pub distance: f64,
    /// The tilt in degrees at which it tips; negative when it does not stand.
    pub tipping: f64,
}

impl Rest {
    /// Whether the centre of gravity lies above the inside of the support.
    pub fn stands(&self) -> bool {
        0.0 < self.distance
    }
}

/// How `piece`, with its centre of gravity at `centre`, rests with `down` toward
/// the floor; whatever comes within `touch` mm of the lowest place touches.
pub fn rest(piece: &Piece, centre: Point3<f64>, down: UnitVector3<f64>, touch: f64) -> Rest {
    let frame = Frame::above(down);
    let mut points = Vec::new();
    each_place(piece, STEPS, |point| points.push(point));
    let lowest = points
        .iter()
        .fold(f64::INFINITY, |low, point| low.min(frame.height(point)));
    let flat = points
        .iter()
        .filter(|point| frame.height(point) <= lowest + touch)
        .map(|point| frame.flat(point));
    let support = hull(flat.collect());
    let below = frame.flat(&centre);
    let distance = inside(&support, below);
    let height = frame.height(&centre) - lowest;
    Rest {
        support: support
            .iter()
            .map(|point| frame.in_space(point, lowest))
            .collect(),
        below_centre: frame.in_space(&below, lowest),
        height,
        distance,
        tipping: libm::atan2(distance, height).to_degrees(),
    }
}

/// A floor with its own directions.
struct Frame {
    up: UnitVector3<f64>,
    east: Vector3<f64>,
    north: Vector3<f64>,
}

impl Frame {
    fn above(down: UnitVector3<f64>) -> Self {
        let up = Unit::new_unchecked(-down.into_inner());
        let level = if up.x.abs() < 0.9 {
            Vector3::x()
        } else {
            Vector3::y()
        };
        let north = up.cross(&level).normalize();
        let east = north.cross(&up);
        Self { up, east, north }
    }

    fn height(&self, point: &Point3<f64>) -> f64 {
        self.up.dot(&point.coords)
    }

    fn flat(&self, point: &Point3<f64>) -> Point2<f64> {
        Point2::new(self.east.dot(&point.coords), self.north.dot(&point.coords))
    }

    fn in_space(&self, flat: &Point2<f64>, height: f64) -> Point3<f64> {
        (self.east * flat.x + self.north * flat.y + self.up.into_inner() * height).into()
    }
}

/// The convex hull, anticlockwise (Andrew, Another efficient algorithm for
/// convex hulls in two dimensions, Information Processing Letters 9, 1979).
fn hull(mut points: Vec<Point2<f64>>) -> Vec<Point2<f64>> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    points.dedup();
    if points.len() < 3 {
        return points;
    }
    let chain = |points: &mut dyn Iterator<Item = Point2<f64>>| {
        let mut chain: Vec<Point2<f64>> = Vec::new();
        for point in points {
            while let [.., before, last] = chain[..] {
                if 0.0 < (last - before).perp(&(point - before)) {
                    break;
                }
                chain.pop();
            }
            chain.push(point);
        }
        chain.pop();
        chain
    };
    let mut lower = chain(&mut points.iter().copied());
    lower.extend(chain(&mut points.iter().rev().copied()));
    lower
}

/// The distance from `point` to the nearest edge of the hull, negative outside;
/// at most 0 for a hull without an inside.
fn inside(hull: &[Point2<f64>], point: Point2<f64>) -> f64 {
    let edges = (0..hull.len()).map(|k| (hull[k], hull[(k + 1) % hull.len()]));
    let to_segment = |(from, to): (Point2<f64>, Point2<f64>)| {
        let step: Vector2<f64> = to - from;
        let squared = step.norm_squared();
        let t = if 0.0 < squared {
            ((point - from).dot(&step) / squared).clamp(0.0, 1.0)
        } else {
            0.0
        };
        (from + step * t - point).norm()
    };
    let nearest = edges.clone().map(to_segment).fold(f64::INFINITY, f64::min);
    let is_within = 3 <= hull.len()
        && edges
            .clone()
            .all(|(from, to)| 0.0 <= (to - from).perp(&(point - from)));
    if is_within { nearest } else { -nearest }
}

/// The direction toward the floor, in the coordinates of the piece, when the
/// piece is turned by `degrees` about its x axis: at 0 it stands on its lowest z,
/// at 180 on its head.
pub fn tilted(degrees: f64) -> UnitVector3<f64> {
    let (cosine, sine) = cosine_and_sine(degrees);
    Unit::new_normalize(Vector3::new(0.0, -sine, -cosine))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hull_of_a_square_with_more_points_is_the_square() {
        let points = [
            (0.0, 0.0),
            (1.0, 0.0),
            (0.5, 0.0),
            (1.0, 1.0),
            (0.3, 0.6),
            (0.0, 1.0),
        ];
        let hull = hull(points.map(|(x, y)| Point2::new(x, y)).to_vec());
        let expected = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
        assert_eq!(hull, expected.map(|(x, y)| Point2::new(x, y)));
        assert_eq!(inside(&hull, Point2::new(0.5, 0.25)), 0.25);
        assert_eq!(inside(&hull, Point2::new(4.0, 5.0)), -5.0);
    }

    /// Turned by a quarter, y goes to z: the floor is on the side of -y.
    #[test]
    fn a_piece_is_tilted_anticlockwise_about_x() {
        assert!((tilted(90.0).into_inner() - -Vector3::y()).norm() < 1e-15);
    }

    #[test]
    fn a_point_and_an_edge_hold_nothing() {
        let point = Point2::new(1.0, 1.0);
        assert!(inside(&[point], point) <= 0.0);
        assert!(inside(&[point, Point2::new(3.0, 1.0)], Point2::new(2.0, 1.0)) <= 0.0);
    }
}
