//! From a drawn profile to its curve: through nodes, or along an exact path, with
//! the parameter of every joint.

use super::{BREAK_STEP, Curve, arriving, leaving};
use crate::family::Pacing;
use crate::grid::GridPoint;
use crate::profile::{Node, PathSpan};
use crate::spline::{natural_slopes, periodic_slopes};
use nalgebra::{Point2, Vector2};

/// A joint of an exact path counts as smooth up to this break of its tangent,
/// given as a tangent of 1 degree: handles are rounded to the grid.
const SMOOTH_TANGENT: f64 = 0.017_455;

/// The curve through `nodes`: the C2 spline, cut at corners.
pub(super) fn through_nodes(nodes: &[Node], closed: bool, pacing: Pacing) -> Curve {
    let centre = middle(nodes.iter().map(|node| node.at));
    let points: Vec<_> = nodes.iter().map(|node| real(node.at) - centre).collect();
    let count = nodes.len();
    let spans = if closed { count } else { count - 1 };
    let chords: Vec<f64> = (0..spans)
        .map(|i| (points[(i + 1) % count] - points[i]).norm())
        .collect();
    let mut controls = Vec::with_capacity(3 * spans + 1);
    controls.push(points[0]);
    for i in 0..spans {
        let to = points[(i + 1) % count];
        controls.extend([points[i], to, to]);
    }
    let cuts: Vec<usize> = (0..count)
        .filter(|&i| nodes[i].corner || (!closed && (i == 0 || i + 1 == count)))
        .collect();
    if cuts.is_empty() {
        let slopes = periodic_slopes(&points, &chords);
        for span in 0..spans {
            let next = (span + 1) % count;
            set_handles(
                &mut controls,
                span,
                slopes[span],
                slopes[next],
                chords[span],
            );
        }
    }
    for (index, &from) in cuts.iter().enumerate() {
        let Some(length) = chain_length(&cuts, index, count, closed) else {
            continue;
        };
        let row: Vec<_> = (0..=length).map(|i| points[(from + i) % count]).collect();
        let row_chords: Vec<_> = (0..length).map(|i| chords[(from + i) % count]).collect();
        let slopes = natural_slopes(&row, &row_chords);
        for i in 0..length {
            let span = (from + i) % count;
            set_handles(&mut controls, span, slopes[i], slopes[i + 1], chords[span]);
        }
    }
    let corners = (0..=spans).map(|i| nodes[i % count].corner).collect();
    let breaks = breakpoints(&chords, pacing);
    // The spline is C2 by chord length. Rounding the breakpoints changes the
    // speed on a span by BREAK_STEP over its length, 1e-8 for those admitted
    // here, and so breaks a blend of two tangents by 2e-8 (|p| + |q|) / |p + q|.
    // Tangents within the largest twist limit, 179.9 degrees, keep that quotient
    // below 1150: 0.0014 degrees, far below the least crease limit of 0.1.
    let shortest = breaks
        .windows(2)
        .fold(1.0, |least: f64, pair| least.min(pair[1] - pair[0]));
    Curve {
        even_speed: pacing == Pacing::Parameter && 1e8 * BREAK_STEP < shortest,
        breaks,
        controls,
        corners,
        centre,
        closed,
    }
}

/// The spans from one cut to the next; none after the last cut of an open row.
fn chain_length(cuts: &[usize], index: usize, count: usize, closed: bool) -> Option<usize> {
    match cuts.get(index + 1) {
        Some(next) => Some(next - cuts[index]),
        None if closed => Some(cuts[0] + count - cuts[index]),
        None => None,
    }
}

fn set_handles(
    controls: &mut [Point2<f64>],
    span: usize,
    slope_in: Vector2<f64>,
    slope_out: Vector2<f64>,
    chord: f64,
) {
    let first = 3 * span;
    controls[first + 1] = controls[first] + slope_in * (chord / 3.0);
    controls[first + 2] = controls[first + 3] - slope_out * (chord / 3.0);
}

/// The curve along an exact path, as it was drawn.
pub(super) fn along_path(
    start: GridPoint,
    spans: &[PathSpan],
    closed: bool,
    pacing: Pacing,
) -> Curve {
    let handles = spans.iter().flat_map(|span| match *span {
        PathSpan::Line { to } => [to, to, to],
        PathSpan::Cubic { first, second, to } => [first, second, to],
    });
    let centre = middle(std::iter::once(start).chain(handles));
    let mut controls = Vec::with_capacity(3 * spans.len() + 1);
    let mut chords = Vec::with_capacity(spans.len());
    controls.push(real(start) - centre);
    let mut from = start;
    for span in spans {
        let to = real(span.to()) - centre;
        let a = real(from) - centre;
        let (b, c) = path_handles(from, a, to, *span, centre);
        controls.extend([b, c, to]);
        let chord = (to - a).norm();
        // A span that returns to its own start has no chord: its polygon stands in.
        chords.push(if 0.0 < chord {
            chord
        } else {
            (b - a).norm() + (c - b).norm() + (to - c).norm()
        });
        from = span.to();
    }
    let corners = path_corners(&controls, spans.len(), closed);
    Curve {
        breaks: breakpoints(&chords, pacing),
        controls,
        corners,
        centre,
        closed,
        even_speed: false,
    }
}

/// The two handles of a span: as drawn, and by thirds where they make no more
/// than a straight line. One without length stays so; its tangent is that of
/// [`leaving`] or [`arriving`].
fn path_handles(
    from: GridPoint,
    a: Point2<f64>,
    to: Point2<f64>,
    span: PathSpan,
    centre: Vector2<f64>,
) -> (Point2<f64>, Point2<f64>) {
    let thirds = (a + (to - a) / 3.0, to - (to - a) / 3.0);
    let PathSpan::Cubic {
        first,
        second,
        to: end,
    } = span
    else {
        return thirds;
    };
    // Where three control points coincide the span is a straight line too.
    let is_straight = match (first == from, second == end) {
        (true, true) => true,
        (true, false) => second == from,
        (false, true) => first == end,
        (false, false) => false,
    };
    if is_straight {
        return thirds;
    }
    (real(first) - centre, real(second) - centre)
}

fn path_corners(controls: &[Point2<f64>], spans: usize, closed: bool) -> Vec<bool> {
    (0..=spans)
        .map(|joint| {
            let seam = joint == 0 || joint == spans;
            if seam && !closed {
                return false;
            }
            let before = if seam { spans } else { joint } * 3;
            let after = if seam { 0 } else { joint * 3 };
            let arriving = arriving(&controls[before - 3..=before]);
            let leaving = leaving(&controls[after..=after + 3]);
            let (dot, cross) = (arriving.dot(&leaving), arriving.perp(&leaving));
            dot <= 0.0 || SMOOTH_TANGENT * dot < cross.abs()
        })
        .collect()
}

fn breakpoints(chords: &[f64], pacing: Pacing) -> Vec<f64> {
    let count = chords.len();
    let total: f64 = chords.iter().sum();
    let mut run = 0.0;
    let mut breaks = Vec::with_capacity(count + 1);
    for (index, chord) in chords.iter().enumerate() {
        let share = match pacing {
            Pacing::Parameter => run / total,
            Pacing::Node => index as f64 / count as f64,
        };
        breaks.push(libm::round(share / BREAK_STEP) * BREAK_STEP);
        run += chord;
    }
    breaks.push(1.0);
    breaks
}

/// The middle of the bounding box: exact, and it moves with a turned-round,
/// reversed, mirrored or half-turned drawing.
fn middle(points: impl Iterator<Item = GridPoint>) -> Vector2<f64> {
    let (mut low, mut high) = ((i32::MAX, i32::MAX), (i32::MIN, i32::MIN));
    for point in points {
        low = (low.0.min(point.x), low.1.min(point.y));
        high = (high.0.max(point.x), high.1.max(point.y));
    }
    Vector2::new(f64::from(low.0 + high.0), f64::from(low.1 + high.1)) * 0.5
}

fn real(point: GridPoint) -> Point2<f64> {
    Point2::new(f64::from(point.x), f64::from(point.y))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::curve::tests::arch;
    use crate::profile::{Outline, Profile};

    #[test]
    fn the_curve_passes_through_its_nodes() {
        let curve = Curve::new(&arch(), Pacing::Parameter).unwrap();
        let Outline::Nodes(nodes) = arch().outline else {
            unreachable!("drawn by nodes")
        };
        for (node, &u) in nodes.iter().zip(curve.breaks()) {
            let (x, y) = node.at.to_mm();
            assert!((curve.point_mm(u) - Point2::new(x, y)).norm() < 1e-9);
        }
    }

    #[test]
    fn pacing_by_node_spaces_breaks_evenly() {
        let curve = Curve::new(&arch(), Pacing::Node).unwrap();
        assert_eq!(curve.breaks(), [0.0, 0.25, 0.5, 0.75, 1.0]);
    }

    #[test]
    fn handles_without_length_stay_and_have_a_tangent() {
        let point = GridPoint::new;
        let profile = Profile {
            name: String::new(),
            closed: false,
            outline: Outline::Path {
                start: point(0, 0),
                spans: vec![
                    PathSpan::Cubic {
                        first: point(0, 0),
                        second: point(300, 100),
                        to: point(400, 400),
                    },
                    PathSpan::Cubic {
                        first: point(400, 400),
                        second: point(900, 400),
                        to: point(900, 400),
                    },
                ],
            },
        };
        let curve = Curve::new(&profile, Pacing::Parameter).unwrap();
        let [a, b, c, _] = curve.span(0);
        assert_eq!(a, b);
        assert_eq!(curve.slope(0.0).normalize(), (c - a).normalize());
        // Both handles of the second gone, it is a line at even speed.
        let [a, b, c, d] = curve.span(1);
        assert!(a != b && c != d);
    }

    #[test]
    fn a_half_turned_drawing_gives_the_negated_controls() {
        let round = Profile::closed(vec![
            Node::smooth(310, 7),
            Node::smooth(40, 290),
            Node::smooth(-300, 11),
            Node::smooth(-20, -280),
        ]);
        let turned = Profile::closed(vec![
            Node::smooth(-310, -7),
            Node::smooth(-40, -290),
            Node::smooth(300, -11),
            Node::smooth(20, 280),
        ]);
        let one = Curve::new(&round, Pacing::Parameter).unwrap();
        let other = Curve::new(&turned, Pacing::Parameter).unwrap();
        for (a, b) in one.controls().iter().zip(other.controls()) {
            assert_eq!(a.coords, -b.coords);
        }
    }
}
