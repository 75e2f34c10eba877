//! Charge, current, rise, breakdown and draining against Faraday's law and closed forms.

use super::bath::{Bath, BathError};
use super::charge::{Wetted, charge, demand};
use super::drain::{Drainage, drainage};
use super::film::Calibration;
use super::lift::{Hanging, LiftError, LiftOut, Pace};
use super::programme::Stop;
use super::supply::{Supply, SupplyError};
use crate::blend::{Blend, Layout};
use crate::piece::{Arrangement, Piece};
use crate::stations::{Station, Stations};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::{Node, Profile};

/// Of side 100 mm, in hundredths.
fn square() -> Curve {
    let corner = |(x, y)| Node::corner(x, y);
    let nodes = [(5000, 5000), (-5000, 5000), (-5000, -5000), (5000, -5000)].map(corner);
    Curve::new(&Profile::closed(nodes.to_vec()), Pacing::Parameter).unwrap()
}

fn open(points: &[(i32, i32)]) -> Curve {
    let nodes = points.iter().map(|&(x, y)| Node::smooth(x, y)).collect();
    Curve::new(&Profile::open(nodes), Pacing::Parameter).unwrap()
}

/// A square tube 200 mm tall.
fn tube() -> Piece {
    let stations = vec![Station::at(0.0), Station::at(200.0)];
    let layout = Layout::new(Stations::stack(stations).unwrap(), Blend::Ruled).unwrap();
    Piece::new(&[&square()], &layout, Arrangement(vec![0, 0])).unwrap()
}

fn ring(profiles: [&Curve; 2]) -> Piece {
    let stations = vec![Station::at(0.0), Station::at(60.0)];
    let layout = Layout::new(Stations::ring(stations, false).unwrap(), Blend::Ruled).unwrap();
    Piece::new(&profiles, &layout, Arrangement(vec![0, 1])).unwrap()
}

fn lift(supply: Supply, minutes: f64) -> Result<LiftOut, LiftError> {
    let bath = Bath {
        calibration: Calibration::measured(2.0, 0.0).unwrap(),
        supply,
        ..Bath::default()
    };
    let stops = [(200.0, 20.0), (100.0, 30.0), (0.0, 70.0)];
    let stops = stops.map(|(height, volts)| Stop { height, volts });
    let pace = Pace::Minutes(minutes);
    LiftOut::new(bath, (0.0, 200.0), Hanging::AsDrawn, stops.to_vec(), pace)
}

/// 100 nm take about .184 C on each cm² at 3.8 g/cm³ (Faraday's law, z = 4, 79.87 g/mol).
#[test]
fn charge_is_that_of_faradays_law() {
    let lighter = charge(100.0) * 3.8 / 3.9;
    assert!((lighter - 0.184).abs() < 5e-4, "{lighter}");
    assert_eq!(charge(0.0), 0.0);
}

/// A tube of constant girth: areas and currents are products.
#[test]
fn a_tube_takes_what_its_area_says() {
    let taken = demand(&lift(Supply::default(), 4.0).unwrap(), &Wetted::of(&tube()));
    // Both faces of 400 mm by 200 mm.
    assert!((taken.area - 1600.0).abs() < 1e-6, "{}", taken.area);
    assert!((taken.first - 1600.0 * charge(40.0)).abs() < 1e-6);
    // The mean voltage is 25 over the upper half and 50 over the lower.
    let whole = 800.0 * charge(50.0) + 800.0 * charge(100.0);
    assert!((taken.whole / whole - 1.0).abs() < 1e-9, "{}", taken.whole);
    // 10 V, then 40 V, in two minutes each; at the second stop half is in the bath.
    let second = 800.0 * charge(2.0 * 40.0 / 120.0);
    assert!((taken.current / second - 1.0).abs() < 0.02, "{taken:?}");
    assert_eq!(taken.at, 100.0);
    assert_eq!(taken.first_current, None);
    let limited = Supply {
        rise: Some(2.0),
        ..Supply::default()
    };
    let taken = demand(&lift(limited, 4.0).unwrap(), &Wetted::of(&tube()));
    let first = taken.first_current.unwrap();
    assert!((first - 1600.0 * charge(4.0)).abs() < 1e-6, "{first}");
}

#[test]
fn a_lift_keeps_to_what_bath_and_supply_can_do() {
    let of = |supply| lift(supply, 4.0);
    let breakdown = |volts| Supply {
        breakdown: Some(volts),
        ..Supply::default()
    };
    assert!(of(breakdown(70.1)).is_ok());
    assert_eq!(
        of(breakdown(70.0)),
        Err(LiftError::Breakdown {
            volts: 70.0,
            breakdown: 70.0
        })
    );
    // 40 V in two minutes are 1/3 V a second.
    let rise = |rise| Supply {
        rise: Some(rise),
        ..Supply::default()
    };
    assert!(of(rise(0.334)).is_ok());
    let refused = of(rise(0.2));
    let Err(LiftError::Rise { asked, minutes, .. }) = refused else {
        panic!("{refused:?}");
    };
    assert!((asked - 1.0 / 3.0).abs() < 1e-12 && (minutes - 20.0 / 3.0).abs() < 1e-9);
    assert!(lift(rise(0.2), minutes + 1e-9).is_ok());
    let crossed = Supply {
        linear_to: Some(90.0),
        breakdown: Some(80.0),
        ..Supply::default()
    };
    assert!(matches!(
        of(crossed),
        Err(LiftError::Bath(BathError::Supply(
            SupplyError::Crossed { .. }
        )))
    ));
    for volts in [0.0, -1.0, f64::NAN, 141.0] {
        assert!(matches!(
            of(breakdown(volts)),
            Err(LiftError::Bath(BathError::Supply(
                SupplyError::Volts { .. }
            )))
        ));
    }
    assert!(matches!(
        of(rise(0.0)),
        Err(LiftError::Bath(BathError::Supply(
            SupplyError::NotAbove { .. }
        )))
    ));
}

#[test]
fn growth_beyond_its_linear_range_is_marked() {
    let limited = Supply {
        linear_to: Some(50.0),
        ..Supply::default()
    };
    let rows = lift(limited, 4.0).unwrap().table(5).unwrap();
    let marks: Vec<_> = rows.iter().map(|row| row.finish.is_linear).collect();
    assert_eq!(
        marks,
        [Some(true), Some(true), Some(true), Some(true), Some(false)]
    );
    let unknown = lift(Supply::default(), 4.0).unwrap().table(2).unwrap();
    assert_eq!(unknown[0].finish.is_linear, None);
}

/// Aslant the way through the film is shorter by the cosine within it, so a film looks
/// like a thinner one seen straight on (Born and Wolf, 1999, 7.5.1).
#[test]
fn a_colour_seen_aslant_is_that_of_another_film() {
    let rows = lift(Supply::default(), 4.0).unwrap().table(3).unwrap();
    assert_ne!(rows[2].finish.aslant, rows[2].finish.colour);
    let straight = Bath {
        aslant: 0.0,
        ..Bath::default()
    };
    let stops = vec![Stop {
        height: 0.0,
        volts: 40.0,
    }];
    let pace = Pace::Minutes(1.0);
    let lift = LiftOut::new(straight, (0.0, 9.0), Hanging::AsDrawn, stops, pace).unwrap();
    let finish = lift.finish(3.0);
    assert_eq!(finish.aslant, finish.colour);
    let beside = Bath {
        aslant: 90.0,
        ..Bath::default()
    };
    assert_eq!(beside.validate(), Err(BathError::Aslant { degrees: 90.0 }));
}

#[test]
fn a_tube_holds_the_bath_only_with_a_floor() {
    let piece = tube();
    let Drainage::OpenEnd { litres } = drainage(&piece, Hanging::AsDrawn) else {
        panic!("a tube has an open end");
    };
    // 10 cm by 10 cm by 20 cm.
    assert!((litres - 2.0).abs() < 1e-9, "{litres}");
}

#[test]
fn a_trough_in_any_blend_of_a_ring_is_told() {
    let arch = open(&[(10_000, 0), (12_000, 4000), (14_000, 0)]);
    let slope = open(&[(10_000, 0), (12_000, 3000), (14_000, 6000)]);
    let hollow = |[a, b, c]: [i32; 3]| open(&[(10_000, a), (12_000, b), (14_000, c)]);
    let (rising, falling) = (hollow([0, 1000, 4000]), hollow([4000, 1000, 0]));
    let of = |profiles, hanging| {
        let piece = ring(profiles);
        drainage(&piece, hanging)
    };
    assert_eq!(of([&arch, &arch], Hanging::AsDrawn), Drainage::Drains);
    assert_eq!(of([&arch, &arch], Hanging::TurnedOver), Drainage::MayHold);
    assert_eq!(of([&slope, &slope], Hanging::AsDrawn), Drainage::Drains);
    assert_eq!(of([&slope, &slope], Hanging::TurnedOver), Drainage::Drains);
    let wave = open(&[
        (10_000, 0),
        (11_000, 3000),
        (12_000, 1000),
        (13_000, 4000),
        (14_000, 0),
    ]);
    assert_eq!(of([&wave, &arch], Hanging::AsDrawn), Drainage::MayHold);
    assert_eq!(of([&arch, &slope], Hanging::AsDrawn), Drainage::Drains);
    // Each runs off by itself; half way between them lies a trough 10 mm deep.
    assert_eq!(of([&rising, &rising], Hanging::AsDrawn), Drainage::Drains);
    assert_eq!(of([&falling, &falling], Hanging::AsDrawn), Drainage::Drains);
    assert_eq!(of([&rising, &falling], Hanging::AsDrawn), Drainage::MayHold);
}
