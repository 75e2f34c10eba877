//! How far the nodes of a pair may move, in words.

use loftkin_exchange::words;
use loftkin_kernel::family::Family;
use loftkin_mend::node_margin;

/// What is found of the nodes of two profiles, from 0, a sentence an entry.
pub fn nodes(family: &Family, pair: (usize, usize)) -> Vec<String> {
    match node_margin(family, pair) {
        Some(found) => words::margin_of_nodes(family, pair, &found),
        None => vec![
            "This pair is not proved free of folds and crossings, so that there is no movement which would first break it."
                .to_owned(),
        ],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::family::Pacing;
    use loftkin_kernel::profile::{Node, Profile};

    #[test]
    fn a_pair_is_told_what_its_margin_covers_and_what_breaks_it() {
        let corner = |(x, y): (i32, i32)| Node {
            corner: true,
            ..Node::smooth(x, y)
        };
        let bent = |at: [(i32, i32); 3]| Profile::open(at.map(corner).to_vec());
        let mut family = Family {
            profiles: vec![
                bent([(0, 0), (4000, 3000), (9000, 0)]),
                bent([(0, 0), (5000, 3000), (9000, 0)]),
            ],
            ..Family::default()
        };
        family.settings.pacing = Pacing::Node;
        let told = nodes(&family, (0, 1));
        assert!(told[0].contains("at a kept pace"), "{told:?}");
        assert!(told[2].contains("checked"), "{told:?}");
        family.profiles[1] = family.profiles[1].reversed();
        assert_eq!(nodes(&family, (0, 1)).len(), 1);
    }
}
