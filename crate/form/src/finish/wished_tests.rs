//! Differences of colours against published pairs, and films near a colour against
//! the films themselves.

use super::bath::Bath;
use super::colour::{Srgb, colour};
use super::difference::{Lab, difference};
use super::film::Calibration;
use super::interference::Coating;
use super::wished::{ANOTHER, films, looked_at};
use proptest::prelude::*;

/// L*, a*, b* of two colours and their CIEDE2000: table 1 of Sharma, Wu and Dalal, Color
/// Research and Application 30(1), 2005, 21-30, all 34 pairs.
const PAIRS: [[f64; 7]; 34] = [
    [50.0, 2.6772, -79.7751, 50.0, 0.0, -82.7485, 2.0425],
    [50.0, 3.1571, -77.2803, 50.0, 0.0, -82.7485, 2.8615],
    [50.0, 2.8361, -74.0200, 50.0, 0.0, -82.7485, 3.4412],
    [50.0, -1.3802, -84.2814, 50.0, 0.0, -82.7485, 1.0],
    [50.0, -1.1848, -84.8006, 50.0, 0.0, -82.7485, 1.0],
    [50.0, -0.9009, -85.5211, 50.0, 0.0, -82.7485, 1.0],
    [50.0, 0.0, 0.0, 50.0, -1.0, 2.0, 2.3669],
    [50.0, -1.0, 2.0, 50.0, 0.0, 0.0, 2.3669],
    [50.0, 2.49, -0.001, 50.0, -2.49, 0.0009, 7.1792],
    [50.0, 2.49, -0.001, 50.0, -2.49, 0.001, 7.1792],
    [50.0, 2.49, -0.001, 50.0, -2.49, 0.0011, 7.2195],
    [50.0, 2.49, -0.001, 50.0, -2.49, 0.0012, 7.2195],
    [50.0, -0.001, 2.49, 50.0, 0.0009, -2.49, 4.8045],
    [50.0, -0.001, 2.49, 50.0, 0.001, -2.49, 4.8045],
    [50.0, -0.001, 2.49, 50.0, 0.0011, -2.49, 4.7461],
    [50.0, 2.5, 0.0, 50.0, 0.0, -2.5, 4.3065],
    [50.0, 2.5, 0.0, 73.0, 25.0, -18.0, 27.1492],
    [50.0, 2.5, 0.0, 61.0, -5.0, 29.0, 22.8977],
    [50.0, 2.5, 0.0, 56.0, -27.0, -3.0, 31.9030],
    [50.0, 2.5, 0.0, 58.0, 24.0, 15.0, 19.4535],
    [50.0, 2.5, 0.0, 50.0, 3.1736, 0.5854, 1.0],
    [50.0, 2.5, 0.0, 50.0, 3.2972, 0.0, 1.0],
    [50.0, 2.5, 0.0, 50.0, 1.8634, 0.5757, 1.0],
    [50.0, 2.5, 0.0, 50.0, 3.2592, 0.3350, 1.0],
    [
        60.2574, -34.0099, 36.2677, 60.4626, -34.1751, 39.4387, 1.2644,
    ],
    [
        63.0109, -31.0961, -5.8663, 62.8187, -29.7946, -4.0864, 1.2630,
    ],
    [61.2901, 3.7196, -5.3901, 61.4292, 2.2480, -4.9620, 1.8731],
    [35.0831, -44.1164, 3.7933, 35.0232, -40.0716, 1.5901, 1.8645],
    [
        22.7233, 20.0904, -46.6940, 23.0331, 14.9730, -42.5619, 2.0373,
    ],
    [36.4612, 47.8580, 18.3852, 36.2715, 50.5065, 21.2231, 1.4146],
    [90.8027, -2.0831, 1.4410, 91.1528, -1.6435, 0.0447, 1.4441],
    [90.9257, -0.5406, -0.9208, 88.6381, -0.8985, -0.7239, 1.5381],
    [6.7747, -0.2908, -2.4247, 5.8714, -0.0985, -2.2286, 0.6377],
    [2.0776, 0.0795, -1.1350, 0.9033, -0.0636, -0.5514, 0.9082],
];

#[test]
fn differences_are_as_published() {
    let lab = |[lightness, red, yellow]: [f64; 3]| Lab {
        lightness,
        red,
        yellow,
    };
    for [l, a, b, other_l, other_a, other_b, exact] in PAIRS {
        let (one, other) = (lab([l, a, b]), lab([other_l, other_a, other_b]));
        for found in [difference(one, other), difference(other, one)] {
            // The table has four places.
            assert!((found - exact).abs() < 5.1e-5, "{one:?} {other:?}: {found}");
        }
        assert_eq!(difference(one, one), 0.0);
    }
}

fn srgb(red: u8, green: u8, blue: u8) -> Srgb {
    Srgb { red, green, blue }
}

/// White is L* 100, greys have no hue; 100 between black and white. The last by
/// the published sRGB matrix and D65, as colour calculators give it.
#[test]
fn screen_colours_stand_where_they_should() {
    let white = Lab::from(srgb(255, 255, 255));
    assert!((white.lightness - 100.0).abs() < 1e-9);
    for level in [0, 1, 77, 200, 255] {
        let grey = Lab::from(srgb(level, level, level));
        assert!(grey.red.abs() < 1e-9 && grey.yellow.abs() < 1e-9);
    }
    let black = Lab::from(srgb(0, 0, 0));
    assert!((difference(black, white) - 100.0).abs() < 1e-9);
    let plum = Lab::from(srgb(100, 50, 75));
    let exact = [28.1103, 25.9003, -5.2481];
    for (found, exact) in [plum.lightness, plum.red, plum.yellow].iter().zip(exact) {
        assert!((found - exact).abs() < 0.02, "{plum:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// The colour of a film is found at that film, or at one that looks the same; the
    /// rest is the rounding of screen colours.
    #[test]
    fn a_film_is_found_by_its_own_colour(
        film in 0.0_f64..330.0,
        oxide in 2.3_f64..2.6,
    ) {
        let bath = Bath { coating: Coating::on_titanium(oxide), ..Bath::default() };
        let wished = colour(&bath.coating, film, 0.0);
        let near = films(&bath, wished);
        let nearest = near.iter().fold(f64::INFINITY, |least, one| least.min(one.difference));
        prop_assert!(nearest < 0.8, "{film}: {near:?}");
        let is_itself = |off: f64| near.iter().any(|one| (one.film - film).abs() < off);
        // Near bare metal the colour hardly changes.
        prop_assert!(is_itself(4.0), "{film}: {near:?}");
    }

    /// No film anywhere is nearer than the nearest, and volts undo the calibration.
    #[test]
    fn no_film_is_nearer_than_the_nearest(
        (red, green, blue) in any::<(u8, u8, u8)>(),
        rate in 1.8_f64..3.0,
        start in 0.0_f64..20.0,
    ) {
        let calibration = Calibration { start, ..Calibration::measured(rate, 10.0).unwrap() };
        let bath = Bath { calibration, ..Bath::default() };
        let wished = srgb(red, green, blue);
        let near = films(&bath, wished);
        let least = near.iter().fold(f64::INFINITY, |least, one| least.min(one.difference));
        let (thinnest, thickest) = looked_at(&bath);
        for step in 0..=997 {
            let film = thinnest + (thickest - thinnest) * f64::from(step) / 997.0;
            let seen = Lab::from(colour(&bath.coating, film, 0.0));
            // Half a step of each channel, and half a nanometre.
            prop_assert!(least < difference(seen, Lab::from(wished)) + 1.5, "{film}: {near:?}");
        }
        for one in &near {
            // Those that come near, or else the nearest.
            prop_assert!(one.difference <= ANOTHER.max(least + 1.0));
            prop_assert!((calibration.film(one.volts) - one.film).abs() < 1e-9);
            let (low, high) = one.volts_range;
            prop_assert!(low <= one.volts && one.volts <= high);
            prop_assert!((calibration.film_range(low).1 - one.film).abs() < 1e-9);
            prop_assert!((calibration.film_range(high).0 - one.film).abs() < 1e-9);
            prop_assert!((0.0..=140.0).contains(&one.volts));
        }
        prop_assert!(near.windows(2).all(|pair| pair[0].film < pair[1].film));
    }
}

/// Blues come in the first order of interference and again, paler, in a later one;
/// no film is scarlet.
#[test]
fn colours_come_round_and_some_never_come() {
    let bath = Bath::default();
    let blue = films(&bath, colour(&bath.coating, 45.0, 0.0));
    assert_eq!(blue[0].order, 1);
    assert!((blue[0].film - 45.0).abs() < 0.5, "{blue:?}");
    assert!((blue[0].volts - 45.0 / 2.4).abs() < 0.3);
    let scarlet = films(&bath, srgb(255, 0, 0));
    assert!(
        scarlet.iter().all(|one| 15.0 < one.difference),
        "{scarlet:?}"
    );
    // Second order: two paths through a film of 120 nm and index 2.5 are 600 nm.
    let gold = films(&bath, colour(&bath.coating, 120.0, 0.0));
    let second = gold.iter().find(|one| (one.film - 120.0).abs() < 1.0);
    assert_eq!(second.map(|one| one.order), Some(2));
}
