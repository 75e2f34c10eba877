//! Making checks against closed forms, on pieces whose angles and radii are known.

mod band;
mod bounds;
mod edges;
mod forming;
mod mass;
mod room;
mod sides;

use super::check::{Basis, value_at};
use super::draft::{Draft, Halves, best_direction};
use super::draft_proof::{self, Proof};
use super::undercut::{parting_lines, undercuts};
use super::workshop::{Kind, Workshop};
use super::worst::{DEGREES, examine};
use crate::blend::{Blend, Degree, Layout};
use crate::body::cells::Cell;
use crate::piece::{Arrangement, Piece};
use crate::stations::{Station, Stations};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::{Node, Profile};
use nalgebra::{Point2, UnitVector3, Vector3};
use std::f64::consts::{PI, TAU};

/// The radius at which circles are drawn, mm.
const DRAWN: f64 = 9000.0;

fn circle() -> Curve {
    let at = |value: f64| libm::round(100.0 * DRAWN * value) as i32;
    let nodes = (0..60)
        .map(|k| {
            let angle = TAU * f64::from(k) / 60.0;
            Node::smooth(at(libm::cos(angle)), at(libm::sin(angle)))
        })
        .collect();
    Curve::new(&Profile::closed(nodes), Pacing::Parameter).unwrap()
}

fn of_radius(at: f64, radius: f64) -> Station {
    Station::at(at).scaled(radius / DRAWN)
}

fn piece(curve: &Curve, stations: Stations, blend: Blend) -> Piece {
    let arrangement = Arrangement(vec![0; stations.count()]);
    let layout = Layout::new(stations, blend).unwrap();
    Piece::new(&[curve], &layout, arrangement).unwrap()
}

fn stack(stations: Vec<Station>, blend: Blend) -> Piece {
    piece(&circle(), Stations::stack(stations).unwrap(), blend)
}

/// A torus of tube radius 50 mm at 200 mm.
fn torus() -> Piece {
    let stations = [0.0, 120.0, 240.0].map(|at| of_radius(at, 50.0).shifted(200.0, 0.0));
    let stations = Stations::ring(stations.to_vec(), true).unwrap();
    piece(&circle(), stations, Blend::Ruled)
}

/// An open straight profile all round: a cone about z from (r, z) to (r, z).
fn cone(from: (i32, i32), to: (i32, i32)) -> Piece {
    let nodes = [from, to].map(|(x, y)| Node::smooth(100 * x, 100 * y));
    let curve = Curve::new(&Profile::open(nodes.to_vec()), Pacing::Parameter).unwrap();
    let stations = [0.0, 90.0, 200.0].map(Station::at).to_vec();
    piece(
        &curve,
        Stations::ring(stations, true).unwrap(),
        Blend::Ruled,
    )
}

fn up() -> UnitVector3<f64> {
    Vector3::z_axis()
}

fn draft(direction: UnitVector3<f64>, least: f64) -> Draft {
    Draft {
        direction,
        halves: Halves::One,
        least,
    }
}

#[track_caller]
fn close(value: f64, exact: f64, tolerance: f64) {
    assert!((value - exact).abs() < tolerance, "{value} for {exact}");
}

/// A cone of 100 over 60 on 200 has arctan(40 / 200) = 11.3 degrees of draft.
#[test]
fn the_draft_of_a_cone_is_its_half_angle() {
    let exact = libm::atan2(40.0, 200.0).to_degrees();
    let pieces = [
        stack(
            vec![of_radius(0.0, 100.0), of_radius(200.0, 60.0)],
            Blend::Ruled,
        ),
        cone((60, 200), (100, 0)),
        cone((100, 0), (60, 200)),
    ];
    for piece in &pieces {
        let check = draft(up(), 5.0);
        let report = examine(piece, &[&check])[0];
        close(report.found, exact, 1e-4);
        assert!((exact - DEGREES - 1e-4..=exact).contains(&report.worst));
        assert!(report.passes);
        assert_eq!(report.basis, Basis::Proved);
        assert!(draft_proof::proves(piece, &draft(up(), exact - 0.1)));
        assert!(!draft_proof::proves(piece, &draft(up(), exact + 0.1)));
        let asked = draft(up(), 15.0);
        let refused = examine(piece, &[&asked])[0];
        assert!(!refused.passes);
        assert_eq!(refused.basis, Basis::Checked);
        assert!(undercuts(piece, up()).is_empty());
        let best = best_direction(piece).unwrap();
        close(best.least, exact, 1e-2);
        assert!(best.least <= best.bound.unwrap());
        assert!(0.999_99 < best.direction.dot(&up()));
    }
}

/// The joints of these two profiles lie about 1e-11 apart: the sliver between them
/// must not be taken for a span with roundings as large.
#[test]
fn joints_that_nearly_meet_do_not_hinder_the_proof() {
    let line = |(x, y): (i32, i32)| {
        let nodes = [
            (9_000_000 + x, y),
            (8_500_000, 5_000_000),
            (8_000_000, 9_999_000),
        ];
        let nodes = nodes.map(|(x, y)| Node::smooth(x, y)).to_vec();
        Curve::new(&Profile::open(nodes), Pacing::Parameter).unwrap()
    };
    // Square to the first chord, so its length changes in the second order only.
    let (one, other) = (line((0, 0)), line((50, 5)));
    let gap = (one.breaks()[1] - other.breaks()[1]).abs();
    assert!(0.0 < gap && gap < 1e-10, "{gap:e}");
    let stations = [0.0, 90.0, 200.0, 300.0].map(Station::at).to_vec();
    let layout = Layout::new(Stations::ring(stations, true).unwrap(), Blend::Ruled).unwrap();
    let word = Arrangement(vec![0, 1, 0, 1]);
    let piece = Piece::new(&[&one, &other], &layout, word).unwrap();
    assert!(draft_proof::proves(&piece, &draft(up(), 5.0)));
}

#[test]
fn eased_and_splined_skins_are_proved_as_well() {
    let radii = [100.0, 90.0, 70.0, 40.0];
    let heights = [0.0, 60.0, 100.0, 120.0];
    let stations = || {
        let places = heights.iter().zip(radii);
        places.map(|(&at, radius)| of_radius(at, radius)).collect()
    };
    for degree in [Degree::Two, Degree::Three] {
        let piece = stack(stations(), Blend::BSpline(degree));
        assert!(draft_proof::proves(&piece, &draft(up(), 5.0)));
    }
    // An eased skin stands upright at its stations: no draft there.
    let eased = stack(stations(), Blend::Eased);
    let report = examine(&eased, &[&draft(up(), 1.0)])[0];
    assert!(!report.passes);
    close(report.worst, 0.0, 1e-5);
    assert!(!draft_proof::proves(&eased, &draft(up(), 1.0)));
}

#[test]
fn a_sideways_direction_of_a_ring_sector_is_proved() {
    // A bowl's sector of 60 degrees about x, drawn along x.
    let nodes = vec![Node::smooth(10_000, 0), Node::smooth(10_000, 5000)];
    let curve = Curve::new(&Profile::open(nodes), Pacing::Parameter).unwrap();
    let stations = [-30.0, 10.0, 30.0].map(Station::at).to_vec();
    let sector = piece(
        &curve,
        Stations::ring(stations, false).unwrap(),
        Blend::Ruled,
    );
    let along_x = Vector3::x_axis();
    // The normal stands at 30 degrees to x at the ends: 60 degrees of draft.
    let report = examine(&sector, &[&draft(along_x, 50.0)])[0];
    close(report.worst, 60.0, 1e-4);
    assert!(draft_proof::proves(&sector, &draft(along_x, 59.0)));
    assert!(!draft_proof::proves(&sector, &draft(along_x, 61.0)));
}

/// Half of a torus faces down; it parts along its outer and its inner equator.
#[test]
fn a_torus_has_an_undercut_and_two_parting_lines() {
    let torus = torus();
    let regions = undercuts(&torus, up());
    assert_eq!(regions.len(), 1);
    let half = 2.0 * PI * PI * 200.0 * 50.0;
    close(regions[0].area / half, 1.0, 0.01);
    close(regions[0].worst, -90.0, 1.0);
    let lines = parting_lines(&torus, up());
    assert_eq!(lines.len(), 2);
    for line in &lines {
        assert!(line.closed);
        close(line.height, 0.0, 1e-3);
        let radius = libm::hypot(line.places[0].point.x, line.places[0].point.y);
        assert!((radius - 250.0).abs() < 1e-3 || (radius - 150.0).abs() < 1e-3);
    }
    let two = Draft {
        halves: Halves::Two,
        ..draft(up(), 1.0)
    };
    close(examine(&torus, &[&two])[0].worst, 0.0, 1e-3);
    // No direction draws a torus in one: all normals occur.
    let best = best_direction(&torus).unwrap();
    assert_eq!(best.bound, None);
    assert!(best.least < -80.0);
}

#[test]
fn a_survey_tells_undercut_from_drafted() {
    let torus = torus();
    let cells = draft_proof::survey(&torus, &draft(up(), 0.0));
    let share = |proof: Proof| -> f64 {
        let area = |cell: &Cell| (cell.along.1 - cell.along.0) * (cell.across.1 - cell.across.0);
        let such = cells.iter().filter(|(_, found)| *found == proof);
        such.map(|(cell, _)| area(cell)).sum()
    };
    // Half of the tube looks down; what stays open is a thin strip.
    assert!((0.45..=0.5).contains(&share(Proof::Drafted)));
    assert!((0.45..=0.5).contains(&share(Proof::Undercut)));
    close(
        share(Proof::Drafted) + share(Proof::Undercut) + share(Proof::Open),
        1.0,
        1e-9,
    );
    for (cell, proof) in &cells {
        let (u, v) = cell.at(0.5, 0.5);
        let here = value_at(&torus, &draft(up(), 0.0), u, v);
        match proof {
            Proof::Drafted => assert!(0.0 < here),
            Proof::Undercut => assert!(here < 0.0),
            Proof::Open => assert!(here.abs() < 2.0),
        }
    }
}

#[test]
fn a_workshop_gives_the_reports_of_its_checks() {
    let piece = cone((100, 0), (60, 200));
    let workshop = Workshop::default();
    let found = workshop.examine(&piece, &workshop.edges(&piece), true);
    assert_eq!(found.len(), Kind::ALL.len());
    for (kind, report) in &found {
        let check = workshop.check(*kind);
        let alone = examine(&piece, &[&*check])[0];
        assert_eq!(report.worst, alone.worst);
        let formula = check.formula();
        assert!(!formula.text.is_empty() && !formula.source.is_empty());
        assert!(!formula.caution.is_empty() && !kind.title().is_empty());
    }
    assert_eq!(found[0].1.basis, Basis::Proved);
}

#[test]
fn an_oblique_cone_is_drawn_best_along_its_lean() {
    // Every ruling of an oblique cone leans by the shift; drawn along the line of
    // centres both sides have the same draft.
    let leaning = |shift: f64| {
        let stations = vec![
            of_radius(0.0, 100.0),
            of_radius(200.0, 60.0).shifted(shift, 0.0),
        ];
        stack(stations, Blend::Ruled)
    };
    let piece = leaning(60.0);
    assert_eq!(undercuts(&piece, up()).len(), 1);
    let best = best_direction(&piece).unwrap();
    assert!(0.0 < best.least);
    assert!(undercuts(&piece, best.direction).is_empty());
    let report = examine(&piece, &[&draft(best.direction, 0.0)])[0];
    close(report.worst, best.least, 0.05);
    // In the plane of the lean the walls stand at arctan(20/200) and (100/200):
    // the direction half way between them gives half of their difference.
    let (one, other) = (libm::atan2(20.0, 200.0), libm::atan2(100.0, 200.0));
    close(best.least, ((other - one) / 2.0).to_degrees(), 0.1);
    assert!(best.direction.y.abs() < 1e-2);
}

#[test]
fn places_tell_where_the_worst_is() {
    let stations = vec![
        of_radius(0.0, 100.0),
        of_radius(200.0, 60.0).shifted(60.0, 0.0),
    ];
    let piece = stack(stations, Blend::Ruled);
    let check = draft(up(), 0.0);
    let report = examine(&piece, &[&check])[0];
    let place = report.place.unwrap();
    // The overhang is on the side of the lean: at u = 0 of a circle from +x.
    assert!(place.along < 0.02 || 0.98 < place.along);
    close(
        value_at(&piece, &check, place.along, place.across),
        report.found,
        1e-9,
    );
    close(report.worst, report.found, DEGREES);
    let point = piece.section_point(place.along, place.across);
    assert!((point - Point2::new(place.point.x, place.point.y)).norm() < 1e-9);
}
