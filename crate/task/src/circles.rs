//! Checks that no files use each other in a circle, neither those of a crate nor the scripts of the page.
//!
//! Files in a circle can only be read and changed as one. Exceptions are in a list, each with its reason, and one that
//! is no longer needed is a failure as well.

use crate::place::Project;
use crate::run::{Failure, Outcome};
use crate::uses::{Graph, way};
use crate::{modules, scripts};
use std::collections::BTreeSet;

/// One use that may close a circle.
struct Exception {
    from: &'static str,
    to: &'static str,
    why: &'static str,
}

/// It waits for what is under way: the page's series state is being taken apart.
const EXCEPTIONS: &[Exception] = &[Exception {
    from: "www/page/later-places.js",
    to: "www/series/places.js",
    why: "the places that are loaded later know the one that loads them",
}];

/// Checks the crates and the scripts.
///
/// # Errors
/// When there is a circle, or an exception that none needs.
pub fn check(project: &Project) -> Outcome {
    let mut graph = scripts::graph(project)?;
    let mut crates: Vec<_> = std::fs::read_dir(project.root.join("crate"))?
        .flatten()
        .map(|entry| entry.path().join("src"))
        .collect();
    crates.sort();
    for source in crates {
        graph.extend(modules::graph(&project.root, &source)?);
    }
    let findings = findings(&mut graph, EXCEPTIONS);
    if findings.is_empty() {
        Ok(())
    } else {
        Err(Failure::new(findings.join("\n")))
    }
}

fn findings(graph: &mut Graph, exceptions: &[Exception]) -> Vec<String> {
    let needless = exceptions
        .iter()
        .filter(|exception| !closes_a_circle(graph, exception))
        .map(|exception| {
            format!(
                "{} may use {} although that would close a circle ({}), but none is closed: take this exception out \
                 of crate/task/src/circles.rs.",
                exception.from, exception.to, exception.why
            )
        });
    let mut found: Vec<String> = needless.collect();
    for exception in exceptions {
        if let Some(used) = graph.get_mut(exception.from) {
            used.remove(exception.to);
        }
    }
    // Each circle is told once, at the first of its files.
    let mut told = BTreeSet::new();
    for start in graph.keys() {
        let circle = way(graph, start, start).filter(|_| !told.contains(start));
        if let Some(circle) = circle {
            found.push(format!(
                "These files use each other in a circle: {}. Move what two of them need into a file that uses neither.",
                circle.join(" -> ")
            ));
            told.extend(circle);
        }
    }
    found
}

fn closes_a_circle(graph: &Graph, exception: &Exception) -> bool {
    let used = graph.get(exception.from);
    used.is_some_and(|used| used.contains(exception.to))
        && way(graph, exception.to, exception.from).is_some()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn graph(edges: &[(&str, &str)]) -> Graph {
        let mut graph = Graph::new();
        for (from, to) in edges {
            let used = graph.entry((*from).to_owned()).or_default();
            used.insert((*to).to_owned());
        }
        graph
    }

    #[test]
    fn a_circle_is_told_with_its_files_and_a_ladder_is_none() {
        let mut ladder = graph(&[("a", "b"), ("a", "c"), ("b", "c")]);
        assert!(findings(&mut ladder, &[]).is_empty());
        let mut circle = graph(&[("a", "b"), ("b", "c"), ("c", "b")]);
        let found = findings(&mut circle, &[]);
        assert_eq!(found.len(), 1);
        assert!(found[0].contains("b -> c -> b"), "{found:?}");
    }

    #[test]
    fn an_exception_holds_as_long_as_it_is_needed() {
        let exceptions = [Exception {
            from: "c",
            to: "b",
            why: "they are one thing",
        }];
        let mut circle = graph(&[("b", "c"), ("c", "b")]);
        assert!(findings(&mut circle, &exceptions).is_empty());
        let mut mended = graph(&[("b", "c")]);
        let found = findings(&mut mended, &exceptions);
        assert!(found.len() == 1 && found[0].contains("they are one thing"));
        let mut useless = graph(&[("c", "b")]);
        assert_eq!(findings(&mut useless, &exceptions).len(), 1);
    }
}
