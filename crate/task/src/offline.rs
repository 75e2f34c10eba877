//! Makes the service worker of the hosted page, dist/offline.js: it knows the files of this very build by name, and
//! the build by its content.
//!
//! The page in one file is made after it and needs none.

use crate::bundling::BUNDLING;
use crate::node;
use crate::place::{Project, files_below};
use crate::run::{self, Failure, Outcome};
use std::fs;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::Path;

/// Its name in www and in the folder.
const NAME: &str = "offline.js";

/// What stands in it for the build.
const BUILD: &str = "globalThis.LOFTKIN_BUILD";

/// Makes the file. All others that are served must be in the folder.
pub fn make(project: &Project) -> Outcome {
    let mut esbuild = node::program(project, "esbuild");
    esbuild
        .arg(project.www().join(NAME))
        .args(BUNDLING)
        .arg(format!("--define:{BUILD}={}", build(&project.dist())?))
        .arg(format!("--outdir={}", project.dist().display()));
    run::run(&mut esbuild)
}

/// The names of all files below `folder` and one number for their content, as JavaScript.
fn build(folder: &Path) -> Outcome<String> {
    let mut hasher = DefaultHasher::new();
    let mut names = Vec::new();
    for file in files_below(folder) {
        let name = file.strip_prefix(folder).unwrap_or(&file);
        let name = name.to_string_lossy().replace('\\', "/");
        if !name
            .bytes()
            .all(|byte| byte.is_ascii_alphanumeric() || b"/._-".contains(&byte))
        {
            return Err(Failure::new(format!(
                "{name}: name files of the page by letters, digits and . _ - alone."
            )));
        }
        name.hash(&mut hasher);
        fs::read(&file)?.hash(&mut hasher);
        names.push(format!("\"{name}\""));
    }
    let version = hasher.finish();
    Ok(format!(
        "{{\"version\":\"{version:016x}\",\"files\":[{}]}}",
        names.join(",")
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_version_follows_names_and_content() {
        let folder = std::env::temp_dir().join(format!("loftkin-offline-{}", std::process::id()));
        fs::create_dir_all(folder.join("style")).unwrap();
        fs::write(folder.join("main.js"), "1").unwrap();
        fs::write(folder.join("style/a.css"), "a").unwrap();
        let first = build(&folder).unwrap();
        assert!(
            first.ends_with("\"files\":[\"main.js\",\"style/a.css\"]}"),
            "{first}"
        );
        assert_eq!(build(&folder).unwrap(), first);
        fs::write(folder.join("main.js"), "2").unwrap();
        assert_ne!(build(&folder).unwrap(), first);
        fs::write(folder.join("a b.js"), "").unwrap();
        assert!(build(&folder).is_err());
        fs::remove_dir_all(folder).unwrap();
    }
}
