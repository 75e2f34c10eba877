//! The mass of the formed skin, against closed forms of a frustum and a dome.

use super::*;
use crate::body::measure;
use crate::body::wall::{Sheet, Side};
use crate::making::stretch::Stretch;

const GAUGE: f64 = 2.0;
const DENSITY: f64 = 4.51;

fn formed(piece: &Piece) -> f64 {
    Stretch::new(piece).unwrap().mass(GAUGE, DENSITY)
}

fn of_even_gauge(piece: &Piece) -> f64 {
    let sheet = Sheet {
        gauge: GAUGE,
        density: DENSITY,
        side: Side::Middle,
        with_caps: false,
    };
    sheet.wall(&measure(piece, 1e-6)).mass
}

/// A frustum of 100 over 60 on 80 mm. With depth share d the radius is 100 - 40 d and
/// the skin has 2 pi L (100 - 40 d) dd; of the blank it takes that over (1 + c d)²,
/// and the far opening pi 60² / (1 + c)²; both make pi 100². Within the trim is the
/// first of them.
#[test]
fn a_frustum_weighs_what_its_blank_gives_it() {
    let piece = stack(
        vec![of_radius(0.0, 100.0), of_radius(80.0, 60.0)],
        Blend::Ruled,
    );
    let side = libm::hypot(40.0, 80.0);
    // The integral of (100 - 40 d) / (1 + c d)² from 0 to 1.
    let skin = |c: f64| {
        let logarithm = libm::log(1.0 + c);
        TAU * side * (100.0 / (1.0 + c) - 40.0 / (c * c) * (logarithm - c / (1.0 + c)))
    };
    let opening = |c: f64| PI * 3600.0 / ((1.0 + c) * (1.0 + c));
    let blank = PI * 10_000.0;
    let (mut low, mut high) = (1e-3, 10.0);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if blank < skin(middle) + opening(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    let exact = 1e-6 * skin(low) * GAUGE * DENSITY;
    close(formed(&piece) / exact, 1.0, 1e-4);
    // Far below a skin that nothing thinned.
    let even = 1e-6 * PI * 160.0 * side * GAUGE * DENSITY;
    close(of_even_gauge(&piece) / even, 1.0, 1e-3);
    assert!(formed(&piece) < 0.75 * even);
}

/// A hemisphere up to 80 degrees: each zone comes from the ring of the blank that the
/// stereographic map gives it, (r/a)² = (1 - sin t) / (1 + sin t); the whole blank
/// without its middle weighs as much as the zone.
#[test]
fn a_dome_weighs_what_the_ring_of_its_blank_weighs() {
    let top = 80.0_f64;
    let nodes = (0..40).map(|k| {
        let angle = top.to_radians() * f64::from(k) / 39.0;
        let at = |value: f64| libm::round(100.0 * DRAWN * value) as i32;
        Node::smooth(at(libm::cos(angle)), at(libm::sin(angle)))
    });
    let curve = Curve::new(&Profile::open(nodes.collect()), Pacing::Parameter).unwrap();
    let stations = [0.0, 120.0, 240.0].map(|at| of_radius(at, 100.0)).to_vec();
    let dome = piece(
        &curve,
        Stations::ring(stations, true).unwrap(),
        Blend::Ruled,
    );
    let sine = libm::sin(top.to_radians());
    let middle = (1.0 - sine) / (1.0 + sine);
    let exact = 1e-6 * PI * 10_000.0 * (1.0 - middle) * GAUGE * DENSITY;
    close(formed(&dome) / exact, 1.0, 5e-3);
    let even = 1e-6 * TAU * 10_000.0 * sine * GAUGE * DENSITY;
    close(of_even_gauge(&dome) / even, 1.0, 1e-3);
}
