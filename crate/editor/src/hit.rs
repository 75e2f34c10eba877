//! What lies under the pointer: a node, the seam, a place on a curve, or nothing.
//!
//! Distances are pixels on the screen. It reads the document and the view and
//! changes neither.

use crate::document::Document;
use crate::edit::{Handle, handles, joints};
use crate::grip::Grip;
use crate::view::View;
use loftkin_kernel::curve::Curve;
use loftkin_kernel::grid::GridPoint;
use nalgebra::{Point2, Vector2};
use std::collections::BTreeSet;

/// How far the chords that a span is drawn and hit with stand off it, in pixels.
const CHORD_TOLERANCE: f64 = 0.1;
/// The most chords of a span, however near it is looked at.
const MOST_CHORDS: f64 = 10_000.0;
/// How far the mark of the seam stands off its node, in pixels.
const SEAM_STAND_OFF: f64 = 28.0;

/// What was hit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hit {
    /// A node of a profile.
    Node {
        /// The profile.
        profile: usize,
        /// The node of it.
        node: usize,
    },
    /// A handle beside a chosen joint of the active exact path.
    Handle {
        /// The profile.
        profile: usize,
        /// The handle of it.
        handle: Handle,
    },
    /// The mark beside the seam of the active closed profile.
    Seam {
        /// The profile.
        profile: usize,
    },
    /// A grip of the box around the active profile.
    Grip {
        /// The profile.
        profile: usize,
        /// The grip.
        grip: Grip,
    },
    /// The inside of the box around the active profile.
    Inside {
        /// The profile.
        profile: usize,
    },
    /// A place on a curve between nodes.
    Curve {
        /// The profile.
        profile: usize,
        /// The span of it.
        span: usize,
        /// The fraction along the span.
        t: f64,
    },
}

impl Hit {
    /// The profile that was hit.
    pub fn profile(self) -> usize {
        match self {
            Self::Node { profile, .. }
            | Self::Handle { profile, .. }
            | Self::Seam { profile }
            | Self::Grip { profile, .. }
            | Self::Inside { profile }
            | Self::Curve { profile, .. } => profile,
        }
    }
}

/// The nearest thing within `reach` pixels of `screen`: nodes before curves,
/// the `active` profile before the others, and the handles beside its `chosen`
/// joints before all.
pub fn at(
    document: &Document,
    view: &View,
    (active, chosen): (Option<usize>, &BTreeSet<usize>),
    screen: Point2<f64>,
    reach: f64,
) -> Option<Hit> {
    let handle = active.and_then(|index| on_handle(document, view, (index, chosen), screen, reach));
    if handle.is_some() {
        return handle;
    }
    let own = active.and_then(|index| on_profile(document, view, index, screen, reach));
    let seam = active.and_then(|index| on_seam(document, view, index, screen, reach));
    if let (Some((hit, distance)), nearer) = (seam, own.map_or(f64::INFINITY, |(_, at)| at))
        && distance < nearer
    {
        return Some(hit);
    }
    let nearest = || {
        (0..document.family().profiles.len())
            .filter(|&index| Some(index) != active)
            .filter_map(|index| on_profile(document, view, index, screen, reach))
            .min_by(|a, b| a.1.total_cmp(&b.1))
    };
    own.or_else(nearest).map(|(hit, _)| hit)
}

/// Span by span, the fraction along it and the distance in pixels of the place
/// of `curve` nearest to `screen`.
pub fn nearest_on_curve(curve: &Curve, view: &View, screen: Point2<f64>) -> (usize, f64, f64) {
    let mut best = (0, 0.0, f64::INFINITY);
    for span in 0..curve.span_count() {
        let mut from = view.to_screen(curve.span_mm(span)[0]);
        let chords = chords(curve, view, span);
        for step in 0..chords {
            let to = view.to_screen(span_point(curve, span, (step + 1) as f64 / chords as f64));
            let chord = to - from;
            let length = chord.norm_squared();
            let part = if length == 0.0 {
                0.0
            } else {
                ((screen - from).dot(&chord) / length).clamp(0.0, 1.0)
            };
            let distance = (screen - (from + chord * part)).norm();
            if distance < best.2 {
                best = (span, (step as f64 + part) / chords as f64, distance);
            }
            from = to;
        }
    }
    best
}

/// How many chords of equal parameter keep within [`CHORD_TOLERANCE`] of span
/// `span` as it is seen; one where nothing of it is.
///
/// A chord over a step h of the parameter stands off a curve B by at most
/// h² max |B''| / 8 (the error of linear interpolation, common in numerical
/// analysis). B'' of a cubic runs straight from 6 (P0 - 2 P1 + P2) to
/// 6 (P1 - 2 P2 + P3), so it is largest at an end.
pub fn chords(curve: &Curve, view: &View, span: usize) -> usize {
    let cubic = curve.span_mm(span);
    if !view.shows(cubic) {
        return 1;
    }
    let bend = |at: usize| {
        let [before, middle, after] = [cubic[at], cubic[at + 1], cubic[at + 2]];
        ((before - middle) + (after - middle)).norm()
    };
    let bend = 6.0 * bend(0).max(bend(1)) * view.scale;
    let count = (bend / (8.0 * CHORD_TOLERANCE)).sqrt().ceil();
    count.clamp(1.0, MOST_CHORDS) as usize
}

/// The point of span `span` at fraction `t` along it, in mm.
pub fn span_point(curve: &Curve, span: usize, t: f64) -> Point2<f64> {
    let (from, to) = (curve.breaks()[span], curve.breaks()[span + 1]);
    curve.point_mm(from + (to - from) * t)
}

/// The seam of a closed curve on the screen: its point, and where its mark
/// stands outside of the curve.
pub fn seam_mark(curve: &Curve, view: &View) -> Option<[Point2<f64>; 2]> {
    let slope = curve.slope(0.0);
    let length = slope.norm();
    if !curve.is_closed() || length <= 0.0 {
        return None;
    }
    // Running anticlockwise the outside lies to the right; y runs downward on the screen.
    let outward = Vector2::new(slope.y, slope.x) * (turning(curve) / length);
    let at = view.to_screen(curve.point_mm(0.0));
    Some([at, at + outward * SEAM_STAND_OFF])
}

/// 1 for a closed curve that runs anticlockwise, else -1.
fn turning(curve: &Curve) -> f64 {
    let points: Vec<Point2<f64>> = (0..curve.span_count())
        .flat_map(|span| (0..4).map(move |i| span_point(curve, span, f64::from(i) / 4.0)))
        .collect();
    let next = points.iter().cycle().skip(1);
    let doubled_area: f64 = points
        .iter()
        .zip(next)
        .map(|(p, q)| p.coords.perp(&q.coords))
        .sum();
    if doubled_area < 0.0 { -1.0 } else { 1.0 }
}

fn on_seam(
    document: &Document,
    view: &View,
    profile: usize,
    screen: Point2<f64>,
    reach: f64,
) -> Option<(Hit, f64)> {
    let [_, mark] = seam_mark(document.curve(profile)?, view)?;
    let distance = (mark - screen).norm();
    (distance <= reach).then_some((Hit::Seam { profile }, distance))
}

fn on_handle(
    document: &Document,
    view: &View,
    (profile, chosen): (usize, &BTreeSet<usize>),
    screen: Point2<f64>,
    reach: f64,
) -> Option<Hit> {
    handles(document.profile(profile)?, chosen)
        .into_iter()
        // A handle on its own joint leaves the press to the joint.
        .filter(|(_, at, joint)| at != joint)
        .map(|(handle, at, _)| (handle, (pixel(view, at) - screen).norm()))
        .filter(|&(_, distance)| distance <= reach)
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(handle, _)| Hit::Handle { profile, handle })
}

/// Where a grid point stands on the screen.
pub fn pixel(view: &View, at: GridPoint) -> Point2<f64> {
    let (x, y) = at.to_mm();
    view.to_screen(Point2::new(x, y))
}

fn on_profile(
    document: &Document,
    view: &View,
    profile: usize,
    screen: Point2<f64>,
    reach: f64,
) -> Option<(Hit, f64)> {
    let node = joints(document.profile(profile)?)
        .iter()
        .enumerate()
        .map(|(node, joint)| {
            let distance = (pixel(view, joint.at) - screen).norm();
            (Hit::Node { profile, node }, distance)
        })
        .filter(|&(_, distance)| distance <= reach)
        .min_by(|a, b| a.1.total_cmp(&b.1));
    node.or_else(|| {
        let (span, t, distance) = nearest_on_curve(document.curve(profile)?, view, screen);
        (distance <= reach).then_some((Hit::Curve { profile, span, t }, distance))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::family::Family;
    use loftkin_kernel::profile::{Node, Outline, PathSpan, Profile};

    fn two_lines() -> Document {
        let line = |y| Profile::open(vec![Node::smooth(0, y), Node::smooth(10_000, y)]);
        let family = Family {
            profiles: vec![line(0), line(300)],
            ..Family::default()
        };
        Document::new(family).unwrap()
    }

    /// A single cubic span, as drawings bring, at every zoom: 20 chords stood off
    /// this one by 25 pixels at 50 pixels a mm.
    #[test]
    fn chords_stay_on_the_curve_at_every_zoom() {
        let path = Outline::Path {
            start: GridPoint::new(0, 0),
            spans: vec![PathSpan::Cubic {
                first: GridPoint::new(0, 20_000),
                second: GridPoint::new(20_000, 20_000),
                to: GridPoint::new(20_000, 0),
            }],
        };
        let arch = Profile {
            name: String::new(),
            closed: false,
            outline: path,
        };
        let document = Document::new(Family {
            profiles: vec![arch],
            ..Family::default()
        });
        let document = document.unwrap();
        let curve = document.curve(0).unwrap();
        for scale in [0.01, 1.0, 50.0, 2000.0] {
            let view = View {
                scale,
                centre: curve.point_mm(0.5),
                ..View::default()
            };
            let count = chords(curve, &view, 0);
            let seen = |t| view.to_screen(span_point(curve, 0, t));
            let worst = (0..count).map(|step| {
                let [from, to] = [step, step + 1].map(|at| at as f64 / count as f64);
                let chord = seen(from) + (seen(to) - seen(from)) / 2.0;
                (seen((from + to) / 2.0) - chord).norm()
            });
            let worst = worst.fold(0.0, f64::max);
            assert!(worst < CHORD_TOLERANCE + 1e-6, "{worst} at {scale}");
            // No more than are needed, either.
            assert!(
                count == 1 || 0.4 * CHORD_TOLERANCE < worst,
                "{worst} at {scale}"
            );
        }
        let away = View {
            centre: Point2::new(1e4, 1e4),
            ..View::default()
        };
        assert_eq!(chords(curve, &away, 0), 1);
    }

    #[test]
    fn the_seam_has_a_mark_outside_of_the_active_closed_profile() {
        let square = Profile::closed(vec![
            Node::corner(0, 0),
            Node::corner(4000, 0),
            Node::corner(4000, 4000),
            Node::corner(0, 4000),
        ]);
        let view = View::default();
        for profile in [square.clone(), square.reversed()] {
            let document = Document::new(Family {
                profiles: vec![profile],
                ..Family::default()
            })
            .unwrap();
            let [at, mark] = seam_mark(document.curve(0).unwrap(), &view).unwrap();
            let outside = view.to_mm(mark);
            assert!(outside.x < 0.0 || outside.y < 0.0);
            assert!(((mark - at).norm() - SEAM_STAND_OFF).abs() < 1e-9);
            let hit = |active| super::at(&document, &view, (active, &BTreeSet::new()), mark, 12.0);
            assert_eq!(hit(Some(0)), Some(Hit::Seam { profile: 0 }));
            assert_eq!(hit(None), None);
        }
        assert!(seam_mark(two_lines().curve(0).unwrap(), &view).is_none());
    }

    #[test]
    fn the_active_profile_and_its_nodes_come_first() {
        let (document, view) = (two_lines(), View::default());
        let at_mm = |x, y, active| {
            at(
                &document,
                &view,
                (active, &BTreeSet::new()),
                view.to_screen(Point2::new(x, y)),
                10.0,
            )
        };
        let node = |profile, node| Some(Hit::Node { profile, node });
        assert_eq!(at_mm(0.5, 1.0, Some(1)), node(1, 0));
        assert_eq!(at_mm(0.5, 1.0, Some(0)), node(0, 0));
        assert_eq!(at_mm(99.0, 2.9, None), node(1, 1));
        assert_eq!(at_mm(50.0, 30.0, None), None);
        let Some(Hit::Curve {
            profile: 1,
            span: 0,
            t,
        }) = at_mm(25.0, 2.5, None)
        else {
            panic!("the curve is hit")
        };
        assert!((t - 0.25).abs() < 1e-9);
    }
}
