//! B-spline curves and surfaces in space, as exchange formats write them: plain
//! data with knots, multiplicities and control points, and their evaluation.
//!
//! Lengths are mm. Nothing here knows of profiles or pieces.

use nalgebra::{Point3, Vector3};

/// One distinct knot and how often it counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Knot {
    /// The parameter.
    pub at: f64,
    /// How often it counts: `degree + 1` at both ends.
    pub multiplicity: usize,
}

/// A polynomial B-spline curve in space.
#[derive(Clone, Debug, PartialEq)]
pub struct SplineCurve {
    /// The degree, at least 1.
    pub degree: usize,
    /// The distinct knots, ascending, clamped at both ends.
    pub knots: Vec<Knot>,
    /// The control points, mm.
    pub controls: Vec<Point3<f64>>,
}

/// A polynomial tensor B-spline surface in space.
#[derive(Clone, Debug, PartialEq)]
pub struct SplineSurface {
    /// The degree along the profiles (u).
    pub degree_along: usize,
    /// The degree from station to station (v).
    pub degree_across: usize,
    /// The knots along, ascending, clamped.
    pub knots_along: Vec<Knot>,
    /// The knots across, ascending, clamped.
    pub knots_across: Vec<Knot>,
    /// The control points, mm: one row for each control along, each row from
    /// the first station of the face to the last.
    pub controls: Vec<Vec<Point3<f64>>>,
}

impl SplineCurve {
    /// The point at parameter `at`, clamped to the knots.
    pub fn point(&self, at: f64) -> Point3<f64> {
        let knots = repeated(&self.knots);
        de_boor(self.degree, &knots, &self.controls, at)
    }

    /// The first parameter and the last.
    pub fn ends(&self) -> (f64, f64) {
        ends(&self.knots)
    }
}

impl SplineSurface {
    /// The point at parameters `along`, `across`, clamped to the knots.
    pub fn point(&self, along: f64, across: f64) -> Point3<f64> {
        let knots = repeated(&self.knots_across);
        let column: Vec<_> = (self.controls.iter())
            .map(|row| de_boor(self.degree_across, &knots, row, across))
            .collect();
        de_boor(
            self.degree_along,
            &repeated(&self.knots_along),
            &column,
            along,
        )
    }

    /// The first parameter along and the last.
    pub fn ends_along(&self) -> (f64, f64) {
        ends(&self.knots_along)
    }

    /// The first parameter across and the last.
    pub fn ends_across(&self) -> (f64, f64) {
        ends(&self.knots_across)
    }
}

fn ends(knots: &[Knot]) -> (f64, f64) {
    (knots[0].at, knots[knots.len() - 1].at)
}

/// Knots written out as often as they count.
pub fn repeated(knots: &[Knot]) -> Vec<f64> {
    let each = knots.iter();
    each.flat_map(|knot| std::iter::repeat_n(knot.at, knot.multiplicity))
        .collect()
}

/// The algorithm of C. de Boor, On calculating with B-splines, Journal of
/// Approximation Theory 6, 1972, 50-62.
fn de_boor(degree: usize, knots: &[f64], controls: &[Point3<f64>], at: f64) -> Point3<f64> {
    let at = at.clamp(knots[degree], knots[controls.len()]);
    let after = knots.partition_point(|&knot| knot <= at);
    let interval = after.clamp(degree + 1, controls.len()) - 1;
    let mut work: Vec<Vector3<f64>> = (interval - degree..=interval)
        .map(|index| controls[index].coords)
        .collect();
    for level in 1..=degree {
        for index in (level..=degree).rev() {
            let place = interval - degree + index;
            let (from, to) = (knots[place], knots[place + degree + 1 - level]);
            let share = (at - from) / (to - from);
            work[index] = work[index - 1] + (work[index] - work[index - 1]) * share;
        }
    }
    work[degree].into()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn clamped(degree: usize, inner: &[(f64, usize)]) -> Vec<Knot> {
        let end = |at| Knot {
            at,
            multiplicity: degree + 1,
        };
        let inner = inner
            .iter()
            .map(|&(at, multiplicity)| Knot { at, multiplicity });
        std::iter::once(end(0.0))
            .chain(inner)
            .chain([end(1.0)])
            .collect()
    }

    #[test]
    fn without_inner_knots_it_is_bernsteins_form() {
        let controls: Vec<_> = [0.0, 1.0, 4.0, 2.0]
            .iter()
            .enumerate()
            .map(|(i, &y)| Point3::new(i as f64, y, -y))
            .collect();
        let curve = SplineCurve {
            degree: 3,
            knots: clamped(3, &[]),
            controls,
        };
        let t: f64 = 0.3;
        let s = 1.0 - t;
        let y = 3.0 * s * s * t + 4.0 * 3.0 * s * t * t + 2.0 * t * t * t;
        assert!((curve.point(t) - Point3::new(3.0 * t, y, -y)).norm() < 1e-14);
        assert_eq!(curve.point(2.0), curve.point(1.0));
    }

    #[test]
    fn controls_at_the_knot_averages_give_a_straight_line() {
        // Greville: x is reproduced by controls at the averages of the knots.
        let knots = clamped(3, &[(0.2, 1), (0.7, 2)]);
        let flat = repeated(&knots);
        let controls: Vec<_> = (0..flat.len() - 4)
            .map(|i| Point3::new((flat[i + 1] + flat[i + 2] + flat[i + 3]) / 3.0, 0.0, 0.0))
            .collect();
        let curve = SplineCurve {
            degree: 3,
            knots,
            controls,
        };
        for step in 0..=20 {
            let at = f64::from(step) / 20.0;
            assert!((curve.point(at).x - at).abs() < 1e-15);
        }
    }
}
