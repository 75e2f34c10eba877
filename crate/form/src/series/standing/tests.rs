//! What stands where, on families of circles whose answers are known.

use super::*;
use crate::blend::{Blend, Degree};
use crate::piece::Arrangement;
use crate::series::Series;
use crate::series::empty::Empty;
use crate::stations::Station;
use loftkin_kernel::family::{Family, TenthsOfDegree};
use loftkin_kernel::profile::{Node, Profile};
use num_bigint::BigUint;

/// A circle of 100 mm about (`middle`, 0), its seam turned by `turn` degrees.
fn round(middle: i32, turn: f64) -> Profile {
    let nodes = (0..12)
        .map(|k| {
            let angle = (turn + 30.0 * f64::from(k)).to_radians();
            let at = |value: f64| libm::round(10_000.0 * value) as i32;
            Node::smooth(100 * middle + at(libm::cos(angle)), at(libm::sin(angle)))
        })
        .collect();
    Profile::closed(nodes)
}

fn table(profiles: Vec<Profile>, placement: Placement) -> Table {
    Table::new(Family {
        settings: Settings {
            twist_limit: TenthsOfDegree(1799),
            placement,
            ..Settings::default()
        },
        profiles,
        ..Family::default()
    })
    .unwrap()
}

fn stack(turns: &[f64], blend: Blend) -> Layout {
    let stations = turns
        .iter()
        .enumerate()
        .map(|(k, &turn)| Station::at(100.0 * k as f64).turned(turn))
        .collect();
    Layout::new(Stations::stack(stations).unwrap(), blend).unwrap()
}

fn count(table: &Table, layout: Layout) -> u32 {
    let series = Series::new(table, layout, &Rules::default()).unwrap();
    u32::try_from(series.count()).unwrap()
}

#[test]
fn scale_and_shift_keep_the_verdicts_of_the_table() {
    // Seams 0 and 179 agree by the closed form (waist r cos 89.5 degrees), 0 and
    // 180 do not, and 1 and 180 do.
    let table = table(
        vec![round(0, 0.0), round(0, 1.0), round(0, 180.0)],
        Placement::Stack,
    );
    let stations = vec![
        Station::at(0.0),
        Station::at(50.0).scaled(0.37).shifted(12.0, -7.0),
        Station::at(70.0).scaled(2.9),
    ];
    let stations = Stations::stack(stations).unwrap();
    for blend in [Blend::Ruled, Blend::Eased] {
        let layout = Layout::new(stations.clone(), blend).unwrap();
        // Of 27 words those without a 0 beside a 2: by M = [110, 111, 011].
        assert_eq!(count(&table, layout), 17);
    }
}

#[test]
fn turned_stations_are_judged_anew() {
    let table = table(vec![round(0, 0.0), round(0, 60.0)], Placement::Stack);
    // One against the other: 0, 60 and, turned, 120 to 180 degrees in between.
    assert_eq!(count(&table, stack(&[0.0, 0.0], Blend::Ruled)), 4);
    let standing = |turn: f64| {
        let layout = stack(&[0.0, turn], Blend::Ruled);
        Standing::new(&table, &layout, &Rules::default()).unwrap()
    };
    let turned = standing(120.0);
    assert_eq!(turned.beside(0, 0, 0), Verdict::Clear);
    assert_eq!(turned.beside(0, 1, 0), Verdict::Clear);
    // 120 + 60 degrees: a half turn but for rounding, never clear.
    assert_ne!(turned.beside(0, 0, 1), Verdict::Clear);
    assert_eq!(count(&table, stack(&[0.0, 120.0], Blend::Ruled)), 3);
    assert_eq!(standing(180.0).beside(0, 1, 1), Verdict::Faulty);
    // Turned alike, nothing changes.
    assert_eq!(count(&table, stack(&[33.0, 33.0], Blend::Ruled)), 4);
}

#[test]
fn a_blend_of_three_is_asked_of_b_splines_only() {
    let thirds = vec![round(0, 0.0), round(0, 120.0), round(0, 240.0)];
    let table = table(thirds, Placement::Stack);
    let layout = |blend| stack(&[0.0; 4], blend);
    assert_eq!(count(&table, layout(Blend::Eased)), 81);
    let quadratic = layout(Blend::BSpline(Degree::Two));
    let series = Series::new(&table, quadratic, &Rules::default()).unwrap();
    assert_eq!(series.standing().grounds(), Grounds::Threes);
    // Words of 4 letters without three different ones in a row: 21 + 30 by their last two.
    assert_eq!(*series.count(), BigUint::from(51_u32));
    assert!(series.number(&Arrangement(vec![0, 1, 1, 2])).is_ok());
    assert!(series.number(&Arrangement(vec![0, 1, 2, 2])).is_err());
    // With four at a time only words of two letters are left: 3 + 3 * 14.
    assert_eq!(count(&table, layout(Blend::BSpline(Degree::Three))), 45);
    // A station turned by a third stands in for the third profile.
    let pair = self::table(vec![round(0, 0.0), round(0, 120.0)], Placement::Stack);
    let turned = stack(&[0.0, 0.0, 240.0], Blend::BSpline(Degree::Two));
    let series = Series::new(&pair, turned, &Rules::default()).unwrap();
    assert!(series.number(&Arrangement(vec![0, 0, 0])).is_ok());
    assert!(series.number(&Arrangement(vec![0, 1, 0])).is_err());
}

#[test]
fn a_proved_set_needs_no_threes() {
    let table = table(
        vec![round(0, 0.0), round(0, 50.0), round(0, 100.0)],
        Placement::Stack,
    );
    let layout = stack(&[0.0; 5], Blend::BSpline(Degree::Three));
    let series = Series::new(&table, layout, &Rules::default()).unwrap();
    assert_eq!(series.standing().grounds(), Grounds::WholeSet);
    assert_eq!(*series.count(), BigUint::from(243_u32));
}

#[test]
fn the_axis_is_asked_at_each_station() {
    for placement in [Placement::Stack, Placement::Ring] {
        let table = table(vec![round(150, 0.0), round(90, 0.0)], placement);
        let ring = |shift: f64| {
            let stations = vec![
                Station::at(0.0),
                Station::at(120.0).shifted(shift, 0.0),
                Station::at(240.0),
            ];
            let stations = Stations::ring(stations, true).unwrap();
            Layout::new(stations, Blend::Ruled).unwrap()
        };
        // The second profile reaches the axis as drawn, not when shifted by 20.
        assert_eq!(count(&table, ring(0.0)), 1);
        assert_eq!(count(&table, ring(20.0)), 2);
        assert_eq!(count(&table, ring(-60.0)), 0);
        // A stack has no axis.
        assert_eq!(count(&table, stack(&[0.0; 3], Blend::Ruled)), 8);
    }
}

/// A ring may come within any distance of its axis, which pairs know nothing of.
#[test]
fn a_margin_is_told_of_stacks_only() {
    let table = table(vec![round(150, 0.0)], Placement::Stack);
    let margin = |layout: Layout| {
        let series = Series::new(&table, layout, &Rules::default()).unwrap();
        let piece = series.arrangement(&BigUint::from(1_u32)).unwrap();
        series.margin(&piece, |_, _| Some(2.0))
    };
    assert_eq!(margin(stack(&[0.0; 3], Blend::Ruled)), Some(2.0));
    let near = [0.0, 120.0, 240.0].map(|at| Station::at(at).shifted(-49.9, 0.0));
    let ring = Stations::ring(near.to_vec(), true).unwrap();
    assert_eq!(margin(Layout::new(ring, Blend::Ruled).unwrap()), None);
}

#[test]
fn rules_thin_out_the_series() {
    let table = table(
        vec![round(0, 0.0), round(0, 10.0), round(0, 20.0)],
        Placement::Stack,
    );
    let layout = || stack(&[0.0; 4], Blend::Ruled);
    let series = |rules: &Rules| Series::new(&table, layout(), rules).unwrap();
    let unequal = Rules {
        no_equal_neighbours: true,
        ..Rules::default()
    };
    assert_eq!(*series(&unequal).count(), BigUint::from(24_u32));
    let fixed = unequal.with_fixed(4, 3, 1);
    let series = series(&fixed);
    assert_eq!(*series.count(), BigUint::from(8_u32));
    for number in 1..=8_u32 {
        let arrangement = series.arrangement(&BigUint::from(number)).unwrap();
        assert_eq!(arrangement.0[3], 1);
        assert_eq!(series.number(&arrangement).unwrap(), BigUint::from(number));
    }
}

#[test]
fn an_empty_series_says_why() {
    let close = table(vec![round(0, 0.0), round(0, 180.0)], Placement::Stack);
    let emptiness =
        |layout: Layout, rules: &Rules| Series::new(&close, layout, rules).unwrap().emptiness();
    let three = || stack(&[0.0; 3], Blend::Ruled);
    assert_eq!(emptiness(three(), &Rules::default()), None);
    // The only other profile is a half turn away.
    let unequal = Rules {
        no_equal_neighbours: true,
        ..Rules::default()
    };
    let parted = Some(Empty::Joint { low: 1, high: 2 });
    assert_eq!(emptiness(three(), &unequal), parted);
    let fixed = Rules::default().with_fixed(3, 0, 0).with_fixed(3, 2, 1);
    assert_eq!(emptiness(three(), &fixed), Some(Empty::Together));
    let ring = [0.0, 120.0, 240.0].map(Station::at).to_vec();
    let ring = Layout::new(Stations::ring(ring, true).unwrap(), Blend::Ruled).unwrap();
    let reached = Some(Empty::Station { station: 1 });
    assert_eq!(emptiness(ring, &Rules::default()), reached);
}
