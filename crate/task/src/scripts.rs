//! Which scripts of www import which, for crate/task/src/circles.rs.
//!
//! The bundler answers it, so that what counts is what is loaded: imports at once and later, not those of types alone.

use crate::bundling::{BUNDLING, ENTRIES};
use crate::node;
use crate::place::Project;
use crate::run::{self, Failure, Outcome};
use crate::uses::Graph;
use serde::Deserialize;
use std::collections::BTreeMap;
use std::fs;

/// What the bundler tells of a bundle.
#[derive(Deserialize)]
struct Told {
    inputs: BTreeMap<String, Input>,
}

/// One script.
#[derive(Deserialize)]
struct Input {
    imports: Vec<Import>,
}

/// What a script imports. Names of other files are told from the checkout on.
#[derive(Deserialize)]
struct Import {
    path: String,
    #[serde(default)]
    external: bool,
}

/// The graph of all scripts that page and worker load.
///
/// # Errors
/// When the bundler finds an import that leads nowhere.
pub fn graph(project: &Project) -> Outcome<Graph> {
    node::install_packages(project)?;
    let folder = project.target.join("scripts");
    let file = folder.join("imports.json");
    let mut esbuild = node::program(project, "esbuild");
    esbuild
        .current_dir(&project.root)
        .args(ENTRIES.map(|entry| format!("www/{entry}")))
        .args(BUNDLING)
        .args(["--splitting", "--external:./loftkin_*.js"])
        .arg(format!("--outdir={}", folder.display()))
        .arg(format!("--metafile={}", file.display()));
    run::run(&mut esbuild)?;
    read(&fs::read_to_string(file)?)
}

fn read(text: &str) -> Outcome<Graph> {
    let told: Told = serde_json::from_str(text)
        .map_err(|error| Failure::new(format!("The bundler's list is not understood: {error}.")))?;
    let own = |name: &str| !name.contains("node_modules");
    let scripts = told.inputs.into_iter().filter(|(name, _)| own(name));
    Ok(scripts
        .map(|(name, input)| {
            let imports = input.imports.into_iter();
            let used = imports.filter(|import| !import.external && own(&import.path));
            (name, used.map(|import| import.path).collect())
        })
        .collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn own_scripts_are_told_and_packages_and_loaders_are_not() {
        let text = r#"{"inputs": {
            "www/a.js": {"bytes": 1, "imports": [
                {"path": "www/b.js", "kind": "dynamic-import", "original": "./b.js"},
                {"path": "./loftkin_page.js", "kind": "import-statement", "external": true},
                {"path": "www/node_modules/x/x.js", "kind": "import-statement"}
            ]},
            "www/node_modules/x/x.js": {"bytes": 1, "imports": []}
        }, "outputs": {}}"#;
        let graph = read(text).unwrap();
        assert_eq!(graph.len(), 1);
        assert_eq!(Vec::from_iter(&graph["www/a.js"]), ["www/b.js"]);
    }
}
