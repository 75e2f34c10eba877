//! Refining crossings: from a rough place to a contact of the true curves.
//!
//! A crossing is refined by Gauss-Newton steps of least length on
//! `G(u, w, v) = 0`: the claim is confirmed when the section at v meets itself
//! within [`TRUE_CONTACT`], near the place that was claimed.

use super::Vector;
use super::pair::OraclePair;

/// A section meets itself when the divided difference is below this fraction
/// of the size: the parameter runs over 1, so this is a distance per length.
pub const TRUE_CONTACT: f64 = 1e-9;

/// How far refining may carry a claimed place in u and w.
pub const TRUE_PLACE: f64 = 1e-3;

/// Two parameters nearer than this are one place.
const SAME_PLACE: f64 = 1e-7;

const STEPS: usize = 40;

/// Where a section of the true curves meets itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// One parameter.
    pub u: f64,
    /// The other parameter.
    pub w: f64,
    /// The fraction across.
    pub v: f64,
    /// The divided difference left over, as a fraction of the size.
    pub residual: f64,
}

/// Refines (u, w, v) to a contact with u and w apart; v may be held.
///
/// The best place met counts, for a step may lead over a corner and away.
pub fn refine(pair: &OraclePair, (u, w, v): (f64, f64, f64), hold: bool) -> Option<Contact> {
    let (mut u, mut w, mut v) = (pair.wrapped(u), pair.wrapped(w), v);
    let mut best: Option<Contact> = None;
    for _ in 0..STEPS {
        if pair.way(w, u).abs() <= SAME_PLACE {
            break;
        }
        let difference = pair.difference(u, w);
        let [gap, by_u, by_w] = difference.at(v);
        let residual = gap.norm() / pair.size;
        if best.is_none_or(|best| residual < best.residual) {
            best = Some(Contact { u, w, v, residual });
        }
        if residual <= TRUE_CONTACT * 1e-3 {
            break;
        }
        let by_v = if hold {
            Vector::zeros()
        } else {
            difference.second[0] - difference.first[0]
        };
        let Some(step) = least_step(gap, [by_u, by_w, by_v]) else {
            break;
        };
        // Steps are shortened so that one never leaps over a piece or a side.
        let longest = step[0].abs().max(step[1].abs()).max(step[2].abs() * 0.2);
        let shorten = if 0.02 < longest { 0.02 / longest } else { 1.0 };
        u = pair.wrapped(u - step[0] * shorten);
        w = pair.wrapped(w - step[1] * shorten);
        v = (v - step[2] * shorten).clamp(0.0, 1.0);
    }
    best.filter(|best| best.residual <= TRUE_CONTACT)
}

/// The shortest step with `J step = gap`: `J^T (J J^T)^-1 gap`.
fn least_step(gap: Vector, columns: [Vector; 3]) -> Option<[f64; 3]> {
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for column in columns {
        xx += column.x * column.x;
        xy += column.x * column.y;
        yy += column.y * column.y;
    }
    let determinant = xx * yy - xy * xy;
    if determinant <= 1e-30 * (xx + yy) * (xx + yy) || determinant.is_nan() {
        return None;
    }
    let solved = Vector::new(yy * gap.x - xy * gap.y, xx * gap.y - xy * gap.x) / determinant;
    Some(columns.map(|column| column.dot(&solved)))
}

/// Whether a kernel's crossing at (u, w, v) is one of the true curves.
pub fn confirm_crossing(pair: &OraclePair, (u, w, v): (f64, f64, f64)) -> Option<Contact> {
    let contact = refine(pair, (u, w, v), false)?;
    let moved = pair
        .way(u, contact.u)
        .abs()
        .max(pair.way(w, contact.w).abs());
    (moved <= TRUE_PLACE && (contact.v - v).abs() <= TRUE_PLACE).then_some(contact)
}
