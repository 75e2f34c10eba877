//! Radii, edges, scallops, stretch, pressure and offsets against closed forms.

use super::*;
use crate::body::wall::Side;
use crate::making::check::Check;
use crate::making::gas::GasPressure;
use crate::making::materials;
use crate::making::offset::OffsetBend;
use crate::making::radius::{BendRadius, CutterRadius, ToolSide};
use crate::making::scallop::{Scallop, height, step_for};
use crate::making::stretch::{Stretch, Thinning, dome, sine_law, trough};
use crate::making::temperature::{SUPERPLASTIC, Temperature};
use crate::making::worst::TOLERANCE;

/// The worst value found; that which is told is on its safe side, and near.
fn worst(piece: &Piece, check: &dyn Check) -> f64 {
    let report = examine(piece, &[check])[0];
    assert!(!report.limit.is_worse(report.found, report.worst));
    if report.worst != report.found {
        close(report.worst, report.found, TOLERANCE * report.found + 1e-3);
    }
    report.found
}

/// An eighth of a turn of a sphere's arc, from the equator (`radius`, 0) up to
/// `top` degrees, all round.
fn zone(radius: f64, top: f64) -> Piece {
    let nodes = (0..40)
        .map(|k| {
            let angle = top.to_radians() * f64::from(k) / 39.0;
            let at = |value: f64| libm::round(100.0 * DRAWN * value) as i32;
            Node::smooth(at(libm::cos(angle)), at(libm::sin(angle)))
        })
        .collect();
    let curve = Curve::new(&Profile::open(nodes), Pacing::Parameter).unwrap();
    let stations = [0.0, 120.0, 240.0].map(|at| of_radius(at, radius)).to_vec();
    piece(
        &curve,
        Stations::ring(stations, true).unwrap(),
        Blend::Ruled,
    )
}

/// The tube of the torus curves by 1/50 everywhere outward; hollow seen from
/// inside, and from outside only round the axis, at the inner equator: 150 mm.
#[test]
fn the_radii_of_a_torus() {
    let torus = torus();
    let inside = CutterRadius {
        cutter: 6.0,
        side: ToolSide::Inside,
    };
    close(worst(&torus, &inside), 50.0, 0.1);
    let outside = CutterRadius {
        side: ToolSide::Outside,
        ..inside
    };
    close(worst(&torus, &outside), 150.0, 0.1);
    let bend = |side| BendRadius {
        gauge: 2.0,
        side,
        gauges: 2.5,
    };
    close(worst(&torus, &bend(Side::Middle)), 49.0, 0.1);
    close(worst(&torus, &bend(Side::Inside)), 48.0, 0.1);
    close(worst(&torus, &bend(Side::Outside)), 50.0, 0.1);
    let offset = OffsetBend {
        outward: 0.0,
        inward: 55.0,
    };
    close(worst(&torus, &offset), 1.1, 0.01);
    assert!(!examine(&torus, &[&offset])[0].passes);
    let both = OffsetBend {
        outward: 100.0,
        inward: 10.0,
    };
    close(worst(&torus, &both), 100.0 / 150.0, 0.01);
}

/// A catenoid r = a cosh(z/a) is a minimal surface: both curvatures are
/// 1 / (a cosh²(z/a)), opposite, so its waist is the sharpest hollow from either
/// side, and gas holds it with no pressure at all (Kühnel, Differential Geometry,
/// 2015, 3.37).
#[test]
fn a_catenoid_curves_alike_both_ways() {
    // So large that rounding nodes to the grid leaves the curvature alone.
    const DRAWN_LARGE: f64 = 40_000.0;
    let nodes = (0..41).map(|k| {
        let height = 1.2 * (f64::from(k) / 20.0 - 1.0);
        let at = |value: f64| libm::round(100.0 * DRAWN_LARGE * value) as i32;
        Node::smooth(at(libm::cosh(height)), at(height))
    });
    let curve = Curve::new(&Profile::open(nodes.collect()), Pacing::Parameter).unwrap();
    let scale = 50.0 / DRAWN_LARGE;
    let stations = [0.0, 110.0, 250.0].map(|at| Station::at(at).scaled(scale));
    let stations = Stations::ring(stations.to_vec(), true).unwrap();
    let neck = piece(&curve, stations, Blend::Ruled);
    for side in [ToolSide::Outside, ToolSide::Inside] {
        let check = CutterRadius { cutter: 6.0, side };
        let report = examine(&neck, &[&check])[0];
        close(report.found, 50.0, 0.05);
        assert!((49.4..=report.found).contains(&report.worst));
        close(report.place.unwrap().point.z, 0.0, 1.0);
        // At height z = a / 2, well inside the natural ends of the spline.
        let cosh = libm::cosh(0.5);
        let at = (0..2000)
            .map(|k| f64::from(k) / 2000.0)
            .min_by(|one, other| {
                let off = |u: f64| (neck.point(u, 0.3).z - 25.0).abs();
                off(*one).total_cmp(&off(*other))
            });
        close(
            value_at(&neck, &check, at.unwrap(), 0.3),
            50.0 * cosh * cosh,
            0.2,
        );
    }
    let pressure = GasPressure {
        flow_stress: 8.0,
        gauge: 1.5,
        most: 0.7,
    };
    // Of a sphere as sharply curved .48 MPa.
    assert!(value_at(&neck, &pressure, 0.5, 0.3) < 0.001);
}

#[test]
fn a_straight_wall_has_no_radius_to_fear() {
    let cone = cone((100, 0), (60, 200));
    let inside = CutterRadius {
        cutter: 6.0,
        side: ToolSide::Outside,
    };
    assert_eq!(worst(&cone, &inside), f64::INFINITY);
}

/// Machinists' handbooks, recomputed: R3 s.5, R5 s.5, R5 s1, R6 s1, R10 s2.
#[test]
fn scallops_on_a_flat() {
    for (cutter, step, exact) in [
        (3.0, 0.5, 0.010_435),
        (5.0, 0.5, 0.006_254),
        (5.0, 1.0, 0.025_063),
        (6.0, 1.0, 0.020_870),
        (10.0, 2.0, 0.050_126),
    ] {
        close(height(cutter, step), exact, 1e-6);
        close(step_for(cutter, height(cutter, step)), step, 1e-12);
    }
    assert_eq!(height(3.0, 6.1), f64::INFINITY);
}

#[test]
fn a_slope_enlarges_scallops() {
    let cone = cone((100, 0), (60, 200));
    let scallop = Scallop {
        cutter: 6.0,
        step_over: 1.0,
        sideways: up(),
        most: 0.02,
    };
    // Passes step over upward; the wall rises 200 in a slant of hypot(40, 200).
    let on_skin = libm::hypot(40.0, 200.0) / 200.0;
    close(worst(&cone, &scallop), height(6.0, on_skin), 1e-9);
    close(
        scallop.passes_to(nalgebra::Point3::new(5.0, 5.0, 3.25)),
        3.25,
        1e-12,
    );
}

/// Usual passes lie in levels, which every upright wall has, whichever way it faces.
#[test]
fn upright_walls_have_scallops_by_the_usual_passes() {
    let workshop = Workshop::default();
    let cylinder = cone((100, 0), (100, 200));
    let check = workshop.check(Kind::Scallop);
    let expected = height(workshop.cutter, workshop.step_over);
    close(worst(&cylinder, &*check), expected, 1e-9);
}

/// Marciniak, Duncan and Hu, 9.1: h/a .5 gives .80 and .64, .75 .64 and .41, 1
/// .50 and .25; the trough .863 and .637.
#[test]
fn domes_and_troughs() {
    for (h, mean, pole) in [(0.5, 0.80, 0.64), (0.75, 0.64, 0.41), (1.0, 0.50, 0.25)] {
        let blown = dome(100.0, 100.0 * h);
        close(blown.mean, mean, 0.001);
        close(blown.thinnest, pole, 0.001);
    }
    close(dome(100.0, 100.0).radius, 100.0, 1e-12);
    close(trough(100.0, 50.0).mean, 0.863, 5e-4);
    close(trough(100.0, 100.0).mean, 0.637, 5e-4);
}

/// A zone of a sphere up to 89 degrees, formed from a round sheet in its equator:
/// the dome formulas at h = a, the small hole at the pole being part of the sheet.
#[test]
fn a_hemisphere_is_stretched_as_the_dome() {
    let zone = zone(100.0, 89.0);
    let stretch = Stretch::new(&zone).unwrap();
    let dome = dome(100.0, 100.0);
    close(stretch.blank, PI * 1e4, 5.0);
    close(stretch.mean(), dome.mean, 1e-3);
    close(stretch.thinnest(), dome.thinnest, 1e-3);
    close(stretch.stretch(), 1.0, 3e-3);
    let flat: f64 = stretch.skins.iter().map(|skin| skin.flat).sum();
    close(flat / stretch.blank, 1.0, 1e-3);
    close(stretch.skins[1].stretch(), 1.0, 3e-3);
    close(stretch.skins[1].mean_gauge(2.0), 1.0, 3e-3);
    let thinning = Thinning {
        gauge: 2.0,
        least: 0.6,
    };
    // 1 + z h / a² at 30 degrees is 1.5, and 1 at the rim.
    close(
        value_at(&zone, &thinning, 30.0 / 89.0, 0.4),
        2.0 / 2.25,
        2e-3,
    );
    close(value_at(&zone, &thinning, 0.0, 0.4), 2.0, 2e-3);
    let report = examine(&zone, &[&thinning])[0];
    close(report.found, 0.5, 2e-3);
    close(report.worst, report.found, 0.006);
    close(report.place.unwrap().along, 1.0, 1e-6);
    assert!(!report.passes);
}

/// Half a round pipe as an open skin: the trough formula at h = a. Whichever way it
/// is drawn, upright walls keep a gauge.
#[test]
fn half_a_pipe_is_stretched_as_the_trough() {
    let nodes = (0..40)
        .map(|k| {
            let angle = PI * f64::from(k) / 39.0;
            let at = |value: f64| libm::round(10_000.0 * value) as i32;
            Node::smooth(at(libm::cos(angle)), at(libm::sin(angle)))
        })
        .collect();
    let arc = Curve::new(&Profile::open(nodes), Pacing::Parameter).unwrap();
    let stations = [0.0, 700.0, 4000.0].map(Station::at).to_vec();
    let pipe = piece(&arc, Stations::stack(stations).unwrap(), Blend::Ruled);
    let stretch = Stretch::new(&pipe).unwrap();
    close(stretch.mean(), trough(100.0, 100.0).mean, 1e-4);
    close(
        stretch.skins[1].area / stretch.skins[0].area,
        33.0 / 7.0,
        1e-6,
    );
    assert!(0.3 < stretch.thinnest() && stretch.thinnest() < stretch.mean());
}

/// A straight tube of radius a and depth h with its floor: blank π a², formed
/// π a² + 2 π a h. With the constant c the walls take 2 π a h / (1 + c) of the
/// blank and the floor π a² / (1 + c)², so (1 + c)² = 1 + (2 h/a)(1 + c).
#[test]
fn an_upright_wall_has_a_gauge() {
    let tube = stack(
        vec![of_radius(0.0, 100.0), of_radius(150.0, 100.0)],
        Blend::Ruled,
    );
    let stretch = Stretch::new(&tube).unwrap();
    close(stretch.mean(), 1.0 / 4.0, 1e-3);
    let grown = 1.5 + libm::sqrt(1.5 * 1.5 + 1.0);
    close(stretch.thinnest(), 1.0 / (grown * grown), 1e-3);
    let thinning = Thinning {
        gauge: 1.0,
        least: 0.05,
    };
    close(worst(&tube, &thinning), stretch.thinnest(), 1e-3);
    assert!(examine(&tube, &[&thinning])[0].passes);
}

/// A torus is not formed from one sheet: no value, and no pass.
#[test]
fn what_no_sheet_is_formed_to_has_no_gauge() {
    let thinning = Thinning {
        gauge: 1.0,
        least: 0.1,
    };
    let torus = torus();
    assert_eq!(Stretch::new(&torus), None);
    let report = examine(&torus, &[&thinning])[0];
    assert!(report.worst.is_nan() && !report.passes && report.place.is_none());
}

/// The sine law of a cone of half angle 30 degrees (Marciniak, Duncan and Hu).
#[test]
fn the_sine_law_ends_where_walls_are_too_steep() {
    close(sine_law(30.0).unwrap(), 0.5, 1e-12);
    assert_eq!(sine_law(90.0), Some(1.0));
    assert_eq!((sine_law(10.0), sine_law(f64::NAN)), (None, None));
}

/// p = 2 sigma t / R of a sphere.
#[test]
fn the_pressure_of_a_sphere() {
    let zone = zone(100.0, 80.0);
    let pressure = GasPressure {
        flow_stress: 8.0,
        gauge: 1.5,
        most: 0.7,
    };
    close(
        value_at(&zone, &pressure, 0.4, 0.3),
        2.0 * 8.0 * 1.5 / 100.0,
        1e-3,
    );
    assert!(examine(&zone, &[&pressure])[0].passes);
}

#[test]
fn temperatures_are_told_in_both_scales() {
    // Published in round degrees Fahrenheit: 1700 is not 1701 on its way through Celsius.
    let (from, to) = SUPERPLASTIC;
    assert_eq!(from.to_string(), "899 °C (1650 °F)");
    assert_eq!(to.to_string(), "927 °C (1700 °F)");
    close(Temperature::fahrenheit(1650.0).in_celsius(), 899.0, 0.2);
    assert_eq!(
        Temperature::fahrenheit(900.0).to_string(),
        "482 °C (900 °F)"
    );
}

#[test]
fn every_material_names_its_sources() {
    let table = materials::table();
    for material in &table {
        for sourced in [&material.density, &material.bend, &material.bend_thick] {
            assert!(0.0 < sourced.value && !sourced.source.is_empty());
        }
        assert!(!material.cautions.is_empty());
        let is_alloy = material.name.contains("Ti-6Al-4V");
        let cautions = material.cautions.join(" ");
        assert_eq!(
            cautions.contains("Ti-6Al-4V"),
            is_alloy,
            "{}",
            material.name
        );
        let is_titanium = material.name.contains("titanium");
        assert_eq!(material.is_titanium, is_titanium);
        assert_eq!(cautions.contains("Hot titanium"), is_titanium);
    }
    let grade = |name: &str| table.iter().find(|material| material.name == name).unwrap();
    for hot in table.iter().filter_map(|material| material.hot.as_ref()) {
        assert!(hot.lowest < hot.highest && !hot.source.is_empty());
    }
    assert_eq!(grade("titanium grade 2").bend_gauges(1.0), 2.0);
    assert_eq!(grade("titanium grade 2").bend_gauges(3.0), 2.5);
}
