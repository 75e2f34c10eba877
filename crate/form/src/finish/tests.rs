//! Films and colours against formulas, standards and makers' charts.

use super::colour::{colour, tristimulus};
use super::film::{Calibration, CalibrationError};
use super::interference::{Coating, Metal};
use super::programme::{Programme, ProgrammeError, Stop};

/// An even metal: what the table of minima below was derived with.
fn even() -> Coating {
    Coating {
        oxide: 2.5,
        metal: Metal::even(2.54, 3.43),
    }
}

/// The wavelength of least reflectance within 100 nm of `near`, to 1 nm: thick films
/// have another minimum at the violet end.
fn darkest(coating: &Coating, film: f64, near: f64) -> f64 {
    let wavelengths = (-100..=100).map(|step| near + f64::from(step));
    let mut best = (f64::INFINITY, 0.0);
    for wavelength in wavelengths {
        let reflected = coating.reflectance(film, wavelength, 0.0);
        if reflected < best.0 {
            best = (reflected, wavelength);
        }
    }
    best.1
}

#[test]
fn bare_metal_reflects_by_fresnel() {
    let coating = even();
    let (n, k) = (2.54_f64, 3.43_f64);
    let exact = ((n - 1.0) * (n - 1.0) + k * k) / ((n + 1.0) * (n + 1.0) + k * k);
    assert!((coating.reflectance(0.0, 550.0, 0.0) - exact).abs() < 1e-14);
}

/// Half a wavelength in the film is as no film: 550 / (2 * 2.5) = 110 nm.
#[test]
fn a_half_wave_film_is_not_seen() {
    let coating = even();
    let bare = coating.reflectance(0.0, 550.0, 0.0);
    assert!((coating.reflectance(110.0, 550.0, 0.0) - bare).abs() < 1e-12);
}

/// Derived from the phase at the metal: film in nm, darkest wavelength in nm.
#[test]
fn the_darkest_wavelength_moves_with_the_film() {
    for (film, exact) in [
        (30.0, 430.0),
        (40.0, 575.0),
        (50.0, 720.0),
        (120.0, 445.0),
        (140.0, 520.0),
        (160.0, 595.0),
        (180.0, 670.0),
    ] {
        let found = darkest(&even(), film, exact);
        assert!((found - exact).abs() <= 8.0, "{film}: {found} for {exact}");
        // Titanium's own dispersion shifts it, by about a tenth in the violet.
        let titanium = darkest(&Coating::default(), film, exact);
        assert!(
            (titanium / exact - 1.0).abs() < 0.12,
            "{film}: {titanium} for {exact}"
        );
    }
}

#[test]
fn no_film_reflects_more_than_all_at_any_angle() {
    let coating = Coating::default();
    for film in [0.0, 25.0, 80.0, 240.0] {
        for incidence in [0.0, 30.0, 60.0, 85.0] {
            for wavelength in [380.0, 550.0, 780.0] {
                let reflected = coating.reflectance(film, wavelength, incidence);
                assert!(0.0 < reflected && reflected < 1.0);
            }
        }
    }
}

/// ISO/CIE 11664-2: D65 has x = .3127, y = .3290; the fit of the observer is good
/// to a few thousandths.
#[test]
fn white_is_daylight() {
    let [x, y, z] = tristimulus(|_| 1.0);
    let sum = x + y + z;
    assert!((x / sum - 0.3127).abs() < 0.003 && (y / sum - 0.3290).abs() < 0.003);
}

/// Makers' charts, rising volts: gold, purple, blue, pale blue, straw, pink,
/// turquoise, green.
#[test]
fn colours_come_in_the_order_of_the_charts() {
    let coating = Coating::default();
    for (name, film, low, high) in [
        ("gold", 25.0, 20.0, 60.0),
        ("purple", 35.0, 260.0, 345.0),
        ("blue", 45.0, 200.0, 250.0),
        ("pale blue", 60.0, 180.0, 230.0),
        ("straw", 110.0, 35.0, 80.0),
        ("pink", 140.0, 290.0, 350.0),
        ("turquoise", 170.0, 150.0, 210.0),
        ("green", 192.0, 90.0, 160.0),
    ] {
        let hue = colour(&coating, film, 0.0).hue().unwrap();
        assert!(
            (low..=high).contains(&hue),
            "{name} at {film} nm: hue {hue}"
        );
    }
}

fn stops(stops: &[(f64, f64)]) -> Result<Programme, ProgrammeError> {
    let stops = stops.iter().map(|&(height, volts)| Stop { height, volts });
    Programme::new(stops.collect())
}

#[test]
fn a_programme_rises_downward() {
    assert!(matches!(
        stops(&[(200.0, 60.0), (0.0, 20.0)]),
        Err(ProgrammeError::Falls { stop: 2, .. })
    ));
    assert_eq!(
        stops(&[(0.0, 20.0), (200.0, 60.0)]),
        Err(ProgrammeError::NotFalling { stop: 2 })
    );
    assert_eq!(
        stops(&[(0.0, 20.0)]),
        Err(ProgrammeError::TooFew { count: 1 })
    );
    assert!(matches!(
        stops(&[(200.0, -1.0), (0.0, 20.0)]),
        Err(ProgrammeError::Volts { stop: 1, .. })
    ));
    let programme = stops(&[(200.0, 20.0), (100.0, 60.0), (0.0, 70.0)]).unwrap();
    for (height, volts) in [
        (250.0, 20.0),
        (150.0, 40.0),
        (100.0, 60.0),
        (50.0, 65.0),
        (-9.0, 70.0),
    ] {
        assert!((programme.volts(height) - volts).abs() < 1e-12);
    }
}

#[test]
fn the_table_says_when_and_how_unsure() {
    let programme = stops(&[(200.0, 20.0), (0.0, 60.0)]).unwrap();
    let calibration = Calibration::default();
    let rows = programme
        .table(&calibration, &Coating::default(), 50.0, 5)
        .unwrap();
    assert_eq!(rows.len(), 5);
    let middle = rows[2];
    assert_eq!(
        (middle.height, middle.volts, middle.seconds),
        (100.0, 40.0, 120.0)
    );
    assert!((middle.finish.film - 96.0).abs() < 1e-12);
    let (thin, thick) = middle.finish.film_range;
    assert!((thin - 80.0).abs() < 1e-12 && (thick - 112.0).abs() < 1e-12);
    assert_ne!(middle.finish.colour_range.0, middle.finish.colour_range.1);
    let wrong = Calibration {
        nm_per_volt: 3.5,
        ..calibration
    };
    assert!(matches!(
        programme.table(&wrong, &Coating::default(), 50.0, 5),
        Err(ProgrammeError::Calibration(CalibrationError::Rate { .. }))
    ));
    let patch = Calibration::from_patch(60.0, 25.0, 0.1);
    assert!((patch.volts(patch.film(31.0)).unwrap() - 31.0).abs() < 1e-12);
}
