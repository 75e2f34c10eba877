//! Path data against a second reader: kurbo's own parser of SVG paths.
//!
//! Its path data reader and its treatment of commands are independent of ours.
//! It is laxer in two points that the tests of SVG rules cover (smooth commands
//! after others, and a fixed tolerance of 0.1 for arcs), so smooth commands here
//! follow their own kind, and arcs are compared as curves.

use kurbo::{BezPath, ParamCurve, PathSeg, Point, Shape};
use loftkin_exchange::svg::read;
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Pacing;
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Outline, PathSpan, Profile};
use proptest::prelude::*;

/// Half the diagonal of a grid cell, in mm.
const ROUNDING: f64 = 0.0071;

fn number() -> impl Strategy<Value = String> {
    prop_oneof![
        (-900..900_i32).prop_map(|n| n.to_string()),
        (-90_000..90_000_i32).prop_map(|n| format!("{:.2}", f64::from(n) / 100.0)),
        (-90..90_i32).prop_map(|n| format!("{n}e1")),
    ]
}

fn numbers(count: usize) -> impl Strategy<Value = String> {
    prop::collection::vec(number(), count).prop_map(|all| all.join(" "))
}

/// One command, or a smooth one with the command that it continues.
fn command() -> impl Strategy<Value = String> {
    let letter =
        |upper: &'static str| prop::sample::select(vec![upper.to_owned(), upper.to_lowercase()]);
    let simple =
        |upper, count| (letter(upper), numbers(count)).prop_map(|(l, n)| format!("{l}{n}"));
    prop_oneof![
        simple("L", 2),
        simple("L", 4),
        simple("H", 1),
        simple("V", 1),
        simple("C", 6),
        simple("Q", 4),
        (simple("C", 6), simple("S", 4), simple("S", 8)).prop_map(|(a, b, c)| a + &b + &c),
        (simple("Q", 4), simple("T", 2), simple("T", 4)).prop_map(|(a, b, c)| a + &b + &c),
    ]
}

fn path_data() -> impl Strategy<Value = String> {
    (
        numbers(2),
        prop::collection::vec(command(), 1..6),
        any::<bool>(),
    )
        .prop_map(|(start, commands, close)| {
            format!(
                "M{start}{}{}",
                commands.concat(),
                if close { "z" } else { "" }
            )
        })
}

/// Our profile of `data`, one unit a mm.
fn ours(data: &str) -> Option<Profile> {
    let text =
        format!("<svg width=\"1mm\" height=\"1mm\" viewBox=\"0 0 1 1\"><path d=\"{data}\"/></svg>");
    read(&text, None).ok()?.family.profiles.into_iter().next()
}

/// A point of the reference on our grid, y upward.
fn placed(point: Point) -> GridPoint {
    GridPoint::from_mm(point.x, -point.y).unwrap()
}

/// The spans of the reference that do not vanish on our grid.
fn theirs(data: &str) -> Vec<PathSpan> {
    let path = BezPath::from_svg(data).unwrap();
    let spans = path.segments().map(|segment| {
        let cubic = segment.to_cubic();
        let to = placed(cubic.p3);
        let span = match segment {
            PathSeg::Line(_) => PathSpan::Line { to },
            PathSeg::Quad(_) | PathSeg::Cubic(_) => PathSpan::Cubic {
                first: placed(cubic.p1),
                second: placed(cubic.p2),
                to,
            },
        };
        (placed(cubic.p0), span)
    });
    let vanishes = |from: GridPoint, span: PathSpan| match span {
        PathSpan::Line { to } => to == from,
        PathSpan::Cubic { first, second, to } => [first, second, to] == [from; 3],
    };
    spans
        .filter(|&(from, span)| !vanishes(from, span))
        .map(|(_, span)| span)
        .collect()
}

/// Whether two points differ by one step at most: sums of decimals may fall on
/// either side of the middle between two grid points.
fn near(one: GridPoint, other: GridPoint) -> bool {
    one.x.abs_diff(other.x) <= 1 && one.y.abs_diff(other.y) <= 1
}

fn alike(one: PathSpan, other: PathSpan) -> bool {
    match (one, other) {
        (PathSpan::Line { to: a }, PathSpan::Line { to: b }) => near(a, b),
        (
            PathSpan::Cubic {
                first: a,
                second: b,
                to: c,
            },
            PathSpan::Cubic {
                first: d,
                second: e,
                to: f,
            },
        ) => near(a, d) && near(b, e) && near(c, f),
        _ => false,
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn spans_are_those_of_the_reference(data in path_data()) {
        let theirs = theirs(&data);
        let spans = match ours(&data).map(|profile| profile.outline) {
            Some(Outline::Path { spans, .. }) => spans,
            // What draws nothing is no profile.
            _ => Vec::new(),
        };
        prop_assert_eq!(spans.len(), theirs.len(), "{}", data);
        for (mine, other) in spans.iter().zip(&theirs) {
            prop_assert!(alike(*mine, *other), "{data}: {mine:?} {other:?}");
        }
    }

    /// Arcs as curves: every point of ours lies within both tolerances of theirs.
    #[test]
    fn arcs_are_those_of_the_reference(start in numbers(2), radii in (1..900_u32, 1..900_u32), turn in -180..180_i32, flags in (0..2, 0..2), end in numbers(2)) {
        let data = format!("M{start}A{} {} {turn} {}{} {end}", radii.0, radii.1, flags.0, flags.1);
        let Some(profile) = ours(&data) else {
            return Ok(());
        };
        let curve = Curve::new(&profile, Pacing::Node).unwrap();
        let reference = BezPath::from_svg(&data).unwrap();
        let dense: Vec<Point> = reference
            .segments()
            .flat_map(|segment: PathSeg| (0..=400).map(move |i| segment.eval(f64::from(i) / 400.0)))
            .collect();
        let step = reference.perimeter(0.1) / 400.0;
        for i in 0..=40 {
            let point = curve.point_mm(f64::from(i) / 40.0);
            let at = Point::new(point.x, -point.y);
            let nearest = dense.iter().map(|other| at.distance(*other)).fold(f64::MAX, f64::min);
            prop_assert!(nearest < 0.1 + ROUNDING + step, "{data}: {nearest} at {at:?}");
        }
    }
}
