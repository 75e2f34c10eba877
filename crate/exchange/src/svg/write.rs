//! Profiles as an SVG drawing: each one a path, in mm, y turned downward.
//!
//! Exact paths come back from [`super::read`] as they were. Profiles drawn by
//! nodes are written as the cubics they stand for, rounded to a millionth of a
//! millimetre; reading them back makes exact paths of them. The origin of the
//! user units stays the origin of the board.

use crate::rounding::decimal;
use crate::xml::escaped;
use kurbo::{Point, Rect};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::{Family, Pacing};
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Outline, PathSpan, Profile};
use std::fmt::Write;

/// Free room around the drawing, in mm.
const EDGE: f64 = 5.0;

/// `family` as an SVG drawing. A profile that cannot be judged as drawn has no
/// curve and is left out.
pub fn write(family: &Family) -> String {
    let mut frame: Option<Rect> = None;
    let mut paths = String::new();
    for (index, profile) in family.profiles.iter().enumerate() {
        // The spans are the same for either pacing.
        let Ok(curve) = Curve::new(profile, Pacing::Parameter) else {
            continue;
        };
        for span in 0..curve.span_count() {
            for point in curve.span_mm(span) {
                let at = Point::new(point.x, -point.y);
                frame = Some(frame.map_or(Rect::from_points(at, at), |frame| frame.union_pt(at)));
            }
        }
        let _ = writeln!(
            paths,
            "  <path id=\"profile-{}\" d=\"{}\"><title>{}</title></path>",
            index + 1,
            data(profile, &curve),
            escaped(&profile.name)
        );
    }
    let frame = frame.unwrap_or(Rect::ZERO).inflate(EDGE, EDGE).expand();
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"{} {} {w} {h}\" \
         fill=\"none\" stroke=\"black\" stroke-width=\"0.5\">\n  <title>{}</title>\n{paths}</svg>\n",
        frame.x0,
        frame.y0,
        escaped(&family.name),
        w = frame.width(),
        h = frame.height(),
    )
}

fn data(profile: &Profile, curve: &Curve) -> String {
    let mut data = match &profile.outline {
        Outline::Path { start, spans } => {
            let mut data = format!("M{}", on_grid(*start));
            for span in spans {
                match *span {
                    PathSpan::Line { to } => data.push_str(&format!("L{}", on_grid(to))),
                    PathSpan::Cubic { first, second, to } => {
                        data.push_str(&format!(
                            "C{} {} {}",
                            on_grid(first),
                            on_grid(second),
                            on_grid(to)
                        ));
                    }
                }
            }
            data
        }
        Outline::Nodes(_) => {
            let mut data = String::new();
            for span in 0..curve.span_count() {
                let [from, first, second, to] =
                    curve.span_mm(span).map(|point| between(point.x, point.y));
                if span == 0 {
                    data.push_str(&format!("M{from}"));
                }
                data.push_str(&format!("C{first} {second} {to}"));
            }
            data
        }
    };
    if profile.closed {
        data.push('Z');
    }
    data
}

fn on_grid(point: GridPoint) -> String {
    format!("{} {}", decimal(point.x), decimal(-point.y))
}

fn between(x: f64, y: f64) -> String {
    let number = |value: f64| {
        let text = format!("{value:.6}");
        let text = text.trim_end_matches('0').trim_end_matches('.');
        if text == "-0" {
            "0".to_owned()
        } else {
            text.to_owned()
        }
    };
    format!("{} {}", number(x), number(-y))
}
