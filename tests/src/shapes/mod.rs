//! Curves with closed forms, drawn as profiles: circles, trochoids, limacons,
//! wing sections, polygons, single cubics.
//!
//! Two ways of drawing: through nodes, as a person would, or as an exact path
//! of cubic Hermite spans, whose joints stand at known parameters. The error
//! of a Hermite span is at most h^4/384 times the largest fourth derivative
//! (Birkhoff and Priver 1967; from memory), and half a grid step of rounding.

pub mod folding;

use loftkin_kernel::family::{Pacing, Settings, TenthsOfDegree};
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Node, Outline, PathSpan, Profile};
use nalgebra::Vector2;
use std::f64::consts::TAU;

/// Settings that leave folds and crossings as the only faults: the widest
/// limits that the kernel takes.
pub fn wide(pacing: Pacing) -> Settings {
    Settings {
        pacing,
        twist_limit: TenthsOfDegree(1799),
        crease_limit: TenthsOfDegree(900),
        ..Settings::default()
    }
}

/// The grid point nearest to `point`, in grid steps.
pub fn snapped(point: Vector2<f64>) -> GridPoint {
    GridPoint::new(point.x.round() as i32, point.y.round() as i32)
}

/// A smooth node at the grid point nearest to `point`.
pub fn node(point: Vector2<f64>) -> Node {
    let at = snapped(point);
    Node::smooth(at.x, at.y)
}

/// The point of a circle about the origin (by `libm`: the same everywhere).
pub fn on_circle(radius: f64, angle: f64) -> Vector2<f64> {
    let (sin, cos) = libm::sincos(angle);
    Vector2::new(cos, sin) * radius
}

/// A circle through `count` nodes, its seam at `turn` degrees.
pub fn circle(radius: f64, count: usize, turn: f64) -> Profile {
    Profile::closed(
        (0..count)
            .map(|i| {
                node(on_circle(
                    radius,
                    turn.to_radians() + TAU * i as f64 / count as f64,
                ))
            })
            .collect(),
    )
}

/// A curve given by its point and its derivative at a parameter of \[0, 1\],
/// as a path of `count` Hermite spans at even parameters.
pub fn hermite(
    count: usize,
    closed: bool,
    curve: impl Fn(f64) -> (Vector2<f64>, Vector2<f64>),
) -> Profile {
    let third = 1.0 / (3.0 * count as f64);
    let at = |i: usize| curve(i as f64 / count as f64);
    let start = snapped(at(0).0);
    let spans = (0..count)
        .map(|i| {
            let (from, leaving) = at(i);
            let (to, arriving) = at(if closed { (i + 1) % count } else { i + 1 });
            PathSpan::Cubic {
                first: snapped(from + leaving * third),
                second: snapped(to - arriving * third),
                to: snapped(to),
            }
        })
        .collect();
    Profile {
        name: String::new(),
        closed,
        outline: Outline::Path { start, spans },
    }
}

/// The trochoid e^{it} + `share` e^{2it}, t = 2 pi u + `turn` degrees, scaled
/// by `radius`: a simple curve exactly when `share` is at most 1/2.
pub fn trochoid(radius: f64, share: f64, turn: f64, count: usize) -> Profile {
    hermite(count, true, |u| {
        let angle = TAU * u + turn.to_radians();
        let point = on_circle(radius, angle) + on_circle(radius * share, 2.0 * angle);
        let slope = on_circle(radius, angle + TAU / 4.0)
            + on_circle(2.0 * radius * share, 2.0 * angle + TAU / 4.0);
        (point, slope * TAU)
    })
}

/// The limacon r = `base` + `swing` cos(phi), phi = 2 pi u.
pub fn limacon(base: f64, swing: f64, count: usize) -> Profile {
    hermite(count, true, |u| {
        let angle = TAU * u;
        let radius = base + swing * angle.cos();
        let point = on_circle(radius, angle);
        let slope = on_circle(radius, angle + TAU / 4.0) - on_circle(swing * angle.sin(), angle);
        (point, slope * TAU)
    })
}

/// The half thickness of a NACA four-digit section over chord 1, at `x`.
///
/// NACA Report 460 (1933); `thickness` is .12 for the sections 0012.
pub fn half_thickness(thickness: f64, x: f64) -> f64 {
    let series = 0.2969 * x.sqrt() - 0.126 * x - 0.3516 * x.powi(2) + 0.2843 * x.powi(3)
        - 0.1015 * x.powi(4);
    thickness / 0.2 * series
}

/// The nodes of a symmetrical four-digit section, from the trailing edge over
/// the upper side to the nose and back below, at cosine-spaced stations.
pub fn wing_nodes(thickness: f64, chord: f64, half_count: usize) -> Vec<Node> {
    let stations =
        |i: usize| 0.5 * (1.0 + (std::f64::consts::PI * i as f64 / half_count as f64).cos());
    let at = |i: usize, side: f64| {
        let x = stations(i);
        node(Vector2::new(
            x * chord,
            side * half_thickness(thickness, x) * chord,
        ))
    };
    let upper = (0..=half_count).map(|i| at(i, 1.0));
    let lower = (0..half_count).rev().map(|i| at(i, -1.0));
    upper.chain(lower).collect()
}

/// A regular polygon of corner nodes, turned by `turn` degrees.
pub fn polygon(radius: f64, count: usize, turn: f64) -> Profile {
    let mut profile = circle(radius, count, turn);
    if let Outline::Nodes(nodes) = &mut profile.outline {
        for node in nodes {
            node.corner = true;
        }
    }
    profile
}

/// One cubic Bézier span as an open profile.
pub fn single_cubic(points: [(i32, i32); 4]) -> Profile {
    let [start, first, second, to] = points.map(|(x, y)| GridPoint::new(x, y));
    Profile {
        name: String::new(),
        closed: false,
        outline: Outline::Path {
            start,
            spans: vec![PathSpan::Cubic { first, second, to }],
        },
    }
}

/// The nodes of a profile drawn by nodes; none of an exact path.
pub fn nodes(profile: &Profile) -> Vec<Node> {
    match &profile.outline {
        Outline::Nodes(nodes) => nodes.clone(),
        Outline::Path { .. } => Vec::new(),
    }
}
