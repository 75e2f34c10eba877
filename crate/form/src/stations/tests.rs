//! Refusals of stations, and exact quarter turns.

use super::*;

fn heights(heights: &[f64]) -> Vec<Station> {
    heights.iter().map(|&at| Station::at(at)).collect()
}

#[test]
fn wrong_stations_are_named() {
    let refused = |stations| Stations::stack(stations).unwrap_err();
    assert_eq!(refused(heights(&[0.0])), StationError::Count { count: 1 });
    assert_eq!(
        refused(heights(&[0.0, 5.0, 5.0])),
        StationError::NotRising {
            station: 3,
            at: 5.0,
            before: 5.0,
            setting: Setting::Stack
        }
    );
    let said = refused(heights(&[0.0, 24.0, 10.0])).to_string();
    assert!(
        said.contains("at 10 mm") && said.contains("give heights"),
        "{said}"
    );
    let scaled = vec![Station::at(0.0), Station::at(1.0).scaled(0.0)];
    assert!(matches!(
        refused(scaled),
        StationError::Scale { station: 2, .. }
    ));
    assert!(matches!(
        refused(vec![Station::at(f64::NAN), Station::at(1.0)]),
        StationError::Height { station: 1, .. }
    ));
    assert!(matches!(
        Stations::ring(heights(&[0.0, 360.0]), false),
        Err(StationError::PastFullTurn { .. })
    ));
}

#[test]
fn only_closed_profiles_are_turned() {
    let turned = vec![Station::at(0.0), Station::at(1.0).turned(30.0)];
    let stations = Stations::stack(turned).unwrap();
    assert_eq!(stations.suit(true), Ok(()));
    assert_eq!(
        stations.suit(false),
        Err(StationError::TurnOfOpen { station: 2 })
    );
}

#[test]
fn quarter_turns_are_exact() {
    assert_eq!(cosine_and_sine(0.0), (1.0, 0.0));
    assert_eq!(cosine_and_sine(90.0), (0.0, 1.0));
    assert_eq!(cosine_and_sine(-90.0), (0.0, -1.0));
    assert_eq!(cosine_and_sine(180.0), (-1.0, 0.0));
    assert_eq!(cosine_and_sine(-270.0), (0.0, 1.0));
    assert_eq!(cosine_and_sine(360.0), (1.0, 0.0));
    let (cosine, sine) = cosine_and_sine(150.0);
    assert!((cosine + libm::sqrt(0.75)).abs() < 1e-15 && (sine - 0.5).abs() < 1e-15);
}
