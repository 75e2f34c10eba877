//! Which files of a crate use which: the graph in which crate/task/src/circles.rs looks for circles.
//!
//! A file uses another when it imports something that is defined there, or names it by a path. What a module only
//! hands on (`pub use`) is followed to the file that defines it. Tests do not count: they may use what they test.

use crate::items::{Module, Name, Reader, joined};
use crate::run::{Failure, Outcome};
use crate::uses::Graph;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use syn::visit::Visit;

/// The modules of one program or library.
#[derive(Default)]
struct Tree(BTreeMap<Name, Module>);

/// The graph of the files below `source`, the folder src of a crate, named from `root` on.
///
/// # Errors
/// When a file cannot be read or is no Rust.
pub fn graph(root: &Path, source: &Path) -> Outcome<Graph> {
    let mut graph = Graph::default();
    for start in ["lib.rs", "main.rs"] {
        let file = source.join(start);
        if file.is_file() {
            let mut tree = Tree::default();
            tree.read(root, &file, source, Vec::new())?;
            tree.add_to(&mut graph);
        }
    }
    Ok(graph)
}

impl Tree {
    /// Reads the module `name` from `file`; those below it are looked for in `folder`.
    fn read(&mut self, root: &Path, file: &Path, folder: &Path, name: Name) -> Outcome {
        let shown = file.strip_prefix(root).unwrap_or(file);
        let shown = shown.to_string_lossy().replace('\\', "/");
        let text = fs::read_to_string(file)?;
        let parsed = syn::parse_file(&text)
            .map_err(|error| Failure::new(format!("{shown} could not be read: {error}.")))?;
        for (below, place) in self.take(&shown, &parsed.items, folder, name) {
            let inside = place.join("mod.rs");
            let beside = place.with_extension("rs");
            let file = if inside.is_file() { inside } else { beside };
            self.read(root, &file, &place, below)?;
        }
        Ok(())
    }

    /// Takes the items of one module and answers which modules are in other files: their names and folders.
    fn take(
        &mut self,
        file: &str,
        items: &[syn::Item],
        folder: &Path,
        name: Name,
    ) -> Vec<(Name, PathBuf)> {
        let mut reader = Reader::default();
        reader.module.file = file.to_owned();
        for item in items {
            reader.visit_item(item);
        }
        self.0.insert(name.clone(), reader.module);
        let mut elsewhere = Vec::new();
        for (child, content) in reader.children {
            let below = joined(&name, &child);
            let place = folder.join(&child);
            match content {
                Some(items) => elsewhere.extend(self.take(file, &items, &place, below)),
                None => elsewhere.push((below, place)),
            }
        }
        elsewhere
    }

    fn add_to(&self, graph: &mut Graph) {
        for (name, module) in &self.0 {
            graph.entry(module.file.clone()).or_default();
            for path in &module.uses {
                let used = self.file(name, path, 0);
                if let Some(used) = used.filter(|used| !self.is_part(name, &module.file, used)) {
                    graph
                        .entry(module.file.clone())
                        .or_default()
                        .insert(used.to_owned());
                }
            }
        }
    }

    /// Whether the module `name` in `file` is a part of the module in `other`, or the same file.
    fn is_part(&self, name: &Name, file: &str, other: &str) -> bool {
        let mut above = (1..name.len()).map(|length| &self.0[&name[..length]]);
        file == other || above.any(|module| module.file == other)
    }

    /// The file that defines what `path` means in the module `from`; none for what comes from other crates.
    fn file(&self, from: &Name, path: &[String], depth: usize) -> Option<&str> {
        let (mut place, rest) = beginning(from, path)?;
        let absolute = rest.len() < path.len();
        // Imports that lead in a circle are no Rust, but must not hang this.
        if depth > 32 {
            return None;
        }
        for (index, word) in rest.iter().enumerate() {
            let below = joined(&place, word);
            if self.0.contains_key(&below) {
                place = below;
                continue;
            }
            let module = self.0.get(&place)?;
            if module.defined.contains(word) {
                return Some(&module.file);
            }
            if let Some(target) = module.imports.get(word) {
                let whole: Name = target.iter().chain(&rest[index + 1..]).cloned().collect();
                // An import of a crate by its own name means itself.
                return (whole != path || place != *from)
                    .then(|| self.file(&place, &whole, depth + 1))
                    .flatten();
            }
            let mut globs = module.globs.iter();
            return globs.find_map(|glob| {
                let whole: Name = glob.iter().chain(&rest[index..]).cloned().collect();
                self.file(&place, &whole, depth + 1)
            });
        }
        // A name alone that is a module's is a variable's as well: only a path means the module.
        (absolute || rest.len() > 1).then(|| self.0[&place].file.as_str())
    }
}

/// The module in which a path begins, and the words after `crate`, `self` and `super`.
fn beginning<'a>(from: &Name, path: &'a [String]) -> Option<(Name, &'a [String])> {
    let mut place = from.clone();
    let mut rest = path;
    while let Some(word) = rest.first() {
        match word.as_str() {
            "crate" => place.clear(),
            "self" => {}
            "super" => {
                place.pop()?;
            }
            _ => break,
        }
        rest = &rest[1..];
    }
    Some((place, rest))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The edges of a crate with these files, as `FROM > TO`.
    fn edges(files: &[(&str, &str)]) -> Vec<String> {
        let folder = tempfile::tempdir().unwrap();
        for (name, text) in files {
            let file = folder.path().join(name);
            fs::create_dir_all(file.parent().unwrap()).unwrap();
            fs::write(file, text).unwrap();
        }
        let graph = graph(folder.path(), folder.path()).unwrap();
        let pairs = graph
            .iter()
            .flat_map(|(from, to)| to.iter().map(move |to| format!("{from} > {to}")));
        pairs.collect()
    }

    #[test]
    fn what_is_handed_on_is_followed_to_its_file() {
        let files = [
            ("lib.rs", "mod a; mod b; pub use a::One;"),
            ("a.rs", "pub struct One;"),
            ("b.rs", "use crate::One; fn f(_: One) {}"),
        ];
        assert_eq!(edges(&files), ["b.rs > a.rs"]);
    }

    #[test]
    fn paths_in_code_in_macros_and_in_groups_count() {
        let files = [
            ("lib.rs", "mod a; mod b; mod c; mod d; mod e;"),
            ("a.rs", "pub fn f() -> u8 { 1 }"),
            ("b.rs", "fn g() { super::a::f(); }"),
            ("c.rs", "fn g() { println!(\"{}\", (crate::a::f())); }"),
            ("d.rs", "use crate::{b, a::{self as x, f}}; fn g() {}"),
            ("e.rs", "use super::a::*; fn g() { f(); }"),
        ];
        assert_eq!(
            edges(&files),
            [
                "b.rs > a.rs",
                "c.rs > a.rs",
                "d.rs > a.rs",
                "d.rs > b.rs",
                "e.rs > a.rs"
            ]
        );
    }

    #[test]
    fn tests_and_other_crates_do_not_count() {
        let files = [
            ("lib.rs", "mod a; mod b;"),
            (
                "a.rs",
                "use std::fmt; #[cfg(test)] mod tests { use crate::b::f; }",
            ),
            (
                "b.rs",
                "use crate::a; #[cfg(test)] use crate::a::X; pub fn f() { let b = 1; b; }",
            ),
        ];
        assert_eq!(edges(&files), ["b.rs > a.rs"]);
    }

    #[test]
    fn a_part_may_use_its_module_but_nothing_the_crate_itself() {
        let files = [
            ("lib.rs", "mod a; pub struct Y; fn f() { a::f(); }"),
            ("a/mod.rs", "mod b; pub struct X; pub fn f() { b::g(); }"),
            ("a/b.rs", "use super::X; use crate::Y; pub fn g() {}"),
        ];
        assert_eq!(
            edges(&files),
            ["a/b.rs > lib.rs", "a/mod.rs > a/b.rs", "lib.rs > a/mod.rs"]
        );
    }
}
