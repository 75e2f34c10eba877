//! What profiles that meet themselves are drawn out along: themselves relaxed, or siblings that run like them.

use crate::alone::likeness;
use crate::relaxed::relaxed;
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Family;
use std::collections::BTreeMap;

/// `family` with the profiles `meeting` themselves relaxed; none when one of them
/// would not be simple.
pub fn all_relaxed(family: &Family, meeting: &[usize]) -> Option<Family> {
    let mut family = family.clone();
    for &index in meeting {
        family.profiles[index] = relaxed(&family, index)?;
    }
    Some(family)
}

/// The curves of the profiles `meeting` themselves, as they are in `family`.
pub fn curves(family: &Family, meeting: &[usize]) -> BTreeMap<usize, Curve> {
    let curve = |&index: &usize| {
        let curve = Curve::new(&family.profiles[index], family.settings.pacing).ok()?;
        Some((index, curve))
    };
    meeting.iter().filter_map(curve).collect()
}

/// For each profile `meeting` itself the sibling among `profiles` that runs most like it.
pub fn siblings(drawn: &Family, profiles: &[usize], meeting: &[usize]) -> BTreeMap<usize, Curve> {
    let pacing = drawn.settings.pacing;
    let curve = |index: usize| Curve::new(&drawn.profiles[index], pacing).ok();
    let is_sound = |index: &usize| !meeting.contains(index);
    let siblings: Vec<Curve> = profiles
        .iter()
        .copied()
        .filter(is_sound)
        .filter_map(curve)
        .collect();
    let guide = |&index: &usize| {
        let own = curve(index)?;
        let likeness = |sibling: &&Curve| likeness(&own, sibling);
        let most = siblings
            .iter()
            .max_by(|one, other| likeness(one).total_cmp(&likeness(other)))?;
        Some((index, most.clone()))
    };
    meeting.iter().filter_map(guide).collect()
}
