//! Files and those that they use, and the ways along uses from one file to another.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// Files and those that they use.
pub type Graph = BTreeMap<String, BTreeSet<String>>;

/// The shortest way along uses from one file to another, at least one step, with both ends.
pub fn way(graph: &Graph, from: &str, to: &str) -> Option<Vec<String>> {
    let mut before: BTreeMap<&str, &str> = BTreeMap::new();
    let mut waiting = VecDeque::from([from]);
    while let Some(file) = waiting.pop_front() {
        for next in graph.get(file).into_iter().flatten() {
            if before.contains_key(next.as_str()) {
                continue;
            }
            before.insert(next, file);
            if next == to {
                return Some(back(&before, from, to));
            }
            waiting.push_back(next);
        }
    }
    None
}

fn back(before: &BTreeMap<&str, &str>, from: &str, to: &str) -> Vec<String> {
    let mut way = vec![to.to_owned()];
    let mut file = to;
    loop {
        file = before[file];
        way.push(file.to_owned());
        if file == from {
            way.reverse();
            return way;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shortest_way_is_found_and_a_file_needs_a_step_to_itself() {
        let uses = |names: &[&str]| names.iter().map(|name| (*name).to_owned()).collect();
        let graph = Graph::from([
            ("a".to_owned(), uses(&["b", "c"])),
            ("b".to_owned(), uses(&["c"])),
            ("c".to_owned(), uses(&["a"])),
        ]);
        assert_eq!(way(&graph, "a", "c").unwrap(), ["a", "c"]);
        assert_eq!(way(&graph, "b", "b").unwrap(), ["b", "c", "a", "b"]);
        assert_eq!(way(&graph, "d", "d"), None);
    }
}
