//! A profile that meets itself, relaxed until it does not.
//!
//! Every point goes halfway to the mean of its neighbours, again and again: loops
//! draw in, closed outlines become round and open ones straight. The first state
//! that the table proves simple is near the drawing, and a place to begin at.

use crate::freedom::{points_of, shifted};
use loftkin_kernel::family::Family;
use loftkin_kernel::profile::{Outline, Profile};
use loftkin_kernel::table::Table;

/// The most passes.
const MOST_PASSES: usize = 64;

/// Profile `index` of `family` after the fewest passes that make it simple; none
/// when it stays as it is.
pub fn relaxed(family: &Family, index: usize) -> Option<Profile> {
    let drawn = &family.profiles[index];
    let points = points_of(&drawn.outline).into_iter();
    let from: Vec<[f64; 2]> = points
        .map(|point| [f64::from(point.x), f64::from(point.y)])
        .collect();
    let mut at = from.clone();
    (0..MOST_PASSES).find_map(|_| {
        at = pass(&at, drawn);
        let shifts: Vec<[f64; 2]> = at
            .iter()
            .zip(&from)
            .map(|(at, from)| [at[0] - from[0], at[1] - from[1]])
            .collect();
        let profile = shifted(drawn, &shifts);
        let alone = Family {
            profiles: vec![profile.clone()],
            ..family.clone()
        };
        let table = Table::new(alone).ok()?;
        table.cell(0, 0).is_simple().then_some(profile)
    })
}

/// One pass; the ends of open profiles stay.
fn pass(at: &[[f64; 2]], drawn: &Profile) -> Vec<[f64; 2]> {
    let count = at.len();
    // The end of a closed path is its start once more.
    let round = if drawn.closed && matches!(drawn.outline, Outline::Path { .. }) {
        count - 1
    } else {
        count
    };
    let mut next: Vec<[f64; 2]> = (0..count)
        .map(|k| {
            if !drawn.closed && (k == 0 || k + 1 == count) {
                return at[k];
            }
            let (before, after) = (at[(k + round - 1) % round], at[(k + 1) % round]);
            [0, 1].map(|axis| 0.5 * at[k % round][axis] + 0.25 * (before[axis] + after[axis]))
        })
        .collect();
    if round < count {
        next[round] = next[0];
    }
    next
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::profile::Node;

    #[test]
    fn a_round_with_two_nodes_swapped_stays_near_round() {
        let mut nodes: Vec<Node> = (0..12)
            .map(|k| {
                let angle = (30.0 * f64::from(k)).to_radians();
                let at = |value: f64| libm::round(6000.0 * value) as i32;
                Node::smooth(at(libm::cos(angle)), at(libm::sin(angle)))
            })
            .collect();
        nodes.swap(4, 5);
        let family = Family {
            profiles: vec![Profile::closed(nodes)],
            ..Family::default()
        };
        let table = Table::new(family.clone()).unwrap();
        assert!(!table.cell(0, 0).is_simple());
        let relaxed = relaxed(&family, 0).unwrap();
        for point in points_of(&relaxed.outline) {
            let radius = f64::from(point.x).hypot(f64::from(point.y));
            assert!((4000.0..6100.0).contains(&radius), "{radius}");
        }
    }
}
