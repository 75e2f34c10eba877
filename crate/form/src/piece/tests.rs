//! Points and derivatives of pieces against differences, outsides, refusals.

use super::*;
use crate::blend::{Blend, Degree};
use crate::stations::{Station, Stations};
use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::{Node, Profile};
use nalgebra::Vector3;

fn round(radius: f64, middle: i32) -> Curve {
    let nodes = (0..16)
        .map(|k| {
            let angle = std::f64::consts::TAU * f64::from(k) / 16.0;
            let at = |value: f64| libm::round(100.0 * radius * value) as i32;
            Node::smooth(middle + at(libm::cos(angle)), at(libm::sin(angle)))
        })
        .collect();
    Curve::new(&Profile::closed(nodes), Pacing::Parameter).unwrap()
}

fn layouts() -> Vec<Layout> {
    let places = || {
        vec![
            Station::at(0.0),
            Station::at(40.0).scaled(1.5).turned(20.0),
            Station::at(130.0).shifted(3.0, -2.0),
            Station::at(200.0).turned(-15.0),
        ]
    };
    let settings = [
        Stations::stack(places()),
        Stations::ring(places(), false),
        Stations::ring(places(), true),
    ];
    settings
        .into_iter()
        .flat_map(|stations| {
            let stations = stations.unwrap().about(Point2::new(80.0, 0.0)).unwrap();
            [Blend::Ruled, Blend::Eased, Blend::BSpline(Degree::Three)]
                .map(|blend| Layout::new(stations.clone(), blend).unwrap())
        })
        .collect()
}

#[test]
fn derivatives_are_those_of_the_points() {
    const STEP: f64 = 1e-5;
    let (one, other) = (round(20.0, 8000), round(31.0, 8000));
    for layout in layouts() {
        let arrangement = Arrangement(vec![0, 1, 1, 0]);
        let piece = Piece::new(&[&one, &other], &layout, arrangement).unwrap();
        for (u, v) in [(0.13, 0.11), (0.52, 0.4), (0.9, 0.83)] {
            let patch = piece.patch(u, v);
            assert!((patch.point - piece.point(u, v)).norm() < 1e-10);
            let near = |du: f64, dv: f64| piece.patch(u + du * STEP, v + dv * STEP);
            let by = |find: fn(&Patch) -> Vector3<f64>, du: f64, dv: f64| {
                (find(&near(du, dv)) - find(&near(-du, -dv))) / (2.0 * STEP)
            };
            let close = |a: Vector3<f64>, b: Vector3<f64>| {
                assert!((a - b).norm() < 1e-5 * (1.0 + a.norm()), "{a} {b}");
            };
            close(by(|patch| patch.point.coords, 1.0, 0.0), patch.along);
            close(by(|patch| patch.point.coords, 0.0, 1.0), patch.across);
            close(by(|patch| patch.along, 1.0, 0.0), patch.along_along);
            close(by(|patch| patch.along, 0.0, 1.0), patch.along_across);
            close(by(|patch| patch.across, 0.0, 1.0), patch.across_across);
        }
    }
}

#[test]
fn outward_is_away_from_the_middle() {
    let curve = round(20.0, 8000);
    for layout in layouts() {
        let piece = Piece::new(&[&curve], &layout, Arrangement(vec![0; 4])).unwrap();
        for (u, v) in [(0.0, 0.1), (0.3, 0.5), (0.7, 0.9)] {
            let across = piece.layout().across(v);
            let middle = piece.in_space(
                nalgebra::center(
                    &piece.section_point(u, v),
                    &piece.section_point(u + if u < 0.5 { 0.5 } else { -0.5 }, v),
                ),
                across.place[0],
            );
            let patch = piece.patch(u, v);
            let outward = patch.cross() * piece.outward();
            assert!(0.0 < outward.dot(&(patch.point - middle)));
        }
    }
}

#[test]
fn the_area_of_a_round_is_nearly_that_of_its_circle() {
    let area = signed_area(&round(20.0, 0));
    let circle = std::f64::consts::PI * 400.0;
    assert!((area / circle - 1.0).abs() < 1e-3, "{area} {circle}");
    assert!((signed_area(&round(20.0, 5000)) - area).abs() < 1e-9 * area);
}

#[test]
fn wrong_arrangements_are_named() {
    let curve = round(20.0, 8000);
    let layout = &layouts()[0];
    let piece = |profiles| Piece::new(&[&curve], layout, Arrangement(profiles));
    assert_eq!(
        piece(vec![0; 3]),
        Err(PieceError::Length {
            profiles: 3,
            stations: 4
        })
    );
    assert_eq!(
        piece(vec![0, 0, 7, 0]),
        Err(PieceError::NoSuchProfile {
            station: 3,
            profile: 8,
            count: 1
        })
    );
    let open = Profile::open(vec![Node::smooth(0, 0), Node::smooth(100, 0)]);
    let open = Curve::new(&open, Pacing::Parameter).unwrap();
    assert!(matches!(
        Piece::new(&[&open], layout, Arrangement(vec![0; 4])),
        Err(PieceError::Layout(LayoutError::Stations(
            StationError::TurnOfOpen { station: 2 }
        )))
    ));
}
