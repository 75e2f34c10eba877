//! The gauge that forming leaves of the demo hoods, against areas by the second
//! theorem of Pappus and lengths of fine polygons, without the skins of pieces.
//!
//! A hood all round its axis is formed from a round sheet in its brim; as a stack of
//! one curve it is a trough, whose blank is as wide as the chord of the curve.

use loftkin_exchange::family_json;
use loftkin_form::blend::{Blend, Layout};
use loftkin_form::making::stretch::{Stretch, Thinning};
use loftkin_form::making::worst::examine;
use loftkin_form::piece::{Arrangement, Piece};
use loftkin_form::stations::{Station, Stations};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Pacing;
use nalgebra::Point2;
use std::f64::consts::PI;

/// Chords of the polygons.
const CHORDS: usize = 20_000;
/// How near areas are taken for estimates of gauge, relative.
const AREAS: f64 = 1e-3;
/// The usual sheet and what should be left of it, mm.
const THINNING: Thinning = Thinning {
    gauge: 1.0,
    least: 0.5,
};

fn hoods() -> Vec<(String, Curve)> {
    let text = include_str!("../../demo-curves/hoods-that-agree.json");
    let family = family_json::read(text).unwrap().family;
    let profiles = family.profiles.iter();
    profiles
        .map(|profile| {
            let curve = Curve::new(profile, Pacing::Parameter).unwrap();
            (profile.name.clone(), curve)
        })
        .collect()
}

fn polygon(curve: &Curve) -> Vec<Point2<f64>> {
    (0..=CHORDS)
        .map(|k| curve.point_mm(k as f64 / CHORDS as f64))
        .collect()
}

fn piece(curve: &Curve, stations: Stations) -> Piece {
    let layout = Layout::new(stations, Blend::Ruled).unwrap();
    Piece::new(&[curve], &layout, Arrangement(vec![0; 3])).unwrap()
}

#[test]
fn a_hood_all_round_is_formed_from_its_brim() {
    let mut least: Vec<f64> = Vec::new();
    for (name, curve) in hoods() {
        let points = polygon(&curve);
        let chords = points.windows(2);
        let skin: f64 = chords
            .map(|ends| PI * (ends[0].x + ends[1].x) * (ends[1] - ends[0]).norm())
            .sum();
        let radii = [points[0].x, points[CHORDS].x];
        let [hole, brim] = [radii[0].min(radii[1]), radii[0].max(radii[1])];
        let mean = brim * brim * PI / (skin + hole * hole * PI);
        let stations = [0.0, 120.0, 240.0].map(Station::at).to_vec();
        let piece = piece(&curve, Stations::ring(stations, true).unwrap());
        let stretch = Stretch::new(&piece).unwrap();
        assert!((stretch.mean() / mean - 1.0).abs() < AREAS, "{name}");
        let report = examine(&piece, &[&THINNING])[0];
        println!("{name}: mean {mean:.3}, least {:.3} mm", report.worst);
        // Thinner than the mean somewhere, but no hood is blown to nothing.
        assert!(0.01 < report.worst && report.worst < mean, "{name}");
        assert_eq!(report.passes, 0.5 <= report.worst);
        least.push(report.worst);
    }
    assert!(8 <= least.len());
}

#[test]
fn a_hood_along_a_stack_keeps_most_of_its_gauge() {
    for (name, curve) in hoods() {
        let points = polygon(&curve);
        let length: f64 = points
            .windows(2)
            .map(|ends| (ends[1] - ends[0]).norm())
            .sum();
        let mean = (points[CHORDS] - points[0]).norm() / length;
        let stations = [0.0, 200.0, 500.0].map(Station::at).to_vec();
        let piece = piece(&curve, Stations::stack(stations).unwrap());
        let stretch = Stretch::new(&piece).unwrap();
        assert!((stretch.mean() / mean - 1.0).abs() < AREAS, "{name}");
        let report = examine(&piece, &[&THINNING])[0];
        println!(
            "{name} as a trough: mean {mean:.3}, least {:.3} mm",
            report.worst
        );
        // Square of the mean where all of the stretch were at one depth.
        assert!(
            mean * mean * 0.5 < report.worst && report.worst <= mean + 1e-9,
            "{name}"
        );
    }
}
