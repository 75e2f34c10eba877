//! A family written so that it can be judged again, and the way to the
//! smallest pair that still shows a disagreement.

use crate::shapes::nodes;
use loftkin_kernel::profile::{Outline, Profile};
use std::fmt::Write;

/// The profile as one line: kind, then x, y in grid steps, corners with `!`.
pub fn written(profile: &Profile) -> String {
    let mut line = String::from(if profile.closed { "closed" } else { "open" });
    match &profile.outline {
        Outline::Nodes(nodes) => {
            for node in nodes {
                let mark = if node.corner { "!" } else { "" };
                let _ = write!(line, " {},{}{mark}", node.at.x, node.at.y);
            }
        }
        Outline::Path { start, spans } => {
            let _ = write!(line, " path {start:?} {spans:?}");
        }
    }
    line
}

/// Drops nodes of either profile (of both at once when `together`) as long as
/// `disagree` stays true.
pub fn shrunk(
    first: &Profile,
    second: &Profile,
    together: bool,
    disagree: impl Fn(&Profile, &Profile) -> bool,
) -> (Profile, Profile) {
    let (mut first, mut second) = (first.clone(), second.clone());
    loop {
        let mut smaller = None;
        let longest = nodes(&first).len().max(nodes(&second).len());
        for index in 0..longest {
            let (a, b) = (without(&first, index), without(&second, index));
            let tries = if together {
                vec![(a, b)]
            } else {
                vec![(a, Some(second.clone())), (Some(first.clone()), b)]
            };
            smaller = tries.into_iter().find_map(|pair| match pair {
                (Some(a), Some(b)) if disagree(&a, &b) => Some((a, b)),
                _ => None,
            });
            if smaller.is_some() {
                break;
            }
        }
        match smaller {
            Some(pair) => (first, second) = pair,
            None => return (first, second),
        }
    }
}

fn without(profile: &Profile, index: usize) -> Option<Profile> {
    let mut nodes = nodes(profile);
    if nodes.len() <= index {
        return None;
    }
    nodes.remove(index);
    let smaller = Profile {
        outline: Outline::Nodes(nodes),
        ..profile.clone()
    };
    smaller.validate().is_ok().then_some(smaller)
}
