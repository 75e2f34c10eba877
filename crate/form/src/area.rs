//! Areas beside curves, by their Bernstein products.

use loftkin_kernel::curve::Curve;
use loftkin_kernel::grid::STEPS_PER_MM;
use nalgebra::Point2;

/// The area inside a closed curve in mm², positive when it runs anticlockwise:
/// exact for its spans, rounded as usual.
pub fn signed_area(curve: &Curve) -> f64 {
    let steps: f64 = (0..curve.span_count())
        .map(|index| span_moment(&curve.span(index)))
        .sum();
    steps / (STEPS_PER_MM * STEPS_PER_MM)
}

/// The integral of x dy along the curve in mm²: between it and the y axis, when
/// open; the area inside, when closed. Positive when it runs upward (or
/// anticlockwise).
pub fn area_beside_axis(curve: &Curve) -> f64 {
    if curve.is_closed() {
        return signed_area(curve);
    }
    let (first, last) = (curve.point_mm(0.0), curve.point_mm(1.0));
    let turned: f64 = (0..curve.span_count())
        .map(|index| span_moment(&curve.span_mm(index)))
        .sum();
    turned + (last.x * last.y - first.x * first.y) / 2.0
}

/// Half the integral of x dy - y dx over one cubic: by its Bernstein products,
/// (6 ab + 3 ac + ad + 3 bc + 3 bd + 6 cd) / 20 with ab = cross of a and b.
fn span_moment(span: &[Point2<f64>; 4]) -> f64 {
    let [a, b, c, d] = span.map(|point| point.coords);
    (6.0 * a.perp(&b)
        + 3.0 * a.perp(&c)
        + a.perp(&d)
        + 3.0 * b.perp(&c)
        + 3.0 * b.perp(&d)
        + 6.0 * c.perp(&d))
        / 20.0
}
