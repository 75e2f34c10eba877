//! The size of a drawing: from user units to millimetres.
//!
//! A width or height in an absolute unit together with a view box gives the
//! scale. Without them one user unit is a CSS pixel, 1/96 inch (W3C SVG 2,
//! section 8.9; CSS Values and Units, section 6.2). The origin of the user
//! units stays the origin of the board and y turns upward; the shift of the
//! view box moves all profiles alike and is left out, so that a drawing made
//! about an axis keeps its distance from it.

use kurbo::Affine;
use roxmltree::Node;
use std::str::FromStr;
use svgtypes::{Align, AspectRatio, Length, LengthUnit, ViewBox};

const MM_PER_INCH: f64 = 25.4;
const MM_PER_PIXEL: f64 = MM_PER_INCH / 96.0;

/// How user units of a drawing become mm.
pub(super) struct Units {
    /// From user units to mm with y upward.
    pub map: Affine,
    /// Whether the drawing itself says its size.
    pub stated: bool,
}

impl Units {
    /// The units of the outermost element of a drawing.
    pub(super) fn of(root: Node<'_, '_>) -> Self {
        let width = millimetres(root, "width");
        let height = millimetres(root, "height");
        let view = root
            .attribute("viewBox")
            .and_then(|text| ViewBox::from_str(text).ok());
        let (x, y) = match view {
            None => (MM_PER_PIXEL, MM_PER_PIXEL),
            Some(view) => match (width.map(|mm| mm / view.w), height.map(|mm| mm / view.h)) {
                (None, None) => (MM_PER_PIXEL, MM_PER_PIXEL),
                (Some(scale), None) | (None, Some(scale)) => (scale, scale),
                (Some(x), Some(y)) => fitted(x, y, root.attribute("preserveAspectRatio")),
            },
        };
        Self {
            map: Affine::scale_non_uniform(x, -y),
            stated: view.is_some() && (width.is_some() || height.is_some()),
        }
    }
}

/// One scale for both ways, unless the drawing asks to be stretched.
fn fitted(x: f64, y: f64, rule: Option<&str>) -> (f64, f64) {
    let rule = rule.and_then(|text| AspectRatio::from_str(text).ok());
    match rule {
        Some(rule) if rule.align == Align::None => (x, y),
        Some(rule) if rule.slice => (x.max(y), x.max(y)),
        _ => (x.min(y), x.min(y)),
    }
}

/// A length of `element` in mm, if it is given in an absolute unit and above 0.
fn millimetres(element: Node<'_, '_>, attribute: &str) -> Option<f64> {
    let length = Length::from_str(element.attribute(attribute)?.trim()).ok()?;
    let unit = match length.unit {
        LengthUnit::None | LengthUnit::Px => MM_PER_PIXEL,
        LengthUnit::In => MM_PER_INCH,
        LengthUnit::Cm => 10.0,
        LengthUnit::Mm => 1.0,
        LengthUnit::Pt => MM_PER_INCH / 72.0,
        LengthUnit::Pc => MM_PER_INCH / 6.0,
        LengthUnit::Em | LengthUnit::Ex | LengthUnit::Percent => return None,
    };
    Some(length.number * unit).filter(|&mm| 0.0 < mm)
}
