//! Sharp edges against angles worked out by hand, and against the skin beside them.

use super::*;
use crate::body::cells::breaks_within;
use crate::making::check::Spot;
use crate::making::edges::{Edge, Line, SHARP, sharp_edges};
use crate::making::fillet::left_by;
use crate::making::radius::ToolSide;
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Outline, PathSpan};

/// The square of 100 mm, with corners.
fn square() -> Curve {
    let corners = [(5000, 5000), (-5000, 5000), (-5000, -5000), (5000, -5000)];
    let nodes = corners.map(|(x, y)| Node::corner(x, y)).to_vec();
    Curve::new(&Profile::closed(nodes), Pacing::Parameter).unwrap()
}

/// Squares at these heights, each scaled.
fn squares(stations: &[(f64, f64)]) -> Piece {
    let stations = stations
        .iter()
        .map(|&(at, scale)| Station::at(at).scaled(scale));
    piece(
        &square(),
        Stations::stack(stations.collect()).unwrap(),
        Blend::Ruled,
    )
}

#[test]
fn ridges_and_valleys_are_told_apart() {
    // A square prism that steps in at its middle station.
    let waisted = squares(&[(0.0, 1.0), (100.0, 0.5), (200.0, 1.0)]);
    let edges = sharp_edges(&waisted);
    let valley = edges
        .iter()
        .find(|edge| edge.line == Line::AtAcross(0.5))
        .unwrap();
    // Each wall leans by arctan(25 / 100): they meet at twice that, round the square.
    let lean = libm::atan2(25.0, 100.0);
    assert!(!valley.is_ridge && edges.len() == 5);
    for turn in [valley.least, valley.seen, valley.most] {
        close(turn, 2.0 * lean.to_degrees(), 1e-6);
    }
    close(valley.length, 200.0, 1e-9);
    let ridges: Vec<&Edge> = edges.iter().filter(|edge| edge.is_ridge).collect();
    assert_eq!(ridges.len(), 4);
    // Two walls with normals (cos b, 0, sin b) and (0, cos b, sin b), each way as long
    // as a ruling: 25 in, 25 aside, 100 up.
    let between = libm::acos(libm::sin(lean) * libm::sin(lean)).to_degrees();
    close(ridges[0].most, between, 1e-6);
    close(ridges[0].least, between, 1e-6);
    close(
        ridges[0].length,
        2.0 * libm::sqrt(25.0 * 25.0 * 2.0 + 1e4),
        1e-6,
    );
    // Smooth circles have none; an eased stack has none at its stations.
    let wide = [(0.0, 100.0), (100.0, 50.0), (200.0, 100.0)];
    let stations = wide.map(|(at, radius)| of_radius(at, radius)).to_vec();
    assert!(sharp_edges(&stack(stations, Blend::Eased)).is_empty());
}

/// Derived, and so published in handbooks of fillets: a ball of radius R stays
/// R (1/cos(Φ/2) - 1) off the bottom of a valley.
#[test]
fn what_a_ball_leaves_in_a_valley() {
    close(left_by(3.0, 0.0, 129.0), 3.97, 5e-3);
    close(left_by(3.0, 0.0, 90.0), 1.243, 5e-4);
    close(left_by(25.0, 0.0, 15.0), 0.216, 5e-4);
    close(
        left_by(3.0, 1.0, 90.0),
        2.0 * (libm::sqrt(2.0) - 1.0),
        1e-12,
    );
    assert_eq!(left_by(3.0, 3.0, 129.0), 0.0);
    assert_eq!(left_by(3.0, 0.0, 180.0), f64::INFINITY);
}

/// Profiles that are smooth at their nodes but run there at other speeds.
fn uneven(points: [(i32, i32); 5]) -> Curve {
    let nodes = points.map(|(x, y)| Node::smooth(x, y)).to_vec();
    Curve::new(&Profile::closed(nodes), Pacing::Node).unwrap()
}

/// Pieces of every kind: corners and smooth joints, stacks and rings, each blend.
fn pieces() -> Vec<Piece> {
    let wide = uneven([
        (9000, 0),
        (2000, 7000),
        (-7000, 5000),
        (-6000, -4000),
        (4000, -6500),
    ]);
    let tall = uneven([
        (5000, 0),
        (3500, 9500),
        (-5000, 8000),
        (-7000, -3500),
        (2000, -5500),
    ]);
    let cornered = {
        let nodes = [
            Node::corner(8000, -1000),
            Node::smooth(3000, 7000),
            Node::corner(-7000, 5000),
            Node::smooth(-5000, -6000),
        ];
        Curve::new(&Profile::closed(nodes.to_vec()), Pacing::Parameter).unwrap()
    };
    let heights = [0.0, 70.0, 110.0, 230.0];
    let angles = [0.0, 40.0, 130.0, 250.0];
    let mut pieces = Vec::new();
    for blend in [
        Blend::Ruled,
        Blend::Eased,
        Blend::BSpline(Degree::Two),
        Blend::BSpline(Degree::Three),
    ] {
        let stack = heights.map(|at| Station::at(at).scaled(0.6 + 0.002 * at).turned(at / 10.0));
        let ring = angles.map(|at| Station::at(at).scaled(1.0 - 0.001 * at).shifted(250.0, 0.0));
        for stations in [
            Stations::stack(stack.to_vec()).unwrap(),
            Stations::ring(ring.to_vec(), true).unwrap(),
            Stations::ring(ring.to_vec(), false).unwrap(),
        ] {
            let layout = Layout::new(stations, blend).unwrap();
            let curves = [&wide, &tall, &cornered];
            pieces.push(Piece::new(&curves, &layout, Arrangement(vec![0, 1, 2, 0])).unwrap());
        }
    }
    pieces
}

/// The turn between the skin a little before and a little after a place: above 0 on a
/// ridge, degrees.
fn turned(piece: &Piece, sides: [(f64, f64); 2], is_along: bool) -> f64 {
    let [one, other] = sides.map(|(u, v)| Spot::new(piece.patch(u, v), piece.outward()));
    let (cross, dot) = (
        one.normal.cross(&other.normal),
        one.normal.dot(&other.normal),
    );
    let angle = libm::atan2(cross.norm(), dot).to_degrees();
    let way = |spot: &Spot| {
        if is_along {
            spot.patch.along
        } else {
            spot.patch.across
        }
    };
    let parted = (other.normal - one.normal).dot(&(way(&one) + way(&other)));
    if parted < 0.0 { -angle } else { angle }
}

/// Every turn of the skin that is seen on a line lies within the bounds of its edge,
/// the bounds are near to what is seen, and no line with a turn is left out.
#[test]
fn every_turn_that_is_seen_is_listed_and_bounded() {
    const BESIDE: f64 = 1e-9;
    let (mut along, mut across) = (0, 0);
    for piece in pieces() {
        let edges = sharp_edges(&piece);
        let mut largest = vec![0.0_f64; edges.len()];
        let mut see = |line: Line, turn: f64| {
            if turn.abs() <= SHARP + 1e-3 {
                return;
            }
            let found = edges
                .iter()
                .position(|edge| edge.line == line && edge.is_ridge == (0.0 < turn));
            let index = found.unwrap_or_else(|| panic!("{line:?} turns by {turn}"));
            let edge = &edges[index];
            let turn = turn.abs();
            assert!(
                edge.least - 1e-3 <= turn && turn <= edge.most + 1e-3,
                "{turn}: {edge:?}"
            );
            largest[index] = largest[index].max(turn);
        };
        let knots = piece.breaks_across();
        for ends in knots.windows(2) {
            for &u in &breaks_within(&piece, (ends[0], ends[1]))[1..] {
                let at = if u == 1.0 { 0.0 } else { u };
                for k in 0..40 {
                    let v = ends[0] + (ends[1] - ends[0]) * (f64::from(k) + 0.001) / 39.002;
                    let sides = [(u - BESIDE, v), (at + BESIDE, v)];
                    see(Line::AtAlong(at), turned(&piece, sides, true));
                    along += 1;
                }
            }
        }
        let last = if piece.is_closed_across() {
            knots.len()
        } else {
            knots.len() - 1
        };
        for &v in &knots[1..last] {
            let at = if v == 1.0 { 0.0 } else { v };
            for k in 0..600 {
                let u = (f64::from(k) + 0.5) / 600.0;
                let sides = [(u, v - BESIDE), (u, at + BESIDE)];
                see(Line::AtAcross(at), turned(&piece, sides, false));
                across += 1;
            }
        }
        for (edge, largest) in edges.iter().zip(largest) {
            assert!(edge.most <= edge.seen + 0.03, "{edge:?}");
            assert!(edge.most <= largest.max(SHARP) + 0.6, "{largest}: {edge:?}");
        }
    }
    assert!(5000 < along && 10_000 < across, "{along} and {across}");
}

/// Smooth in both profiles, broken between them: the two speeds are before the joint
/// as 3 to 1 and after it as 1 to 3, and the tangents stand at a right angle to each
/// other, so halfway one part arrives at atan(1/3) and leaves at atan(3).
#[test]
fn a_joint_may_break_in_the_middle_of_a_loft_only() {
    let path = |turned: bool| {
        let at = |along: i32, aside: i32| {
            if turned {
                GridPoint::new(-aside, along)
            } else {
                GridPoint::new(along, aside)
            }
        };
        let long = if turned {
            [9000, 27_000]
        } else {
            [27_000, 9000]
        };
        let spans = vec![
            PathSpan::Line { to: at(0, 0) },
            PathSpan::Line { to: at(long[1], 0) },
        ];
        let outline = Outline::Path {
            start: at(-long[0], 0),
            spans,
        };
        let profile = Profile {
            name: String::new(),
            closed: false,
            outline,
        };
        Curve::new(&profile, Pacing::Node).unwrap()
    };
    let (one, other) = (path(false), path(true));
    let layout = Layout::new(
        Stations::stack(vec![Station::at(0.0), Station::at(1e5)]).unwrap(),
        Blend::Ruled,
    )
    .unwrap();
    let piece = Piece::new(&[&one, &other], &layout, Arrangement(vec![0, 1])).unwrap();
    let edges = sharp_edges(&piece);
    assert_eq!(edges.len(), 1);
    let exact = (libm::atan(3.0) - libm::atan(1.0 / 3.0)).to_degrees();
    close(edges[0].most, exact, 0.02);
    close(edges[0].place.across, 0.5, 0.01);
    close(edges[0].least, 0.0, 0.01);
}

/// A circle of four arcs as a drawing holds it, its handles on the grid of 0.01 mm:
/// their rounding is no edge, two degrees are one.
#[test]
fn the_rounding_of_handles_is_no_edge() {
    let arcs = |kink: i32| {
        let point = GridPoint::new;
        let cubic = |first, second, to| PathSpan::Cubic { first, second, to };
        // 0.5523 of 33.33 mm is 18.41 mm: off by up to half a step, as is the end.
        let spans = vec![
            cubic(point(3333, 1841), point(1841, 3333), point(0, 3333)),
            cubic(point(-1841, 3332), point(-3333, 1841), point(-3333, 0)),
            cubic(point(-3333, -1841), point(-1841, -3333), point(0, -3333)),
            cubic(
                point(1841, -3333 - kink),
                point(3333, -1841),
                point(3333, 0),
            ),
        ];
        let profile = Profile {
            name: String::new(),
            closed: true,
            outline: Outline::Path {
                start: point(3333, 0),
                spans,
            },
        };
        let curve = Curve::new(&profile, Pacing::Parameter).unwrap();
        let stations = vec![Station::at(0.0).scaled(1.5), Station::at(80.0)];
        piece(&curve, Stations::stack(stations).unwrap(), Blend::Ruled)
    };
    assert!(sharp_edges(&arcs(0)).is_empty());
    // 64 steps over 1841.
    let edges = sharp_edges(&arcs(64));
    assert_eq!(edges.len(), 1);
    close(edges[0].most, libm::atan2(64.0, 1841.0).to_degrees(), 0.1);
}

#[test]
fn a_box_is_not_bent_or_pressed_without_a_fillet_that_fits() {
    // Upright walls of 100 by 100 mm, 60 high: four ridges of 90 degrees.
    let upright = squares(&[(0.0, 1.0), (60.0, 1.0)]);
    let of = |workshop: &Workshop, kind: Kind| {
        let reports = workshop.examine(&upright, &workshop.edges(&upright), false);
        reports.into_iter().find(|(one, _)| *one == kind).unwrap().1
    };
    let bare = Workshop::default();
    let bend = of(&bare, Kind::Bend);
    assert_eq!((bend.passes, bend.basis), (false, Basis::Checked));
    close(bend.worst, -0.5, 1e-12);
    for kind in [Kind::Pressure, Kind::Offset] {
        let report = of(&bare, kind);
        assert_eq!((report.passes, report.worst), (false, f64::INFINITY));
    }
    // No valley for a cutter outside; four for one inside, which leaves 1.243 mm.
    assert!(of(&bare, Kind::Cutter).passes);
    let female = Workshop {
        tool_side: ToolSide::Inside,
        ..bare
    };
    let cutter = of(&female, Kind::Cutter);
    assert_eq!((cutter.passes, cutter.worst), (false, 0.0));
    let left = |most_left: f64| {
        of(
            &Workshop {
                most_left,
                ..female
            },
            Kind::Cutter,
        )
        .passes
    };
    assert!(left(1.25) && !left(1.24));
    // A fillet of 25 mm: bent to 24.5, room .5 / 25, pressed by 2 · 8 · 1 / 25.
    let filleted = Workshop {
        fillet: 25.0,
        ..bare
    };
    let passing = |kind, value: f64| {
        let report = of(&filleted, kind);
        assert!(report.passes, "{kind:?} {report:?}");
        close(report.worst, value, 1e-9);
    };
    passing(Kind::Bend, 24.5);
    passing(Kind::Offset, 0.02);
    passing(Kind::Pressure, 0.64);
    let inside = Workshop {
        tool_side: female.tool_side,
        ..filleted
    };
    assert_eq!(of(&inside, Kind::Cutter).worst, 25.0);
    // It begins its radius from a right angle: two of 51 mm do not fit on 100 mm.
    let large = Workshop {
        fillet: 51.0,
        ..bare
    };
    let misfit = large.edges(&upright).misfit.unwrap();
    close(misfit.needed, 102.0, 0.01);
    close(misfit.there, 100.0, 1e-9);
    assert!(!of(&large, Kind::Bend).passes && !of(&large, Kind::Pressure).passes);
    assert!(of(&large, Kind::Cutter).passes);
}
