//! Measures against closed forms. Circles are splines through 120 points on the
//! grid, drawn large and scaled down, within 1e-7 of round.

use super::rest::{rest, tilted};
use super::wall::{Sheet, Side};
use super::*;
use crate::blend::{Blend, Degree, Layout};
use crate::piece::{Arrangement, Piece};
use crate::stations::{Station, Stations};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::{Node, Profile};
use nalgebra::Point3;
use proptest::prelude::*;
use std::f64::consts::{PI, TAU};

const ROUND: f64 = 1e-7;

/// The radius at which circles are drawn, mm: near the reach of the grid.
const DRAWN: f64 = 90_000.0;

fn circle() -> Curve {
    let at = |value: f64| libm::round(100.0 * DRAWN * value) as i32;
    let nodes = (0..120)
        .map(|k| {
            let angle = TAU * f64::from(k) / 120.0;
            Node::smooth(at(libm::cos(angle)), at(libm::sin(angle)))
        })
        .collect();
    Curve::new(&Profile::closed(nodes), Pacing::Parameter).unwrap()
}

/// A station at which a circle has `radius` mm.
fn of_radius(at: f64, radius: f64) -> Station {
    Station::at(at).scaled(radius / DRAWN)
}

fn polygon(corners: &[(i32, i32)]) -> Curve {
    let nodes = corners.iter().map(|&(x, y)| Node::corner(x, y)).collect();
    Curve::new(&Profile::closed(nodes), Pacing::Parameter).unwrap()
}

/// Of side 100 mm, about the origin.
fn square() -> Curve {
    polygon(&[(5000, 5000), (-5000, 5000), (-5000, -5000), (5000, -5000)])
}

fn stack(curve: &Curve, stations: Vec<Station>, blend: Blend) -> Piece {
    let arrangement = Arrangement(vec![0; stations.len()]);
    let layout = Layout::new(Stations::stack(stations).unwrap(), blend).unwrap();
    Piece::new(&[curve], &layout, arrangement).unwrap()
}

fn ring(curve: &Curve, stations: Vec<Station>, all_round: bool, blend: Blend) -> Piece {
    let arrangement = Arrangement(vec![0; stations.len()]);
    let layout = Layout::new(Stations::ring(stations, all_round).unwrap(), blend).unwrap();
    Piece::new(&[curve], &layout, arrangement).unwrap()
}

/// Circles of 500 mm, 2000 mm from the axis and 300 mm up.
fn tube(angles: &[f64], all_round: bool, blend: Blend) -> Piece {
    let stations = angles
        .iter()
        .map(|&at| of_radius(at, 500.0).shifted(2000.0, 300.0));
    ring(&circle(), stations.collect(), all_round, blend)
}

#[track_caller]
fn close(value: f64, exact: f64, tolerance: f64) {
    let off = (value - exact).abs() / exact.abs();
    assert!(off < tolerance, "{value} for {exact}: off by {off:e}");
}

#[track_caller]
fn agrees(measures: &Measures) -> f64 {
    let volume = measures.volume.unwrap();
    let disagreement = volume.disagreement().unwrap();
    assert!(disagreement < 1e-11, "{volume:?}");
    volume.by_sections
}

/// R = 2, r = 1, h = 3 (metres here): volume 7 pi, lateral area 3 pi sqrt 10.
#[test]
fn a_frustum_has_its_volume_and_area() {
    let stations = vec![of_radius(0.0, 2000.0), of_radius(3000.0, 1000.0)];
    let piece = stack(&circle(), stations, Blend::Ruled);
    let measures = measure(&piece, 1e-9);
    close(agrees(&measures), 7e9 * PI, ROUND);
    close(measures.skin_area.value, 3e6 * PI * libm::sqrt(10.0), ROUND);
    assert!(measures.skin_area.error < 1e-9 * measures.skin_area.value);
    // Centre of a frustum: h (R² + 2 R r + 3 r²) / (4 (R² + R r + r²)).
    let centre = measures.solid_centre.unwrap();
    close(centre.z, 3000.0 * 11.0 / 28.0, ROUND);
    // Of its lateral surface: h (R + 2 r) / (3 (R + r)).
    close(measures.skin_centre.z, 3000.0 * 4.0 / 9.0, ROUND);
    let [bottom, top] = measures.cap_areas.unwrap();
    close(bottom, 4e6 * PI, ROUND);
    close(top, 1e6 * PI, ROUND);
}

/// Two circles, the seam turned by theta: pi r² h (2 + cos theta) / 3; the area
/// is that of the hyperboloid, by Simpson's rule over its height.
#[test]
fn a_turned_circle_makes_a_hyperboloid() {
    let curve = circle();
    for degrees in [60.0, 90.0, 120.0, 150.0_f64] {
        let stations = vec![
            of_radius(0.0, 1000.0),
            of_radius(1500.0, 1000.0).turned(degrees),
        ];
        let measures = measure(&stack(&curve, stations, Blend::Ruled), 1e-9);
        let turn = degrees.to_radians();
        let exact = PI * 1e6 * 1500.0 * (2.0 + libm::cos(turn)) / 3.0;
        close(agrees(&measures), exact, ROUND);
        let shrink = libm::sin(turn / 2.0) * libm::sin(turn / 2.0);
        // rho² = r² (1 - 4 v (1-v) shrink); area element 2 pi sqrt(rho² h² + (rho rho')²).
        let element = |v: f64| {
            let squared = 1e6 * (1.0 - 4.0 * v * (1.0 - v) * shrink);
            let half_slope = -2e6 * (1.0 - 2.0 * v) * shrink;
            TAU * libm::sqrt(squared * 1500.0 * 1500.0 + half_slope * half_slope)
        };
        let steps = 4000;
        let simpson: f64 = (0..=steps)
            .map(|k| {
                let factor = match k {
                    0 => 1.0,
                    k if k == steps => 1.0,
                    k if k % 2 == 1 => 4.0,
                    _ => 2.0,
                };
                factor * element(f64::from(k) / f64::from(steps))
            })
            .sum();
        close(
            measures.skin_area.value,
            simpson / (3.0 * f64::from(steps)),
            ROUND,
        );
    }
}

/// Square of side 1 turned about its centre, by the prismoidal formula.
#[test]
fn turned_squares_have_their_volumes() {
    for (degrees, exact) in [(45.0, 0.902_369), (90.0, 2.0 / 3.0), (180.0, 1.0 / 3.0)] {
        let stations = vec![Station::at(0.0), Station::at(100.0).turned(degrees)];
        let measures = measure(&stack(&square(), stations, Blend::Ruled), 1e-6);
        close(agrees(&measures), exact * 1e6, 1e-6);
    }
}

#[test]
fn blends_of_equal_sections_are_prisms() {
    for blend in [
        Blend::Eased,
        Blend::BSpline(Degree::Two),
        Blend::BSpline(Degree::Three),
    ] {
        let stations = [0.0, 30.0, 90.0, 100.0].map(Station::at).to_vec();
        let measures = measure(&stack(&square(), stations, blend), 1e-9);
        close(agrees(&measures), 1e6, 1e-12);
        close(measures.skin_area.value, 4e4, 1e-12);
        assert!((measures.solid_centre.unwrap() - Point3::new(0.0, 0.0, 50.0)).norm() < 1e-10);
    }
}

/// Pappus: volume 2 pi² R r², area 4 pi² R r.
#[test]
fn a_ring_of_equal_circles_is_a_torus() {
    for blend in [Blend::Ruled, Blend::Eased, Blend::BSpline(Degree::Three)] {
        let piece = tube(&[10.0, 70.0, 200.0, 300.0], true, blend);
        let measures = measure(&piece, 1e-9);
        assert_eq!(measures.enclosure, Enclosure::Round);
        close(agrees(&measures), 2.0 * PI * PI * 2000.0 * 250_000.0, ROUND);
        close(
            measures.skin_area.value,
            4.0 * PI * PI * 2000.0 * 500.0,
            ROUND,
        );
        let middle = Point3::new(0.0, 0.0, 300.0);
        assert!((measures.solid_centre.unwrap() - middle).norm() < 1e-3);
        // Integral curvatures of a torus: K to 0 (Gauss and Bonnet), H to 2 pi² R.
        assert!(measures.gauss_curvature.abs() < 1e-6);
        close(measures.mean_curvature, 2.0 * PI * PI * 2000.0, 1e-5);
    }
}

#[test]
fn a_half_ring_has_half_the_volume_and_two_caps() {
    let piece = tube(&[0.0, 90.0, 180.0], false, Blend::Ruled);
    let measures = measure(&piece, 1e-9);
    assert_eq!(measures.enclosure, Enclosure::Capped);
    close(agrees(&measures), PI * PI * 2000.0 * 250_000.0, ROUND);
    for area in measures.cap_areas.unwrap() {
        close(area, PI * 250_000.0, ROUND);
    }
    // Centre of a half ring: (R² + r²/4) 2 / (pi R) from the diameter.
    let exact = (4e6 + 62_500.0) * 2.0 / (PI * 2000.0);
    close(measures.solid_centre.unwrap().y, exact, ROUND);
}

/// A cone as a ring of one straight open profile, from rim to near the tip.
#[test]
fn an_open_profile_all_round_encloses_what_lies_to_the_axis() {
    let nodes = vec![Node::smooth(30_000, 0), Node::smooth(10_000, 60_000)];
    let curve = Curve::new(&Profile::open(nodes), Pacing::Parameter).unwrap();
    let stations = [0.0, 100.0, 250.0].map(Station::at).to_vec();
    let measures = measure(&ring(&curve, stations, true, Blend::Ruled), 1e-10);
    assert_eq!(measures.enclosure, Enclosure::ToAxis);
    // Frustum: pi h (R² + R r + r²) / 3 and pi (R + r) slant.
    let exact = PI * 600.0 * (90_000.0 + 30_000.0 + 10_000.0) / 3.0;
    close(measures.volume.unwrap().by_sections, exact, 1e-12);
    let slant = libm::hypot(200.0, 600.0);
    close(measures.skin_area.value, PI * 400.0 * slant, 1e-9);
    // A cone bends once, by h / (r slant): half of it over 2 pi r and the slant is
    // pi h.
    close(measures.mean_curvature, PI * 600.0, 1e-6);
}

/// A level washer encloses nothing, and neither does a skin whose sections rise at
/// one station and fall at another: their shares would cancel.
#[test]
fn an_open_skin_that_rises_and_falls_encloses_nothing() {
    let line = |from: (i32, i32), to: (i32, i32)| {
        let nodes = [from, to].map(|(x, y)| Node::smooth(x, y)).to_vec();
        Curve::new(&Profile::open(nodes), Pacing::Parameter).unwrap()
    };
    let rising = line((10_000, 0), (20_000, 5000));
    let level = line((10_000, 0), (20_000, 0));
    let falling = line((10_000, 0), (20_000, -5000));
    let curves = [&rising, &level, &falling];
    let measured = |word: [usize; 4]| {
        let stations = [0.0, 90.0, 180.0, 270.0].map(Station::at).to_vec();
        let stations = Stations::ring(stations, true).unwrap();
        let layout = Layout::new(stations, Blend::Ruled).unwrap();
        let piece = Piece::new(&curves, &layout, Arrangement(word.to_vec())).unwrap();
        measure(&piece, 1e-6)
    };
    assert_eq!(measured([0; 4]).enclosure, Enclosure::ToAxis);
    for word in [[1; 4], [0, 1, 2, 1]] {
        let measures = measured(word);
        assert_eq!(measures.enclosure, Enclosure::Nothing);
        assert_eq!((measures.volume, measures.solid_centre), (None, None));
        assert!(0.0 < measures.skin_area.value);
    }
}

/// A tube with a drawn radius of 1000 and a sheet on either side of it.
#[test]
fn the_wall_of_a_tube_is_that_of_two_cylinders() {
    let stations = vec![of_radius(0.0, 1000.0), of_radius(1000.0, 1000.0)];
    let piece = stack(&circle(), stations, Blend::Ruled);
    let measures = measure(&piece, 1e-9);
    let between = |inner: f64, outer: f64| PI * 1000.0 * (outer * outer - inner * inner);
    for (side, inner, outer) in [
        (Side::Middle, 980.0, 1020.0),
        (Side::Inside, 960.0, 1000.0),
        (Side::Outside, 1000.0, 1040.0),
    ] {
        let sheet = Sheet {
            gauge: 40.0,
            density: 2.7,
            side,
            with_caps: false,
        };
        let wall = sheet.wall(&measures);
        close(wall.volume, between(inner, outer), 1e-5);
        close(wall.mass, between(inner, outer) * 2.7e-6, 1e-5);
        close(wall.capacity.unwrap(), PI * 1000.0 * inner * inner, 1e-5);
        close(wall.centre.z, 500.0, 1e-6);
        let capped = Sheet {
            with_caps: true,
            ..sheet
        };
        let caps = capped.wall(&measures).volume - wall.volume;
        close(caps, 2.0 * PI * 1e6 * 40.0, 1e-6);
    }
}

#[test]
fn a_leaning_block_tips_at_its_angle() {
    // 100 wide, 200 high, its top shifted: the centre moves by half of the shift.
    let block = |shift: f64| {
        let stations = vec![Station::at(0.0), Station::at(200.0).shifted(shift, 0.0)];
        let piece = stack(&square(), stations, Blend::Ruled);
        let centre = measure(&piece, 1e-6).solid_centre.unwrap();
        rest(&piece, centre, tilted(0.0), 0.1)
    };
    let upright = block(0.0);
    assert_eq!(upright.support.len(), 4);
    close(upright.height, 100.0, 1e-9);
    close(upright.distance, 50.0, 1e-9);
    close(upright.tipping, libm::atan2(50.0, 100.0).to_degrees(), 1e-9);
    assert!(upright.stands());
    close(block(40.0).distance, 30.0, 1e-9);
    let falling = block(140.0);
    assert!(!falling.stands());
    close(falling.distance, -20.0, 1e-9);
    assert!(falling.tipping < 0.0);
}

#[test]
fn upside_down_it_rests_on_its_top() {
    let stations = vec![Station::at(0.0), Station::at(200.0).scaled(0.5)];
    let piece = stack(&square(), stations, Blend::Ruled);
    let centre = measure(&piece, 1e-6).solid_centre.unwrap();
    let rest = rest(&piece, centre, tilted(180.0), 0.1);
    close(rest.distance, 25.0, 1e-9);
    close(rest.height, 200.0 - centre.z, 1e-9);
    assert!(
        rest.support
            .iter()
            .all(|point| (point.z - 200.0).abs() < 1e-9)
    );
}

/// A torus of tube 500 at 2000 mm, lying: it touches along a circle of 2000.
#[test]
fn a_ring_lies_on_its_tube() {
    let piece = tube(&[0.0, 120.0, 240.0], true, Blend::Ruled);
    let (low, high) = extent(&piece);
    for (value, exact) in [
        (low.z, -200.0),
        (high.z, 800.0),
        (high.x, 2500.0),
        (low.y, -2500.0),
    ] {
        close(value, exact, 1e-3);
    }
    let centre = measure(&piece, 1e-6).solid_centre.unwrap();
    let rest = rest(&piece, centre, tilted(0.0), 0.01);
    close(rest.height, 500.0, 1e-4);
    close(rest.distance, 2000.0, 3e-3);
    close(rest.tipping, libm::atan2(2000.0, 500.0).to_degrees(), 1e-3);
}

/// A wavy outline round (200, 30) mm.
fn wavy(waves: i32, depth: f64) -> Curve {
    let nodes = (0..18)
        .map(|k| {
            let angle = TAU * f64::from(k) / 18.0;
            let radius = 5000.0 * (1.0 + depth * libm::cos(f64::from(waves) * angle));
            let at = |value: f64| libm::round(radius * value) as i32;
            Node::smooth(20_000 + at(libm::cos(angle)), 3000 + at(libm::sin(angle)))
        })
        .collect();
    Curve::new(&Profile::closed(nodes), Pacing::Parameter).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]
    /// Two ways that share no formula: sections by Green's theorem, and the skin
    /// with its caps by the divergence theorem.
    #[test]
    fn both_volumes_agree(
        outlines in prop::collection::vec((2..5_i32, 0.0..0.2f64), 4..7),
        steps in prop::collection::vec((10.0..60.0f64, 0.7..1.4f64, -20.0..20.0f64), 6),
        setting in 0..3_usize,
    ) {
        let curves: Vec<Curve> = outlines.iter().map(|&(waves, depth)| wavy(waves, depth)).collect();
        let borrowed: Vec<&Curve> = curves.iter().collect();
        let mut at = 0.0;
        let stations: Vec<Station> = steps
            .iter()
            .take(curves.len())
            .map(|&(step, scale, shift)| {
                at += step;
                Station::at(at).scaled(scale).shifted(shift, -shift)
            })
            .collect();
        let stations = match setting {
            0 => Stations::stack(stations),
            1 => Stations::ring(stations, false),
            _ => Stations::ring(stations, true),
        }
        .unwrap();
        for blend in [
            Blend::Ruled,
            Blend::Eased,
            Blend::BSpline(Degree::Two),
            Blend::BSpline(Degree::Three),
        ] {
            let layout = Layout::new(stations.clone(), blend).unwrap();
            let arrangement = Arrangement((0..curves.len()).collect());
            let piece = Piece::new(&borrowed, &layout, arrangement).unwrap();
            let measures = measure(&piece, 1e-4);
            let disagreement = measures.volume.unwrap().disagreement().unwrap();
            prop_assert!(disagreement < 1e-10, "{blend:?}: {disagreement:e}");
            // Gauss and Bonnet: a smooth closed ring has no curvature in all.
            if setting == 2 && blend == Blend::BSpline(Degree::Three) {
                prop_assert!(measures.gauss_curvature.abs() < 0.1);
            }
        }
    }
}
