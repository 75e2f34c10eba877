//! Figures with their units, and places on a loft, in words.
//!
//! No figure here is exact: it is rounded for the eye.

use super::Cell;
use loftkin_kernel::verdict::{FaultKind, Place};

/// A length: "12.34 mm". Below the grid as many places as it needs, down to
/// a millionth of a millimetre.
pub fn millimetres(mm: f64) -> String {
    let size = mm.abs();
    if size == 0.0 || 0.01 <= size {
        format!("{} mm", fixed(mm, 2))
    } else if 1e-6 <= size {
        format!("{mm:.6} mm")
    } else {
        "less than 0.000001 mm".to_owned()
    }
}

/// A proved room, as [`millimetres`] but never rounded up: what is shown may be
/// relied on.
pub fn room(mm: f64) -> String {
    let down = |parts: f64| millimetres((mm * parts).floor() / parts);
    if 0.01 <= mm {
        down(100.0)
    } else if 1e-6 <= mm {
        down(1e6)
    } else {
        millimetres(mm)
    }
}

/// An angle: "12.3 degrees".
pub fn degrees(angle: f64) -> String {
    format!("{} degrees", fixed(angle, 1))
}

/// A fraction in \[0, 1\] with three places: "0.412".
pub fn fraction(fraction: f64) -> String {
    fixed(fraction, 3)
}

/// `value` with `places` decimals and never a negative zero.
pub(super) fn fixed(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|b| b == b'0' || b == b'.') => rest.to_owned(),
        _ => text,
    }
}

/// Where a fault or doubt of `cell` is. On the diagonal there is no across.
pub fn place(cell: Cell<'_>, place: &Place) -> String {
    let (one, other) = (
        fraction(place.along.min(place.other_along)),
        fraction(place.along.max(place.other_along)),
    );
    let mut text = if one == other {
        format!("{one} along")
    } else {
        format!("{one} and {other} along")
    };
    if !cell.is_diagonal() {
        text.push_str(&format!(", {} across", fraction(place.across)));
    }
    text.push_str(&format!(
        ", at x {} y {} mm",
        fixed(place.point.x, 2),
        fixed(place.point.y, 2)
    ));
    text
}

/// The place of a fault of `kind`. Twist has no across, for it concerns the
/// whole ruling; its point is halfway.
pub(super) fn place_of(cell: Cell<'_>, kind: FaultKind, at: &Place) -> String {
    if kind != FaultKind::Twist {
        return place(cell, at);
    }
    format!(
        "{} along, the middle of that ruling at x {} y {} mm",
        fraction(at.along),
        fixed(at.point.x, 2),
        fixed(at.point.y, 2)
    )
}

/// "from 0.1 to 0.2 along", or "at 0.1 along" when there is nothing between.
pub(super) fn reach((from, to): (f64, f64), way: &str) -> String {
    let (from, to) = (fraction(from), fraction(to));
    if from == to {
        format!("at {from} {way}")
    } else {
        format!("from {from} to {to} {way}")
    }
}

/// "1 pair becomes" or "3 pairs become".
pub fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// `text` with its first letter in upper case.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        std::iter::once(first.to_ascii_uppercase())
            .chain(letters)
            .collect()
    })
}
