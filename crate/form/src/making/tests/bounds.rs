//! What checks tell is on the safe side of every place of the skin: held against dense
//! samples, and against closed forms.

use super::*;
use crate::making::check::{Sense, values};
use crate::making::undercut::area::{TOLERANCE as AREA, undercut_area};
use crate::making::worst::TOLERANCE;

/// A lobed closed profile, at the size at which it stands.
fn lobed(radius: f64, lobes: u32, depth: f64, turned: f64) -> Curve {
    let nodes = (0..6 * lobes).map(|k| {
        let angle = TAU * f64::from(k) / f64::from(6 * lobes);
        let out = radius * (1.0 + depth * libm::cos(f64::from(lobes) * angle + turned));
        let at = |value: f64| libm::round(100.0 * out * value) as i32;
        Node::smooth(at(libm::cos(angle)), at(libm::sin(angle)))
    });
    Curve::new(&Profile::closed(nodes.collect()), Pacing::Parameter).unwrap()
}

/// Lobed and round profiles over uneven stations, in a stack and in a ring.
fn uneven() -> Vec<Piece> {
    let curves = [
        lobed(60.0, 3, 0.12, 0.4),
        lobed(50.0, 4, 0.08, 1.1),
        lobed(35.0, 3, 0.05, 2.0),
    ];
    let curves: Vec<&Curve> = curves.iter().collect();
    let word = || Arrangement(vec![0, 1, 2, 0]);
    let blends = [
        Blend::Ruled,
        Blend::Eased,
        Blend::BSpline(Degree::Two),
        Blend::BSpline(Degree::Three),
    ];
    let stations = |ring: bool| {
        if ring {
            let at = [0.0, 25.0, 60.0, 80.0].map(|at| Station::at(at).shifted(150.0, 0.0));
            Stations::ring(at.to_vec(), false).unwrap()
        } else {
            let at = [0.0, 40.0, 110.0, 150.0].map(Station::at);
            Stations::stack(at.to_vec()).unwrap()
        }
    };
    let standing = [false, true]
        .into_iter()
        .flat_map(|ring| blends.map(|blend| Layout::new(stations(ring), blend).unwrap()));
    standing
        .map(|layout| Piece::new(&curves, &layout, word()).unwrap())
        .collect()
}

/// Places between those of any regular grid of the search.
fn places(count: usize) -> impl Iterator<Item = (f64, f64)> {
    let at = move |k: usize| (k as f64 + 0.37) / count as f64;
    (0..count).flat_map(move |i| (0..count).map(move |j| (at(i), at(j))))
}

/// No place of a dense grid is worse than what is told, of any check; and what is
/// told is near to a value that a place has.
#[test]
fn no_place_is_worse_than_what_is_told() {
    let shop = Workshop {
        direction: UnitVector3::new_normalize(Vector3::new(0.2, 0.1, 1.0)),
        ..Workshop::default()
    };
    for piece in uneven() {
        for kind in Kind::ALL {
            let check = shop.check(kind);
            let report = examine(&piece, &[&*check])[0];
            if report.worst.is_nan() {
                continue;
            }
            assert!(!matches!(report.basis, Basis::Sampled { .. }), "{kind:?}");
            let dense = values(&piece, &*check, places(70));
            let limit = report.limit;
            for value in dense.into_iter().filter(|value| value.is_finite()) {
                assert!(
                    !limit.is_worse(value, report.worst),
                    "{kind:?}: {value} is worse than {}",
                    report.worst
                );
            }
            let tolerance = match kind {
                Kind::Draft => DEGREES,
                _ => 1e-4 + TOLERANCE * report.found.abs(),
            };
            let is_far = limit.sense == Sense::AtLeast && 100.0 * limit.value < report.worst;
            let apart = (report.worst - report.found).abs();
            assert!(
                is_far || report.worst == report.found || apart <= tolerance,
                "{kind:?}: {report:?}"
            );
            if !report.found.is_finite() {
                continue;
            }
            let place = report.place.unwrap();
            close(
                value_at(&piece, &*check, place.along, place.across),
                report.found,
                1e-6 * (1.0 + report.found.abs()),
            );
        }
    }
}

/// A limit between what a place has and what is told is neither kept nor broken.
#[test]
fn a_limit_is_kept_only_when_the_bound_keeps_it() {
    let piece = &uneven()[0];
    let told = examine(piece, &[&draft(up(), -80.0)])[0];
    for (least, passes) in [(told.worst - 0.01, true), (told.found + 0.01, false)] {
        let report = examine(piece, &[&draft(up(), least)])[0];
        assert_eq!(report.passes, passes);
        let basis = if passes {
            Basis::Proved
        } else {
            Basis::Checked
        };
        assert_eq!(report.basis, basis);
    }
}

/// The lower half of a torus is undercut: 2 pi² R r. Of an oblique cone it is where
/// cos a > (100 - 60) / 60, a the angle from its lean; its area by Simpson's rule over
/// the plain formula of a ruled surface between two circles.
#[test]
fn the_undercut_area_is_bounded() {
    let found = undercut_area(&torus(), up());
    let exact = 2.0 * PI * PI * 200.0 * 50.0;
    assert!((exact..exact * (1.0 + 1.5 * AREA)).contains(&found.at_most));
    assert!(found.proved <= exact * 1.001 && exact * (1.0 - 1.5 * AREA) < found.proved);
    let stations = vec![
        of_radius(0.0, 100.0),
        of_radius(200.0, 60.0).shifted(60.0, 0.0),
    ];
    let leaning = stack(stations, Blend::Ruled);
    let element = |angle: f64, v: f64| {
        let (sine, cosine) = libm::sincos(angle);
        let radius = 100.0 - 40.0 * v;
        let along = Vector3::new(-radius * sine, radius * cosine, 0.0);
        let across = Vector3::new(60.0 - 40.0 * cosine, -40.0 * sine, 200.0);
        along.cross(&across).norm()
    };
    let edge = libm::acos(40.0 / 60.0);
    let simpson = |from: f64, to: f64, value: &dyn Fn(f64) -> f64| {
        let step = (to - from) / 200.0;
        let weight = |k: u32| match k {
            0 | 200 => 1.0,
            k if k % 2 == 1 => 4.0,
            _ => 2.0,
        };
        let sum: f64 = (0..=200)
            .map(|k| weight(k) * value(from + step * f64::from(k)))
            .sum();
        sum * step / 3.0
    };
    let exact = simpson(-edge, edge, &|angle| {
        simpson(0.0, 1.0, &|v| element(angle, v))
    });
    let found = undercut_area(&leaning, up());
    assert!(
        (exact..exact * (1.0 + 1.5 * AREA)).contains(&found.at_most),
        "{found:?} for {exact}"
    );
    // Upright walls are none.
    let upright = stack(
        vec![of_radius(0.0, 50.0), of_radius(100.0, 50.0)],
        Blend::Ruled,
    );
    assert_eq!(undercut_area(&upright, up()).at_most, 0.0);
}
