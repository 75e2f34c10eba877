//! Reflectance of an oxide film against the characteristic matrix of a layer, a
//! method that shares no formula with Airy's sum (Born and Wolf, Principles of
//! Optics, 1999, 1.6.2 and 1.6.3), and colours against their own definition.

use loftkin_form::finish::colour::{colour, tristimulus};
use loftkin_form::finish::interference::{Coating, Metal};
use loftkin_tests::random::Random;
use nalgebra::Complex;
use std::f64::consts::TAU;

type Number = Complex<f64>;

/// The root whose wave dies away inside: imaginary part not negative, for
/// indices n + ik.
fn cosine(sine: f64, index: Number) -> Number {
    let squared = Number::from(1.0) - (Number::from(sine) / index).powi(2);
    let root = squared.sqrt();
    if (index * root).im < 0.0 { -root } else { root }
}

/// By the matrix of one layer: (E, H) at its front from those at its back. `tilt`
/// gives the optical admittance of a medium from its index and cosine.
fn reflected(
    indices: [Number; 3],
    film: f64,
    wavelength: f64,
    sine: f64,
    tilt: fn(Number, Number) -> Number,
) -> f64 {
    let cosines = indices.map(|index| cosine(sine, index));
    let [outer, layer, base] = [0, 1, 2].map(|k| tilt(indices[k], cosines[k]));
    let phase = indices[1] * cosines[1] * (TAU * film / wavelength);
    let i = Number::i();
    // With the time as exp(-i omega t) an index n + ik damps.
    let front = phase.cos() - i * phase.sin() * base / layer;
    let side = phase.cos() * base - i * phase.sin() * layer;
    ((outer * front - side) / (outer * front + side)).norm_sqr()
}

fn by_matrix(oxide: f64, metal: (f64, f64), film: f64, wavelength: f64, degrees: f64) -> f64 {
    let indices = [
        Number::from(1.0),
        Number::from(oxide),
        Number::new(metal.0, metal.1),
    ];
    let sine = degrees.to_radians().sin();
    let square = reflected(indices, film, wavelength, sine, |index, cosine| {
        index * cosine
    });
    let parallel = reflected(indices, film, wavelength, sine, |index, cosine| {
        index / cosine
    });
    (square + parallel) / 2.0
}

#[test]
fn a_film_reflects_as_its_matrix_says() {
    let mut random = Random::new(5);
    for _ in 0..20_000 {
        let metal = (random.between(0.1, 4.0), random.between(0.0, 6.0));
        let coating = Coating {
            oxide: random.between(1.2, 3.0),
            metal: Metal::even(metal.0, metal.1),
        };
        let film = random.between(0.0, 400.0);
        let wavelength = random.between(380.0, 780.0);
        let degrees = [0.0, random.between(0.0, 89.0)][random.whole(0, 1) as usize];
        let found = coating.reflectance(film, wavelength, degrees);
        let exact = by_matrix(coating.oxide, metal, film, wavelength, degrees);
        assert!(
            (found - exact).abs() < 1e-12,
            "{coating:?} {film} {wavelength} {degrees}: {found} for {exact}"
        );
    }
}

/// IEC 61966-2-1: a grey of linear share s is the same in all channels; D65 white
/// is 255 in each; the curve's linear part ends at 0.0031308.
#[test]
fn greys_stay_grey() {
    // An index of 1 for film and metal but for k: a bare surface that is even over
    // all wavelengths reflects (k² / (4 + k²)).
    for share in [0.9, 0.5, 0.2, 0.02] {
        let k = (4.0 * share / (1.0_f64 - share)).sqrt();
        let coating = Coating {
            oxide: 1.0,
            metal: Metal::even(1.0, k),
        };
        let shown = colour(&coating, 100.0, 0.0);
        let curved: f64 = 1.055 * f64::powf(share, 1.0 / 2.4) - 0.055;
        let exact = (255.0 * curved).round() as u8;
        assert_eq!([shown.red, shown.green, shown.blue], [exact; 3], "{share}");
    }
    let [_, y, _] = tristimulus(|_| 0.37);
    assert!((y - 0.37).abs() < 1e-12);
}
