//! The band beside the parting line of two halves against closed forms.

use super::*;
use crate::making::band::{Band, band};

fn halves(direction: UnitVector3<f64>, least: f64) -> Draft {
    Draft {
        halves: Halves::Two,
        ..draft(direction, least)
    }
}

#[track_caller]
fn of(piece: &Piece, direction: UnitVector3<f64>, least: f64) -> Band {
    let band = band(piece, &halves(direction, least));
    println!(
        "{} bound {:?} area {} cells {}",
        band.width,
        band.bound,
        band.area,
        band.cells.len()
    );
    let bound = band.bound.unwrap();
    assert!(band.width <= bound + 1e-6, "{} of {bound}", band.width);
    band
}

/// Around a profile of nodes, drawn in mm, all round.
fn turned(nodes: Vec<Node>) -> Piece {
    let curve = Curve::new(&Profile::open(nodes), Pacing::Parameter).unwrap();
    let stations = [0.0, 90.0, 200.0].map(Station::at).to_vec();
    let stations = Stations::ring(stations, true).unwrap();
    piece(&curve, stations, Blend::Ruled)
}

/// A cylinder on its side parts along two rulings; a place turned by the limit from
/// one is R times the limit from it.
#[test]
fn beside_the_rulings_of_a_cylinder_the_band_is_its_radius_times_the_limit() {
    let (radius, height) = (50.0, 80.0);
    let stations = vec![of_radius(0.0, radius), of_radius(height, radius)];
    let cylinder = stack(stations, Blend::Ruled);
    for aslant in [0.0, 0.4, 1.0] {
        let direction = Vector3::new(libm::cos(aslant), libm::sin(aslant), 0.0);
        for least in [0.5, 2.0, 10.0_f64] {
            let band = of(&cylinder, UnitVector3::new_normalize(direction), least);
            let exact = radius * least.to_radians();
            close(band.width / exact, 1.0, 1e-3);
            assert!(band.bound.unwrap() < 1.2 * exact + 0.04);
            // Two rulings with a half on either side.
            let area = 4.0 * exact * height;
            assert!(area < band.area * 1.001 && band.area < 1.3 * area);
            let place = band.place.unwrap();
            let draft = value_at(
                &cylinder,
                &halves(UnitVector3::new_normalize(direction), least),
                place.along,
                place.across,
            );
            close(draft, least, 1e-3);
        }
    }
}

/// A cone of half angle a on its side: cos a cos(turn) is the sine of the draft,
/// and unrolled the turn t is the angle t sin a about the apex.
#[test]
fn a_cone_on_its_side_has_its_widest_band_at_its_wide_end() {
    let cone = stack(
        vec![of_radius(0.0, 100.0), of_radius(200.0, 60.0)],
        Blend::Ruled,
    );
    let lean = libm::atan2(40.0, 200.0);
    for least in [2.0, 8.0_f64] {
        let band = of(&cone, Vector3::x_axis(), least);
        let turn = libm::asin(libm::sin(least.to_radians()) / libm::cos(lean));
        let to_apex = 100.0 / libm::sin(lean);
        let exact = to_apex * libm::sin(turn * libm::sin(lean));
        close(band.width / exact, 1.0, 2e-3);
        close(band.place.unwrap().point.z, 0.0, 1e-6);
        assert!(band.bound.unwrap() < 1.25 * exact);
    }
}

/// The zone of a ball between 60 degrees south and north, drawn along its axis and
/// sideways: it parts along a great circle, and the band is R times the limit.
#[test]
fn beside_the_great_circle_of_a_ball_the_band_is_its_radius_times_the_limit() {
    let radius = 40.0;
    let at = |value: f64| libm::round(100.0 * radius * value) as i32;
    let nodes = (-30..=30).map(|k| {
        let angle = f64::from(k) * 2.0_f64.to_radians();
        Node::smooth(at(libm::cos(angle)), at(libm::sin(angle)))
    });
    let ball = turned(nodes.collect());
    for direction in [up(), Vector3::x_axis()] {
        let band = of(&ball, direction, 3.0);
        let exact = radius * 3.0_f64.to_radians();
        // Nodes on the grid of .01 mm, 1.4 mm apart, turn the normal by some tenth
        // of a degree.
        close(band.width / exact, 1.0, 0.15);
        assert!(band.bound.unwrap() < 1.5 * exact);
    }
}

/// The tube of a torus parts along both its equators.
#[test]
fn a_torus_has_as_wide_a_band_within_as_without() {
    let band = of(&torus(), up(), 2.0);
    let exact = 50.0 * 2.0_f64.to_radians();
    close(band.width / exact, 1.0, 1e-3);
    assert!(band.bound.unwrap() < 1.2 * exact);
    let area = 2.0 * exact * TAU * (250.0 + 150.0);
    assert!(area < band.area * 1.002 && band.area < 1.2 * area, "{area}");
}

/// Two steep walls meet in a parting edge: they are the band themselves when their
/// draft is below the limit, and there is none when it is not.
#[test]
fn steep_walls_are_a_band_as_wide_as_they_are_high() {
    let nodes = [(95, -100), (100, 0), (95, 100)].map(|(x, y)| Node::corner(100 * x, 100 * y));
    let walls = turned(nodes.to_vec());
    let steep = of(&walls, up(), 5.0);
    let slant = libm::hypot(5.0, 100.0);
    // The edge is looked at in chords of 5 degrees.
    close(steep.width, slant, 1e-3);
    assert!(steep.bound.unwrap() < 1.01 * slant);
    close(steep.place.unwrap().point.z.abs(), 100.0, 1e-6);
    let ample = of(&walls, up(), 2.0);
    assert!(ample.is_none() && ample.place.is_none());
    assert_eq!(
        (ample.width, ample.bound, ample.area),
        (0.0, Some(0.0), 0.0)
    );
    let check = halves(up(), 2.0);
    let report = examine(&walls, &[&check])[0];
    assert_eq!(ample.confirmed(report, 0.0).basis, Basis::Proved);
    let check = halves(up(), 5.0);
    let report = examine(&walls, &[&check])[0];
    let refused = steep.confirmed(report, 50.0);
    assert!(!refused.passes && matches!(refused.basis, Basis::Sampled { .. }));
    let without = steep.confirmed(report, 0.0);
    assert!(!without.passes && without.basis == Basis::Checked);
    let accepted = steep.confirmed(report, 110.0);
    assert!(accepted.passes && accepted.basis == Basis::Proved);
}

/// A wall that leans enough, then too little, then enough: what lacks draft lies far
/// from the parting line, and is told so.
#[test]
fn what_lacks_draft_far_from_the_line_is_found() {
    let nodes = [(100, -30), (110, 0), (100, 30), (99, 80), (60, 120)];
    let nodes = nodes.map(|(x, y)| Node::corner(100 * x, 100 * y));
    let band = of(&turned(nodes.to_vec()), up(), 5.0);
    // From the edge at 0 up the first wall and the steep one above it.
    let far = libm::hypot(10.0, 30.0) + libm::hypot(1.0, 50.0);
    let straight = libm::hypot(11.0, 80.0);
    close(band.width, straight, 0.01);
    assert!(straight < far);
    assert!((far..1.01 * far).contains(&band.bound.unwrap()));
}

/// The walls of a square prism that run along the direction have no draft at all.
#[test]
fn flat_walls_along_the_direction_are_band_from_edge_to_edge() {
    let side = 40;
    let corners = [(0, 0), (side, 0), (side, side), (0, side)];
    let corners = corners.map(|(x, y)| Node::corner(100 * x, 100 * y));
    let curve = Curve::new(&Profile::closed(corners.to_vec()), Pacing::Parameter).unwrap();
    let stations = Stations::stack([0.0, 30.0].map(Station::at).to_vec()).unwrap();
    let prism = piece(&curve, stations, Blend::Ruled);
    let band = of(&prism, Vector3::x_axis(), 2.0);
    close(band.width, 40.0, 1e-6);
    close(band.bound.unwrap(), 40.0, 1e-3);
    close(band.area, 2.0 * 40.0 * 30.0, 1.0);
    // It parts at two edges, one of them at the seam.
    assert_eq!(parting_lines(&prism, Vector3::x_axis()).len(), 2);
    // Over its corners it needs no band.
    let diagonal = UnitVector3::new_normalize(Vector3::new(1.0, 1.0, 0.0));
    assert!(of(&prism, diagonal, 44.0).is_none());
}

#[test]
fn what_faces_one_half_alone_has_its_draft_everywhere_or_no_line_to_part_it() {
    let cone = cone((100, 0), (60, 200));
    let ample = band(&cone, &halves(up(), 5.0));
    assert!(ample.is_none() && ample.keeps(0.0) == Some(true));
    let steep = band(&cone, &halves(up(), 15.0));
    assert_eq!((steep.width, steep.bound), (f64::INFINITY, None));
    assert_eq!(steep.keeps(1e6), None);
}
