//! Films and colours against formulas, standards and makers' charts.

use super::bath::{Bath, BathError};
use super::colour::{colour, tristimulus};
use super::film::{Calibration, CalibrationError};
use super::interference::{Coating, CoatingError, Metal};
use super::lift::{Hanging, LiftError, LiftOut, Pace};
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

fn stops(stops: &[(f64, f64)]) -> Vec<Stop> {
    let stops = stops.iter().map(|&(height, volts)| Stop { height, volts });
    stops.collect()
}

#[test]
fn a_programme_rises_downward() {
    let programme = |list: &[(f64, f64)]| Programme::new(stops(list));
    assert!(matches!(
        programme(&[(200.0, 60.0), (0.0, 20.0)]),
        Err(ProgrammeError::Falls { stop: 2, .. })
    ));
    for list in [
        [(0.0, 20.0), (200.0, 60.0)],
        [(9.0, 20.0), (9.0, 60.0)],
        [(f64::NAN, 20.0), (0.0, 60.0)],
    ] {
        assert_eq!(
            programme(&list),
            Err(ProgrammeError::NotFalling { stop: 2 })
        );
    }
    assert_eq!(programme(&[]), Err(ProgrammeError::Empty));
    assert!(matches!(
        programme(&[(200.0, -1.0), (0.0, 20.0)]),
        Err(ProgrammeError::Volts { stop: 1, .. })
    ));
    let three = programme(&[(200.0, 20.0), (100.0, 60.0), (0.0, 70.0)]).unwrap();
    for (height, volts) in [
        (250.0, 20.0),
        (150.0, 40.0),
        (100.0, 60.0),
        (50.0, 65.0),
        (-9.0, 70.0),
    ] {
        assert!((three.volts(height) - volts).abs() < 1e-12);
    }
    // One stop is one colour.
    let one = programme(&[(50.0, 30.0)]).unwrap();
    assert_eq!([90.0, 50.0, 0.0].map(|height| one.volts(height)), [30.0; 3]);
}

/// A piece from 0 to 200 mm, lifted in 4 minutes.
fn lift(hanging: Hanging, list: &[(f64, f64)]) -> Result<LiftOut, LiftError> {
    let pace = Pace::Minutes(4.0);
    LiftOut::new(Bath::default(), (0.0, 200.0), hanging, stops(list), pace)
}

#[test]
fn the_table_says_when_and_how_unsure() {
    let lift = lift(Hanging::AsDrawn, &[(200.0, 20.0), (0.0, 60.0)]).unwrap();
    let rows = lift.table(5).unwrap();
    assert_eq!(rows.len(), 5);
    let middle = rows[2];
    assert_eq!(
        (middle.height, middle.volts, middle.seconds, middle.lifted),
        (100.0, 40.0, 120.0, 100.0)
    );
    assert!((middle.finish.film - 96.0).abs() < 1e-12);
    let (thin, thick) = middle.finish.film_range;
    assert!((thin - 80.0).abs() < 1e-12 && (thick - 112.0).abs() < 1e-12);
    assert_ne!(middle.finish.colour_range.0, middle.finish.colour_range.1);
    for lines in [0, 1, 2001] {
        assert_eq!(lift.table(lines), Err(LiftError::Lines { lines }));
    }
}

/// Turned over, a piece runs as its mirror image does.
#[test]
fn a_piece_hangs_either_way() {
    let list = [(200.0, 80.0), (150.0, 50.0), (0.0, 20.0)];
    let (hanging, order) = Hanging::of_stops(stops(&list), (0.0, 200.0)).unwrap();
    assert_eq!(hanging, Hanging::TurnedOver);
    assert_eq!(order, stops(&[(0.0, 20.0), (150.0, 50.0), (200.0, 80.0)]));
    let over = lift(hanging, &[(0.0, 20.0), (150.0, 50.0), (200.0, 80.0)]).unwrap();
    let mirror = [(200.0, 20.0), (50.0, 50.0), (0.0, 80.0)];
    let drawn = lift(Hanging::AsDrawn, &mirror).unwrap();
    let rows = over.table(9).unwrap().into_iter();
    for (one, other) in rows.zip(drawn.table(9).unwrap()) {
        assert!((one.height - (200.0 - other.height)).abs() < 1e-12);
        assert!((one.volts - other.volts).abs() < 1e-12);
        assert_eq!((one.seconds, one.lifted), (other.seconds, other.lifted));
    }
    // Rising from the top down, or level, it needs no turn.
    for list in [[(0.0, 80.0), (200.0, 20.0)], [(0.0, 20.0), (200.0, 20.0)]] {
        let (hanging, order) = Hanging::of_stops(stops(&list), (0.0, 200.0)).unwrap();
        assert_eq!((hanging, order[0].height), (Hanging::AsDrawn, 200.0));
    }
    assert!(matches!(
        lift(Hanging::TurnedOver, &[(200.0, 20.0), (0.0, 60.0)]),
        Err(LiftError::Programme(ProgrammeError::NotFalling { stop: 2 }))
    ));
}

#[test]
fn what_stops_do_not_reach_keeps_the_nearest_voltage_and_is_told() {
    let short = lift(Hanging::AsDrawn, &[(190.0, 20.0), (30.0, 60.0)]).unwrap();
    assert_eq!(short.beyond_stops(), (10.0, 30.0));
    let rows = short.table(21).unwrap();
    assert_eq!((rows[0].height, rows[0].volts), (200.0, 20.0));
    assert_eq!((rows[20].height, rows[20].volts), (0.0, 60.0));
    // Beyond the piece, and within a hundredth of its end.
    let over = lift(Hanging::TurnedOver, &[(-10.0, 20.0), (200.006, 60.0)]).unwrap();
    assert_eq!(over.beyond_stops(), (-10.0, 0.0));
    assert!((over.volts(0.0) - (20.0 + 40.0 * 10.0 / 210.006)).abs() < 1e-12);
    let reach = (0.0, 200.0);
    assert!(matches!(
        Hanging::of_stops(stops(&[(-10.0, 20.0)]), reach),
        Err(LiftError::Beyond { .. })
    ));
    assert!(matches!(
        Hanging::of_stops(stops(&[(10.0, 20.0), (10.0, 30.0)]), reach),
        Err(LiftError::Twice { .. })
    ));
}

#[test]
fn a_lift_that_is_none_is_refused() {
    let pace = |pace, reach| {
        let list = stops(&[(0.0, 20.0)]);
        LiftOut::new(Bath::default(), reach, Hanging::AsDrawn, list, pace)
    };
    let reach = (0.0, 200.0);
    for speed in [0.0, -5.0, f64::NAN, f64::INFINITY, 0.1] {
        let refused = pace(Pace::Speed(speed), reach).unwrap_err();
        assert!(matches!(refused, LiftError::Speed { .. }), "{refused}");
    }
    for minutes in [0.0, f64::NAN, 1441.0] {
        let refused = pace(Pace::Minutes(minutes), reach).unwrap_err();
        assert!(matches!(refused, LiftError::Minutes { .. }), "{refused}");
    }
    assert_eq!(pace(Pace::Minutes(1.0), (5.0, 5.0)), Err(LiftError::Flat));
    let timed = pace(Pace::Minutes(4.0), reach).unwrap();
    assert_eq!(pace(Pace::Speed(50.0), reach).unwrap(), timed);
    let glass = Coating::on_titanium(1.2);
    let bath = Bath {
        coating: glass,
        ..Bath::default()
    };
    let list = stops(&[(0.0, 20.0)]);
    assert_eq!(
        LiftOut::new(bath, reach, Hanging::AsDrawn, list, Pace::Minutes(1.0)),
        Err(LiftError::Bath(BathError::Coating(CoatingError::Oxide {
            oxide: 1.2
        })))
    );
}

#[test]
fn a_calibration_is_measured_or_of_sources() {
    let usual = Calibration::default();
    assert!(usual.is_of_sources());
    let wrong = Calibration {
        nm_per_volt: 3.5,
        ..usual
    };
    let outside = wrong.validate();
    assert!(matches!(outside, Err(CalibrationError::Rate { .. })));
    let patch = Calibration::from_patch(60.0, 25.0, 10.0).unwrap();
    assert!(!patch.is_of_sources());
    assert!((patch.volts(patch.film(31.0)).unwrap() - 31.0).abs() < 1e-12);
    assert!((patch.doubt().0 - 0.1).abs() < 1e-12 && (patch.doubt().1 - 0.1).abs() < 1e-12);
    for (film, volts) in [(0.0, 25.0), (60.0, 0.0), (f64::NAN, 25.0), (1e300, 1e-300)] {
        let refused = Calibration::from_patch(film, volts, 10.0);
        assert!(matches!(refused, Err(CalibrationError::Patch { .. })));
    }
    assert_eq!(
        Calibration::measured(2.2, 90.0),
        Err(CalibrationError::Unsure { percent: 90.0 })
    );
}
