//! Regular polygons of corner nodes turned about their centre: each section is
//! the polygon shrunk and turned (1 - v + v e^{i theta}), so every turn short
//! of the half is clear, and the half turn is a point at v = 1/2. Derived here.
//!
//! Volume of the square of side 1 and height h, bilinear: .902369 h at 45
//! degrees, 2/3 h at 90, by the prismoidal formula (exact: the area is
//! quadratic in v).

use loftkin_kernel::family::Pacing;
use loftkin_kernel::loft::Loft;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::Verdict;
use loftkin_tests::compare::table;
use loftkin_tests::shapes::{polygon, wide};

/// A circumradius that puts the square's side at 100 mm.
const SQUARE_RADIUS: f64 = 5000.0 * std::f64::consts::SQRT_2;

fn turned(count: usize, turn: f64) -> Table {
    table(
        wide(Pacing::Node),
        [45.0, 45.0 + turn]
            .map(|turn| polygon(SQUARE_RADIUS, count, turn))
            .to_vec(),
    )
}

#[test]
fn every_turn_short_of_the_half_is_clear() {
    for count in [3, 4, 5, 8, 30] {
        for turn in [
            0.0, 1.0, 45.0, 89.0, 90.0, 91.0, 120.0, 135.0, 150.0, 170.0, 179.0,
        ] {
            let judgement = *turned(count, turn).cell(0, 1);
            assert_eq!(
                judgement.verdict,
                Verdict::Clear,
                "{count} corners, {turn} degrees: {judgement:?}"
            );
            let judgement = *turned(count, -turn).cell(0, 1);
            assert_eq!(
                judgement.verdict,
                Verdict::Clear,
                "{count} corners, {turn} degrees back: {judgement:?}"
            );
        }
    }
}

#[test]
fn the_half_turn_is_faulty() {
    for count in [4, 5, 6, 8, 30] {
        let judgement = *turned(count, 180.0).cell(0, 1);
        assert_eq!(
            judgement.verdict,
            Verdict::Faulty,
            "{count} corners: {judgement:?}"
        );
    }
}

#[test]
fn volumes_follow_the_prismoidal_formula() {
    for (turn, volume) in [(45.0, 0.902_369), (90.0, 2.0 / 3.0)] {
        let table = turned(4, turn);
        let [first, second] =
            [0, 1].map(|index| table.prepared(index).curve().expect("polygons are valid"));
        let loft = Loft::new(first, second);
        let area = |across: f64| -> f64 {
            let points = loft.section(across, 400);
            points
                .windows(2)
                .map(|ends| 0.5 * ends[0].coords.perp(&ends[1].coords))
                .sum()
        };
        let measured = (area(0.0) + 4.0 * area(0.5) + area(1.0)) / 6.0 / 1e4;
        assert!((measured - volume).abs() < 2e-4, "{measured} for {volume}");
    }
}
