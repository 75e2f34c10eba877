//! Keeps the paths of the building machine out of WebAssembly.
//!
//! The compiler writes the path of each source with the place of a panic into the module. The page's module is public,
//! so such a path tells about the machine, and two machines make two different modules. Here they are shortened to what
//! every machine has in common.

use crate::place::Project;
use std::fs;
use std::path::{Path, PathBuf};

/// What separates two flags in CARGO_ENCODED_RUSTFLAGS; a path may hold a space.
const BETWEEN: &str = "\u{1f}";

/// The compiler's flags that shorten paths, as cargo takes them in CARGO_ENCODED_RUSTFLAGS.
pub fn flags(project: &Project) -> String {
    let home = std::env::var_os("CARGO_HOME")
        .map(PathBuf::from)
        .or_else(|| std::env::home_dir().map(|home| home.join(".cargo")));
    encoded(&project.root, &sources(home.as_deref()))
}

/// The folders, one per registry, in which cargo unpacks crates.
fn sources(home: Option<&Path>) -> Vec<PathBuf> {
    let Some(home) = home else {
        return Vec::new();
    };
    let folder = home.join("registry/src");
    let mut found: Vec<PathBuf> = fs::read_dir(&folder)
        .into_iter()
        .flatten()
        .flatten()
        .map(|entry| entry.path())
        .collect();
    found.sort();
    // The compiler takes the last that fits, so the folder above comes first. It serves a registry that cargo unpacks
    // for the first time in this very build.
    found.insert(0, folder);
    found
}

fn encoded(root: &Path, sources: &[PathBuf]) -> String {
    sources
        .iter()
        .map(|folder| (folder.as_path(), "crates"))
        .chain([(root, ".")])
        .map(|(folder, short)| format!("--remap-path-prefix={}={short}", folder.display()))
        .collect::<Vec<_>>()
        .join(BETWEEN)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_registry_and_the_checkout_are_shortened() {
        let flags = encoded(
            Path::new("my checkout"),
            &[PathBuf::from("a"), "a/b".into()],
        );
        let flags: Vec<&str> = flags.split(BETWEEN).collect();
        assert_eq!(
            flags,
            [
                "--remap-path-prefix=a=crates",
                "--remap-path-prefix=a/b=crates",
                "--remap-path-prefix=my checkout=."
            ]
        );
    }

    #[test]
    fn without_a_home_there_are_no_registries() {
        assert!(sources(None).is_empty());
    }
}
