//! From the arguments of the order to what the solver is asked.

use crate::arguments::mend::MendOrder;
use crate::arguments::numbers::all;
use loftkin_kernel::family::Family;
use loftkin_mend::{Request, RequestError, Target};

/// The request that `order` makes for `family`.
///
/// # Errors
/// A weight for a profile that is not there; all else the solver refuses itself.
pub fn request(order: &MendOrder, family: &Family) -> Result<Request, RequestError> {
    Ok(Request {
        margin_mm: order.margin.unwrap_or(0.0),
        blame_first: !order.share,
        remedies_first: !order.no_remedies,
        movable: (!order.only.is_empty()).then(|| all(&order.only)),
        pinned: all(&order.pin),
        weights: weights(order, family.profiles.len())?,
        keep_ends: order.keep_ends,
        keep_end_tangents: order.keep_end_tangents,
        keep_height: order.keep_height,
        keep_width: order.keep_width,
        ..Request::new(target(order))
    })
}

fn target(order: &MendOrder) -> Target {
    if order.any_blend {
        Target::AnyBlend
    } else if order.pairs.is_empty() {
        Target::All
    } else {
        Target::Pairs(all(&order.pairs))
    }
}

fn weights(order: &MendOrder, count: usize) -> Result<Vec<f64>, RequestError> {
    let mut weights = vec![1.0; count];
    for (profile, weight) in all(&order.weight) {
        let named = weights
            .get_mut(profile)
            .ok_or(RequestError::NoSuchProfile { profile, count })?;
        *named = weight;
    }
    Ok(weights)
}
