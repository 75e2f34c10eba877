//! Weights: shares of one, smooth where they should be, textbook values.

use super::*;
use crate::stations::Station;
use proptest::prelude::*;

fn places(steps: &[f64]) -> Vec<Station> {
    let mut at = 10.0;
    let mut stations = vec![Station::at(at)];
    for step in steps {
        at += step;
        stations.push(Station::at(at));
    }
    stations
}

const BLENDS: [Blend; 4] = [
    Blend::Ruled,
    Blend::Eased,
    Blend::BSpline(Degree::Two),
    Blend::BSpline(Degree::Three),
];

fn layouts(steps: &[f64]) -> Vec<Layout> {
    let settings = [
        Stations::stack(places(steps)).unwrap(),
        Stations::ring(places(steps), false).unwrap(),
        Stations::ring(places(steps), true).unwrap(),
    ];
    settings
        .into_iter()
        .flat_map(|stations| BLENDS.map(|blend| Layout::new(stations.clone(), blend).unwrap()))
        .collect()
}

#[test]
fn stations_are_met_by_ruled_and_eased_blends() {
    for layout in layouts(&[30.0, 10.0, 55.0, 42.0]) {
        if layout.blend().reach() != 2 {
            continue;
        }
        for index in 0..5 {
            let across = layout.across(layout.fraction_of(index));
            let at = layout.stations().all()[index].at;
            assert!((across.place[0] - at).abs() < 1e-12);
            let whole = across.weights().iter().find(|weight| 0.5 < weight.value);
            let whole = whole.unwrap();
            assert_eq!(whole.station, index);
            assert!((whole.value - 1.0).abs() < 1e-14);
        }
    }
}

#[test]
fn too_few_stations_for_the_degree_are_refused() {
    let stations = Stations::stack(places(&[1.0, 1.0])).unwrap();
    assert_eq!(
        Layout::new(stations, Blend::BSpline(Degree::Three)),
        Err(LayoutError::TooFew {
            degree: 3,
            needed: 4,
            count: 3
        })
    );
}

#[test]
fn a_closed_ring_meets_itself() {
    for layout in layouts(&[30.0, 10.0, 55.0, 42.0]) {
        if !layout.stations().is_all_round() {
            continue;
        }
        let share = |v: f64, station: usize| -> f64 {
            let across = layout.across(v);
            let weights = across.weights().iter();
            weights
                .filter(|weight| weight.station == station)
                .map(|weight| weight.value)
                .sum()
        };
        for station in 0..5 {
            assert!((share(0.0, station) - share(1.0, station)).abs() < 1e-13);
        }
        let turn = layout.across(1.0).place[0] - layout.across(0.0).place[0];
        assert!((turn - 360.0).abs() < 1e-10);
    }
}

#[test]
fn the_uniform_cubic_all_round_is_the_textbook_one() {
    // Weights 1/6, 4/6, 1/6 at a knot (de Boor, 1978, chapter X).
    let stations = Stations::ring(places(&[90.0, 90.0, 90.0]), true).unwrap();
    let layout = Layout::new(stations, Blend::BSpline(Degree::Three)).unwrap();
    let across = layout.across(0.25);
    for (station, expected) in [(0, 1.0 / 6.0), (1, 2.0 / 3.0), (2, 1.0 / 6.0)] {
        let weights = across.weights().iter();
        let weight = weights
            .filter(|weight| weight.station == station)
            .map(|weight| weight.value)
            .sum::<f64>();
        assert!((weight - expected).abs() < 1e-14, "{station}: {weight}");
    }
}

proptest! {
    #[test]
    fn weights_are_shares_and_places_rise(
        steps in prop::collection::vec(0.02..40.0f64, 3..8),
        v in 0.0..=1.0f64,
    ) {
        for layout in layouts(&steps) {
            let across = layout.across(v);
            let sum: f64 = across.weights().iter().map(|weight| weight.value).sum();
            prop_assert!((sum - 1.0).abs() < 1e-13);
            prop_assert!(across.weights().iter().all(|weight| 0.0 <= weight.value));
            prop_assert!(0.0 < across.place[1]);
            let back = layout.fraction_at(across.place[0]);
            prop_assert!((back - v).abs() < 1e-9, "{back} {v}");
        }
    }

    #[test]
    fn slopes_and_bends_are_those_of_the_weights(
        steps in prop::collection::vec(5.0..40.0f64, 4..8),
        v in 0.01..0.99f64,
    ) {
        const STEP: f64 = 1e-5;
        for layout in layouts(&steps) {
            // Differences make no sense across a knot.
            prop_assume!(layout.breaks().iter().all(|at| 2.0 * STEP < (at - v).abs()));
            let [before, here, after] = [v - STEP, v, v + STEP].map(|v| layout.across(v));
            for k in 0..here.weights().len() {
                let [a, b, c] = [before, here, after].map(|across| across.weights()[k]);
                let slope = (c.value - a.value) / (2.0 * STEP);
                let bend = (c.slope - a.slope) / (2.0 * STEP);
                prop_assert!((slope - b.slope).abs() < 1e-4 * (1.0 + slope.abs()));
                prop_assert!((bend - b.bend).abs() < 1e-4 * (1.0 + bend.abs()));
            }
            let rise = (after.place[0] - before.place[0]) / (2.0 * STEP);
            prop_assert!((rise - here.place[1]).abs() < 1e-5 * rise);
        }
    }
}
