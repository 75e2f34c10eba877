//! Loop, cusp or neither: single cubics against two published or derived forms.
//!
//! Stone and DeRose, A geometric characterization of parametric cubic curves,
//! ACM Transactions on Graphics 8(3), 1989, 147-163: with the first three
//! control points at (0,0), (0,1), (1,1) the fourth, (x, y), decides. Cusp on
//! x^2 - 2x + 4y - 3 = 0 for x <= 1; a loop lies below it and above
//! x^2 + xy + y^2 - 3x = 0 for 0 <= x <= 1, above x^2 - 3x + 3y = 0 for x <= 0.
//!
//! The second form is derived here: with C(t) = b t + c t^2 + d t^3 the divided
//! difference is b + c s + d (s^2 - p), s = t + t', p = t t'; crossing it with d
//! gives s, then p, and the loop is in the span when both roots of
//! t^2 - s t + p lie in \[0, 1\].

use loftkin_kernel::family::{Pacing, Settings};
use loftkin_kernel::verdict::{FaultKind, Judgement, Verdict};
use loftkin_tests::compare::{Claim, claim, table};
use loftkin_tests::random::Random;
use loftkin_tests::shapes::{single_cubic, wide};

/// Grid steps in one unit of the canonical plane.
const UNIT: i32 = 1000;

/// Half the width of the band about the boundaries in which samples of a line
/// are not counted: wider than their spacing, so that none leaps a boundary.
const BAND: f64 = 5e-3;

#[derive(Clone, Copy, Debug, PartialEq)]
enum Shape {
    Loop,
    Plain,
    Edge,
}

/// The published regions; `Edge` within `slack` of a boundary.
fn published(x: f64, y: f64, slack: f64) -> Shape {
    let cusp = (3.0 + 2.0 * x - x * x) / 4.0;
    let end = if x <= 0.0 {
        x - x * x / 3.0
    } else {
        0.5 * (-x + (12.0 * x - 3.0 * x * x).max(0.0).sqrt())
    };
    if 1.0 + slack < x || cusp + slack < y || y < end - slack {
        Shape::Plain
    } else if x < 1.0 - slack && y < cusp - slack && end + slack < y {
        Shape::Loop
    } else {
        Shape::Edge
    }
}

/// The two parameters of the loop, whatever they are; none without a loop.
fn loop_ends(x: f64, y: f64) -> Option<(f64, f64)> {
    let (b, c, d) = ([0.0, 3.0], [3.0, -3.0], [x - 3.0, y]);
    let cross = |p: [f64; 2], q: [f64; 2]| p[0] * q[1] - p[1] * q[0];
    let sum = -cross(b, d) / cross(c, d);
    let along = d[0] * d[0] + d[1] * d[1];
    let dot = |p: [f64; 2]| (p[0] * d[0] + p[1] * d[1]) / along;
    let product = dot(b) + dot(c) * sum + sum * sum;
    let square = 0.25 * sum * sum - product;
    (0.0 < square).then(|| (0.5 * sum - square.sqrt(), 0.5 * sum + square.sqrt()))
}

fn judged(x: i32, y: i32) -> Judgement {
    let profile = single_cubic([(0, 0), (0, UNIT), (UNIT, UNIT), (x, y)]);
    *table(Settings::default(), vec![profile]).cell(0, 0)
}

fn unit(value: i32) -> f64 {
    f64::from(value) / f64::from(UNIT)
}

#[test]
fn the_two_forms_agree() {
    let mut random = Random::new(1989);
    for _ in 0..20_000 {
        let (x, y) = (random.between(-4.0, 3.0), random.between(-6.0, 3.0));
        let inside = loop_ends(x, y).is_some_and(|(t, s)| 0.0 <= t && s <= 1.0);
        match published(x, y, 1e-6) {
            Shape::Loop => assert!(inside, "{x} {y} {:?}", loop_ends(x, y)),
            Shape::Plain => assert!(!inside, "{x} {y} {:?}", loop_ends(x, y)),
            Shape::Edge => {}
        }
    }
}

#[test]
fn every_cubic_of_a_grid_is_judged_as_published() {
    let (mut loops, mut plain, mut open) = (0, 0, 0);
    for x in (-4 * UNIT..=3 * UNIT).step_by(47) {
        for y in (-6 * UNIT..=3 * UNIT).step_by(53) {
            let judgement = judged(x, y);
            match published(unit(x), unit(y), 2e-5) {
                Shape::Loop => {
                    loops += 1;
                    assert_eq!(judgement.verdict, Verdict::Faulty, "{x} {y} {judgement:?}");
                    let place = judgement.worst().expect("faulty").place;
                    let (t, s) = loop_ends(unit(x), unit(y)).expect("a loop");
                    // A fold that is born at the same place is named as such.
                    assert!(
                        (place.along.min(place.other_along) - t).abs() < 1e-5,
                        "{x} {y} {place:?} {t} {s}"
                    );
                    assert!(
                        (place.along.max(place.other_along) - s).abs() < 1e-5,
                        "{x} {y} {place:?} {t} {s}"
                    );
                }
                Shape::Plain => {
                    plain += 1;
                    assert_eq!(judgement.verdict, Verdict::Clear, "{x} {y} {judgement:?}");
                }
                Shape::Edge => open += 1,
            }
        }
    }
    println!("{loops} loops, {plain} plain, {open} on an edge");
    assert!(1000 < loops && 10_000 < plain);
}

/// Whole points exactly on the cusp parabola, its end at (1, 1) left out, where
/// the last handle is zero: never clear.
#[test]
fn a_cusp_is_never_clear() {
    for x in (-3 * UNIT..UNIT).step_by(20) {
        let four_y = i64::from(UNIT) * i64::from(3 * UNIT) + 2 * i64::from(UNIT) * i64::from(x)
            - i64::from(x) * i64::from(x);
        if four_y % i64::from(4 * UNIT) != 0 {
            continue;
        }
        let y = (four_y / i64::from(4 * UNIT)) as i32;
        let judgement = judged(x, y);
        assert_ne!(judgement.verdict, Verdict::Clear, "{x} {y} {judgement:?}");
    }
}

/// (0,0), (a,1), (1-a,1), (1,0): a cusp at t = 1/2 for a = 1, a loop above, its
/// ends at 1/2 +- sqrt(3 (a-1) / (3a-1)) / 2: with t = 1/2 + r the abscissa less
/// 1/2 is r (3/2 (1-a) + r^2 (6a-2)), and equal heights mean opposite r.
#[test]
fn the_loop_of_the_symmetric_cubic_has_the_derived_ends() {
    for a in [1010, 1100, 1250, 1500, 2000, 3000, 10_000] {
        let profile = single_cubic([(0, 0), (a, UNIT), (UNIT - a, UNIT), (UNIT, 0)]);
        let judgement = *table(Settings::default(), vec![profile]).cell(0, 0);
        let place = judgement.worst().expect("faulty").place;
        let half = (3.0 * (unit(a) - 1.0) / (3.0 * unit(a) - 1.0)).sqrt() / 2.0;
        let (low, high) = (
            place.along.min(place.other_along),
            place.along.max(place.other_along),
        );
        assert!(
            (low - (0.5 - half)).abs() < 1e-6 && (high - (0.5 + half)).abs() < 1e-6,
            "{a}: {place:?}"
        );
    }
    // The known case a = 2: ends .112702 and .887298, crossing at (.5, .3).
    assert!((0.5 - (3.0f64 / 5.0).sqrt() / 2.0 - 0.112_702).abs() < 1e-6);
}

/// The fourth control point moves on a line while the others stand: the loft is
/// faulty exactly when the line passes through the published loop region.
#[test]
fn a_loft_is_faulty_when_the_fourth_point_passes_through_the_loop_region() {
    let settings = wide(Pacing::Node);
    let mut random = Random::new(147);
    let (mut faulty, mut clear) = (0, 0);
    for _ in 0..20_000 {
        let mut ends = || {
            (
                random.whole(-3 * UNIT, 2 * UNIT),
                random.whole(-5 * UNIT, 2 * UNIT),
            )
        };
        let (from, to) = (ends(), ends());
        let plain = |(x, y): (i32, i32)| published(unit(x), unit(y), BAND) == Shape::Plain;
        if !plain(from) || !plain(to) {
            continue;
        }
        let samples = 2000;
        let met: Vec<Shape> = (0..=samples)
            .map(|k| {
                let v = f64::from(k) / f64::from(samples);
                let blend = |a: i32, b: i32| unit(a) * (1.0 - v) + unit(b) * v;
                published(blend(from.0, to.0), blend(from.1, to.1), BAND)
            })
            .collect();
        let profiles = [from, to].map(|last| single_cubic([(0, 0), (0, UNIT), (UNIT, UNIT), last]));
        let judgement = *table(settings, profiles.to_vec()).cell(0, 1);
        let claim = claim(&judgement);
        if met.contains(&Shape::Loop) {
            faulty += 1;
            let Claim::Faulty(fault) = claim else {
                panic!("{from:?} {to:?} {judgement:?}")
            };
            let v = fault.place.across;
            let blend = |a: i32, b: i32| unit(a) * (1.0 - v) + unit(b) * v;
            let there = published(blend(from.0, to.0), blend(from.1, to.1), 1e-5);
            assert_ne!(there, Shape::Plain, "{from:?} {to:?} {judgement:?}");
            if fault.kind == FaultKind::Fold {
                let (x, y) = (blend(from.0, to.0), blend(from.1, to.1));
                let off = x * x - 2.0 * x + 4.0 * y - 3.0;
                assert!(
                    off.abs() < 1e-6,
                    "{from:?} {to:?} off the parabola by {off}"
                );
            }
        } else if !met.contains(&Shape::Edge) {
            clear += 1;
            assert_eq!(claim, Claim::Clear, "{from:?} {to:?} {judgement:?}");
        }
    }
    println!("{faulty} through the loops, {clear} past them");
    assert!(300 < faulty && 3000 < clear);
}
