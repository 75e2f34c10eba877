//! Two equal circles, the second's seam turned by theta: a hyperboloid of one
//! sheet, whose sections have radius^2 = r^2 (1 - 4 v (1-v) sin^2(theta/2)).
//!
//! Hence waist r cos(theta/2), volume pi r^2 h (2 + cos theta)/3, twist theta at
//! every u, and a double cone through one point at 180 degrees. Derived here.
//!
//! A spline through 24 even nodes leaves the circle by less than 2e-5 of the
//! radius, rounding to the grid by 1.5e-4 (radius 50 mm): figures hold to 5e-4.

use loftkin_kernel::family::{Pacing, Settings, TenthsOfDegree};
use loftkin_kernel::loft::Loft;
use loftkin_kernel::profile::{FEWEST_CLOSED, Profile};
use loftkin_kernel::verdict::{FaultKind, Verdict};
use loftkin_tests::compare::table;
use loftkin_tests::shapes::{circle, hermite, on_circle, wide};
use std::f64::consts::{PI, TAU};

const RADIUS_STEPS: f64 = 5000.0;
const RADIUS_MM: f64 = 50.0;
const NODES: usize = 24;
const CLOSE: f64 = 5e-4;

/// A circle as four cubic arcs with handles of 4/3 tan(pi/8) (the usual
/// choice; its radial error is 2.7e-4), the seam at `turn` degrees.
fn four_arcs(turn: f64) -> Profile {
    let stretch = 4.0 / 3.0 * (PI / 8.0).tan() / (PI / 6.0);
    hermite(4, true, |u| {
        let angle = TAU * u + f64::to_radians(turn);
        let slope = on_circle(RADIUS_STEPS * TAU * stretch, angle + TAU / 4.0);
        (on_circle(RADIUS_STEPS, angle), slope)
    })
}

fn turned(turn: f64) -> Vec<Profile> {
    [0.0, turn]
        .map(|turn| circle(RADIUS_STEPS, NODES, turn))
        .to_vec()
}

fn section_area(loft: &Loft, across: f64) -> f64 {
    let points = loft.section(across, 2400);
    points
        .windows(2)
        .map(|ends| 0.5 * ends[0].coords.perp(&ends[1].coords))
        .sum()
}

#[test]
fn waists_and_volumes_are_those_of_the_hyperboloid() {
    for turn in [0.0, 60.0, 90.0, 120.0, 150.0, 175.0] {
        let table = table(wide(Pacing::Parameter), turned(turn));
        let [first, second] =
            [0, 1].map(|index| table.prepared(index).curve().expect("circles are valid"));
        let loft = Loft::new(first, second);
        let waist = RADIUS_MM * f64::to_radians(turn / 2.0).cos();
        for point in loft.section(0.5, 500) {
            assert!(
                (point.coords.norm() - waist).abs() < CLOSE * RADIUS_MM,
                "waist at {turn}"
            );
        }
        // The section area is quadratic in v: Simpson's rule is exact.
        let [low, middle, high] = [0.0, 0.5, 1.0].map(|across| section_area(&loft, across));
        let volume = (low + 4.0 * middle + high) / 6.0;
        let formula = PI * RADIUS_MM.powi(2) * (2.0 + f64::to_radians(turn).cos()) / 3.0;
        assert!(
            (volume - formula).abs() < 2.0 * CLOSE * formula,
            "{volume} for {formula} at {turn}"
        );
    }
}

#[test]
fn every_turn_short_of_the_half_is_clear() {
    let mut turn = 0.0;
    while turn < 179.5 {
        let table = table(wide(Pacing::Parameter), turned(turn));
        assert_eq!(
            table.cell(0, 1).verdict,
            Verdict::Clear,
            "{turn} degrees: {:?}",
            table.cell(0, 1)
        );
        turn += 1.0;
    }
    for turn in [30.0, 90.0, 150.0, 179.0] {
        let table = table(
            wide(Pacing::Parameter),
            vec![four_arcs(0.0), four_arcs(turn)],
        );
        assert_eq!(
            table.cell(0, 1).verdict,
            Verdict::Clear,
            "{turn} degrees of four arcs"
        );
    }
}

#[test]
fn the_half_turn_is_a_cone_through_one_point() {
    for count in FEWEST_CLOSED.max(4)..=40 {
        let pair = [0.0, 180.0].map(|turn| circle(RADIUS_STEPS, count, turn));
        let judgement = *table(wide(Pacing::Parameter), pair.to_vec()).cell(0, 1);
        assert_eq!(
            judgement.verdict,
            Verdict::Faulty,
            "{count} nodes: {judgement:?}"
        );
        let place = judgement.worst().expect("faulty").place;
        assert!((place.across - 0.5).abs() < 1e-6, "{place:?}");
        assert!(place.point.coords.norm() < 0.02, "{place:?}");
    }
    let arcs = table(
        wide(Pacing::Parameter),
        vec![four_arcs(0.0), four_arcs(180.0)],
    );
    assert_eq!(arcs.cell(0, 1).verdict, Verdict::Faulty);
}

#[test]
fn the_twist_is_the_turn() {
    for turn in [20.0, 60.0, 89.0, 120.0, 160.0] {
        for (off, expected) in [(-0.5, Verdict::Faulty), (0.5, Verdict::Clear)] {
            let settings = Settings {
                twist_limit: TenthsOfDegree(((turn + off) * 10.0) as u16),
                ..wide(Pacing::Parameter)
            };
            let table = table(settings, turned(turn));
            let judgement = *table.cell(0, 1);
            assert_eq!(
                judgement.verdict, expected,
                "{turn} degrees, limit {off} off"
            );
            if let Some(fault) = judgement.worst() {
                assert_eq!(fault.kind, FaultKind::Twist);
                assert!((fault.angle.abs() - turn).abs() < 0.1, "{fault:?}");
            }
        }
    }
}

/// The section at v = 1/2 collapses to a segment: the signed area is (1-2v) pi r^2.
#[test]
fn a_circle_against_its_own_reverse_is_faulty() {
    for count in [4, 5, 8, 13, 24] {
        let round = circle(RADIUS_STEPS, count, 0.0);
        let table = table(
            wide(Pacing::Parameter),
            vec![round.clone(), round.reversed()],
        );
        assert_eq!(
            table.cell(0, 1).verdict,
            Verdict::Faulty,
            "{count} nodes: {:?}",
            table.cell(0, 1)
        );
    }
}

#[test]
fn a_circle_against_itself_is_clear() {
    for count in [3, 4, 8, 24, 100, 200] {
        let pair = [0.0, 0.0].map(|turn| circle(RADIUS_STEPS, count, turn));
        let judgement = *table(Settings::default(), pair.to_vec()).cell(0, 1);
        assert_eq!(
            judgement.verdict,
            Verdict::Clear,
            "{count} nodes: {judgement:?}"
        );
    }
}
