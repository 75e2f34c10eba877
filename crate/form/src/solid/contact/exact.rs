//! Exact signs on the corners of a mesh: on which side, and whether two triangles
//! meet beyond the corners that they share.
//!
//! Coordinates are whole multiples of a power of two below 2^23 steps
//! (`solid::lattice`). Of such, differences have 24 bits and products of two of
//! them 48; the components of a normal are below 2^49 and their sums are exact in
//! doubles. Only the determinant of three edges is not: it is filtered, and
//! worked out in whole numbers where the filter cannot tell.

use nalgebra::{Point3, Vector3};
use std::cmp::Ordering;

/// What rounding may add to a determinant, over the sum of the sizes of its three
/// products: one rounding a product and one a sum, each 2^-53 of at most that sum;
/// the fourth part of this is left for the rounding of the bound itself.
const FILTER: f64 = 4.0 * (f64::EPSILON / 2.0);

/// The corners of the meshes of one check.
#[derive(Clone, Copy, Debug)]
pub struct Corners<'a> {
    points: &'a [Point3<f64>],
    /// How many steps a mm has.
    per_mm: f64,
}

impl<'a> Corners<'a> {
    /// `points` are whole multiples of `step`.
    pub fn new(points: &'a [Point3<f64>], step: f64) -> Self {
        let per_mm = 1.0 / step;
        Self { points, per_mm }
    }

    /// Where a corner is, mm.
    pub fn at(&self, corner: u32) -> Point3<f64> {
        self.points[corner as usize]
    }

    /// The normal of a triangle, as long as twice its area, mm²: exact.
    pub fn normal(&self, [a, b, c]: [u32; 3]) -> Vector3<f64> {
        let [a, b, c] = [a, b, c].map(|corner| self.at(corner));
        (b - a).cross(&(c - a))
    }

    /// Greater where `point` is on the side of the plane of `triangle` to which
    /// its normal points.
    pub fn side(&self, triangle: [u32; 3], point: u32) -> Ordering {
        self.side_along(self.normal(triangle), triangle[0], point)
    }

    fn side_along(&self, normal: Vector3<f64>, origin: u32, point: u32) -> Ordering {
        let away = self.at(point) - self.at(origin);
        let products = normal.component_mul(&away);
        let sum = products.x + products.y + products.z;
        let size = products.x.abs() + products.y.abs() + products.z.abs();
        if FILTER * size < sum.abs() {
            return sum.total_cmp(&0.0);
        }
        // 2^49 times 2^24, three of them: below 2^75.
        let whole = |value: f64, scale: f64| i128::from((value * scale) as i64);
        let per_mm = self.per_mm;
        (0..3)
            .map(|axis| whole(normal[axis], per_mm * per_mm) * whole(away[axis], per_mm))
            .sum::<i128>()
            .cmp(&0)
    }

    /// Whether two triangles have a point in common that is on no corner and no
    /// edge which they share by number. Both have an area.
    pub fn meet(&self, one: [u32; 3], other: [u32; 3]) -> bool {
        let shared = one.iter().filter(|corner| other.contains(corner)).count();
        match shared {
            0 => self.strangers_meet(one, other),
            1 => self.neighbours_at_a_corner_meet(one, other),
            2 => self.neighbours_at_an_edge_meet(one, other),
            _ => true,
        }
    }

    /// Where they meet, an edge of one ends in the other or passes through it.
    fn strangers_meet(&self, one: [u32; 3], other: [u32; 3]) -> bool {
        if self.is_beside(one, other) || self.is_beside(other, one) {
            return false;
        }
        let passes = |edges: [u32; 3], through: [u32; 3]| {
            (0..3).any(|k| self.passes([edges[k], edges[(k + 1) % 3]], through))
        };
        passes(one, other) || passes(other, one)
    }

    /// Whether all of `other` is on one side of the plane of `one`, and off it.
    fn is_beside(&self, one: [u32; 3], other: [u32; 3]) -> bool {
        let normal = self.normal(one);
        let [first, second, third] = other.map(|corner| self.side_along(normal, one[0], corner));
        first != Ordering::Equal && first == second && second == third
    }

    /// A ray from the shared corner through another common point leaves one of the
    /// two by the edge that faces the corner, and is in the other there.
    fn neighbours_at_a_corner_meet(&self, one: [u32; 3], other: [u32; 3]) -> bool {
        let facing = |triangle: [u32; 3], against: [u32; 3]| {
            let at = (0..3).find(|&k| against.contains(&triangle[k]));
            let at = at.unwrap_or_else(|| unreachable!("they share a corner"));
            [triangle[(at + 1) % 3], triangle[(at + 2) % 3]]
        };
        self.passes(facing(one, other), other) || self.passes(facing(other, one), one)
    }

    /// They fold onto each other: in one plane, on one side of the edge.
    fn neighbours_at_an_edge_meet(&self, one: [u32; 3], other: [u32; 3]) -> bool {
        let apex = |triangle: [u32; 3], against: [u32; 3]| {
            let apex = triangle.into_iter().find(|k| !against.contains(k));
            apex.unwrap_or_else(|| unreachable!("they share two corners"))
        };
        let (mine, theirs) = (apex(one, other), apex(other, one));
        if self.side(one, theirs) != Ordering::Equal {
            return false;
        }
        let edge: Vec<u32> = one.into_iter().filter(|&corner| corner != mine).collect();
        let axis = self.normal(one).iamax();
        let turn = |apex: u32| self.normal([edge[0], edge[1], apex])[axis].total_cmp(&0.0);
        turn(mine) == turn(theirs)
    }

    /// Whether a closed edge has a point in a closed triangle.
    fn passes(&self, edge: [u32; 2], through: [u32; 3]) -> bool {
        let normal = self.normal(through);
        let [from, to] = edge.map(|corner| self.side_along(normal, through[0], corner));
        if from == Ordering::Equal && to == Ordering::Equal {
            return self.passes_in_plane(edge, through, normal.iamax());
        }
        if from == to {
            return false;
        }
        // The line of the edge goes through the triangle when it has all sides on one hand.
        let hands = [0, 1, 2].map(|k| {
            let (b, c) = (through[k], through[(k + 1) % 3]);
            self.side([edge[0], edge[1], b], c)
        });
        !(hands.contains(&Ordering::Less) && hands.contains(&Ordering::Greater))
    }

    /// The same within one plane, seen along a coordinate axis that the plane does
    /// not hold.
    fn passes_in_plane(&self, edge: [u32; 2], through: [u32; 3], axis: usize) -> bool {
        let turn = |a, b, c| self.normal([a, b, c])[axis].total_cmp(&0.0);
        let run = turn(through[0], through[1], through[2]);
        let sides = [0, 1, 2].map(|k| [through[k], through[(k + 1) % 3]]);
        let is_inside = |point: u32| {
            sides
                .iter()
                .all(|&[a, b]| turn(a, b, point) != run.reverse())
        };
        edge.into_iter().any(is_inside)
            || sides.into_iter().any(|[a, b]| {
                // Touching at an end or along a side puts an end inside, or a corner onto the edge.
                let [c, d] = edge;
                let apart = |p, q, r, s| {
                    let (one, other) = (turn(p, q, r), turn(p, q, s));
                    one == other && one != Ordering::Equal
                };
                let in_line = turn(a, b, c) == Ordering::Equal && turn(a, b, d) == Ordering::Equal;
                !in_line && !apart(a, b, c, d) && !apart(c, d, a, b)
            })
    }
}
