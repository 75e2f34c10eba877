//! What lies under the pointer: a node, a place on a curve, or nothing.
//!
//! Distances are pixels on the screen. It reads the document and the view and
//! changes neither.

use crate::document::Document;
use crate::edit::{Handle, handles, joints};
use crate::view::View;
use loftkin_kernel::curve::Curve;
use loftkin_kernel::grid::GridPoint;
use nalgebra::Point2;
use std::collections::BTreeSet;

/// Chords a span is drawn and hit with.
pub const CHORDS: usize = 20;

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
        for step in 0..CHORDS {
            let to = view.to_screen(span_point(curve, span, (step + 1) as f64 / CHORDS as f64));
            let chord = to - from;
            let length = chord.norm_squared();
            let part = if length == 0.0 {
                0.0
            } else {
                ((screen - from).dot(&chord) / length).clamp(0.0, 1.0)
            };
            let distance = (screen - (from + chord * part)).norm();
            if distance < best.2 {
                best = (span, (step as f64 + part) / CHORDS as f64, distance);
            }
            from = to;
        }
    }
    best
}

/// The point of span `span` at fraction `t` along it, in mm.
pub fn span_point(curve: &Curve, span: usize, t: f64) -> Point2<f64> {
    let (from, to) = (curve.breaks()[span], curve.breaks()[span + 1]);
    curve.point_mm(from + (to - from) * t)
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
    use loftkin_kernel::profile::{Node, Profile};

    fn two_lines() -> Document {
        let line = |y| Profile::open(vec![Node::smooth(0, y), Node::smooth(10_000, y)]);
        let family = Family {
            profiles: vec![line(0), line(300)],
            ..Family::default()
        };
        Document::new(family).unwrap()
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
