//! Whether a request fits the family it is for.

use crate::freedom::alike;
use crate::request::{Request, RequestError, Target};
use loftkin_kernel::family::Family;

/// # Errors
/// What is wrong with the request, the first thing found.
pub fn check(family: &Family, request: &Request) -> Result<(), RequestError> {
    named_pairs(family, &request.target)?;
    for &profile in request.movable.iter().flatten() {
        known(family, profile)?;
    }
    for &(profile, node) in &request.pinned {
        known(family, profile)?;
        let count = family.profiles[profile].node_count();
        if count <= node {
            return Err(RequestError::NoSuchNode {
                profile,
                node,
                count,
            });
        }
    }
    if !(request.margin_mm.is_finite() && 0.0 <= request.margin_mm) {
        return Err(RequestError::Margin {
            mm: request.margin_mm,
        });
    }
    if let Some(beginning) = &request.begin_at
        && !alike(family, beginning)
    {
        return Err(RequestError::OtherBeginning);
    }
    let is_sound = |weight: &f64| weight.is_finite() && 0.0 < *weight;
    match request.weights.iter().find(|weight| !is_sound(weight)) {
        Some(&weight) => Err(RequestError::Weight { weight }),
        None => Ok(()),
    }
}

fn named_pairs(family: &Family, target: &Target) -> Result<(), RequestError> {
    let one_pair;
    let pairs = match target {
        Target::Pair(one, other) => {
            one_pair = [(*one, *other)];
            &one_pair[..]
        }
        Target::Pairs(pairs) => pairs,
        Target::All | Target::AnyBlend => &[],
    };
    for &(one, other) in pairs {
        known(family, one)?;
        known(family, other)?;
        if one == other {
            return Err(RequestError::SameProfile { profile: one });
        }
    }
    Ok(())
}

fn known(family: &Family, profile: usize) -> Result<(), RequestError> {
    let count = family.profiles.len();
    if profile < count {
        Ok(())
    } else {
        Err(RequestError::NoSuchProfile { profile, count })
    }
}
