//! Patterns and folds against closed forms.

use super::*;
use crate::blend::{Blend, Layout};
use crate::piece::{Arrangement, Piece};
use crate::stations::{Station, Stations};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::{Node, Profile};
use std::f64::consts::{PI, TAU};

fn circle() -> Curve {
    let nodes = (0..64).map(|k| {
        let angle = TAU * f64::from(k) / 64.0;
        let at = |value: f64| libm::round(2000.0 * value) as i32;
        Node::smooth(at(libm::cos(angle)), at(libm::sin(angle)))
    });
    Curve::new(&Profile::closed(nodes.collect()), Pacing::Parameter).unwrap()
}

fn laid_of(curve: &Curve, stations: Vec<Station>, blend: Blend) -> Flat {
    let count = stations.len();
    let layout = Layout::new(Stations::stack(stations).unwrap(), blend).unwrap();
    let piece = Piece::new(&[curve], &layout, Arrangement(vec![0; count])).unwrap();
    lay(&Net::new(&piece))
}

fn laid(stations: Vec<Station>) -> Bands {
    bands(laid_of(&circle(), stations, Blend::Ruled))
}

fn bands(flat: Flat) -> Bands {
    match flat {
        Flat::Bands(bands) => bands,
        Flat::NotRuled => panic!("it is ruled"),
    }
}

fn square(is_clockwise: bool) -> Curve {
    let mut nodes =
        [(10, 10), (-10, 10), (-10, -10), (10, -10)].map(|(x, y)| Node::corner(100 * x, 100 * y));
    if is_clockwise {
        nodes.reverse();
    }
    Curve::new(&Profile::closed(nodes.to_vec()), Pacing::Parameter).unwrap()
}

fn area(pattern: &Pattern) -> f64 {
    let outline: Vec<_> = pattern
        .lower
        .iter()
        .chain(pattern.upper.iter().rev())
        .collect();
    let sides = outline.iter().zip(outline.iter().cycle().skip(1));
    sides
        .map(|(a, b)| a.coords.perp(&b.coords))
        .sum::<f64>()
        .abs()
        / 2.0
}

#[test]
fn a_frustum_is_a_sector_of_a_ring() {
    // R = 20, r = 10, h = 30: slant s = sqrt(1000); area pi (R + r) s; the sector's outer radius is 2 s and it
    // spans 2 pi R / (2 s).
    let stations = vec![Station::at(0.0), Station::at(30.0).scaled(0.5)];
    let Bands { patterns, .. } = laid(stations);
    let [pattern] = patterns.as_slice() else {
        panic!("one band")
    };
    let slant = 1000.0_f64.sqrt();
    assert!((area(pattern) / (PI * 30.0 * slant) - 1.0).abs() < 1e-3);
    let (first, last) = (pattern.lower[0], pattern.lower[pattern.lower.len() - 1]);
    let chord = 4.0 * slant * libm::sin(TAU * 20.0 / (2.0 * slant) / 2.0).abs();
    assert!(((last - first).norm() / chord - 1.0).abs() < 2e-3);
    for (low, high) in pattern.lower.iter().zip(&pattern.upper) {
        assert!(((high - low).norm() / slant - 1.0).abs() < 1e-4);
    }
}

#[test]
fn a_cylinder_is_a_rectangle() {
    let Bands { patterns, .. } = laid([0.0, 7.0].map(Station::at).to_vec());
    let last = patterns[0].lower[patterns[0].lower.len() - 1];
    assert!((last.x / (TAU * 20.0) - 1.0).abs() < 1e-4 && last.y.abs() < 1e-6);
}

/// A twisted band beside one that is not, and skins that are not ruled.
#[test]
fn each_band_is_laid_flat_by_itself() {
    let turned = vec![
        Station::at(0.0),
        Station::at(9.0),
        Station::at(30.0).turned(10.0),
        Station::at(40.0).turned(10.0),
    ];
    let Bands {
        patterns, twisted, ..
    } = laid(turned);
    let flat: Vec<usize> = patterns.iter().map(|pattern| pattern.band).collect();
    assert_eq!((flat, twisted), (vec![0, 2], vec![1]));
    let alone = laid([0.0, 9.0].map(Station::at).to_vec());
    assert_eq!(patterns[0], alone.patterns[0]);
    let straight = [0.0, 7.0].map(Station::at).to_vec();
    let eased = laid_of(&circle(), straight, Blend::Eased);
    assert_eq!(eased, Flat::NotRuled);
}

/// Cones on one axis meet at the difference of their half angles, all round.
#[test]
fn cones_meet_at_the_difference_of_their_half_angles() {
    let stations = vec![
        Station::at(0.0),
        Station::at(30.0).scaled(0.5),
        Station::at(50.0).scaled(0.2),
        Station::at(60.0).scaled(0.8),
    ];
    let Bands { joints, .. } = laid(stations);
    let half = |rise: f64, run: f64| libm::atan2(run, rise).to_degrees();
    let halves = [half(30.0, -10.0), half(20.0, -6.0), half(10.0, 12.0)];
    // The outline runs anticlockwise: up is outward.
    for (joint, two) in joints.iter().zip(halves.windows(2)) {
        for fold in joint.folds {
            assert!((fold - (two[1] - two[0])).abs() < 0.01, "{joint:?} {two:?}");
        }
    }
    assert_eq!(joints.len(), 2);
}

/// Two walls of a square pyramid that lean in by 5 mm in 15 mm: their normals
/// (15, 0, 5) and (0, 15, 5) are 84.26 degrees apart. Of the prism above, whose
/// walls stand upright, 90 degrees; it meets the pyramid at 18.43.
#[test]
fn the_walls_of_a_pyramid_have_its_angles() {
    for (is_clockwise, side) in [(false, -1.0), (true, 1.0)] {
        let stations = vec![
            Station::at(0.0),
            Station::at(15.0).scaled(0.5),
            Station::at(40.0).scaled(0.5),
        ];
        let laid = bands(laid_of(&square(is_clockwise), stations, Blend::Ruled));
        let between = libm::acos(25.0 / 250.0).to_degrees();
        for (pattern, angle) in laid.patterns.iter().zip([between, 90.0]) {
            assert_eq!(pattern.bends.len(), 3);
            for bend in &pattern.bends {
                assert!((bend.fold - side * angle).abs() < 1e-9, "{bend:?}");
            }
        }
        let lean = libm::atan2(5.0, 15.0).to_degrees();
        for fold in laid.joints[0].folds {
            assert!((fold + side * lean).abs() < 1e-9, "{fold}");
        }
    }
}
