//! Checks the libraries that the lock file names, on every system: their licences, and which come in several versions.
//!
//! Both lists below are exact: a name that is no longer needed is a failure as well.

use crate::place::Project;
use crate::run::{self, Failure, Outcome, answer};
use serde::Deserialize;
use spdx::{Expression, Licensee, ParseMode};
use std::collections::{BTreeMap, BTreeSet};

/// Licences under which a library may be used here, as SPDX names them (spdx.org/licenses): they ask for their text to be
/// handed on, and for nothing of ours.
const LICENCES: [&str; 6] = [
    "Apache-2.0",
    "BSD-3-Clause",
    "MIT",
    "MIT-0",
    "Unicode-3.0",
    "Zlib",
];

/// Libraries that come in several versions, because others have not moved on to the newest. None is ours to change.
const SEVERAL: [&str; 13] = [
    "base64",
    "getrandom",
    "glam",
    "hashbrown",
    "itertools",
    "r-efi",
    "rand",
    "rand_core",
    "shlex",
    "strsim",
    "syn",
    "thiserror",
    "thiserror-impl",
];

/// What cargo tells.
#[derive(Deserialize)]
struct Told {
    packages: Vec<Package>,
}

/// One library, or a crate of ours.
#[derive(Deserialize)]
struct Package {
    name: String,
    version: String,
    license: Option<String>,
}

/// Checks them.
///
/// # Errors
/// Names each library that is not as the lists say.
pub fn check(project: &Project) -> Outcome {
    let mut metadata = run::cargo();
    metadata
        .current_dir(&project.root)
        .args(["metadata", "--locked", "--format-version", "1"]);
    let text = answer(&mut metadata).ok_or_else(|| {
        Failure::new("cargo could not list the libraries: is the network there, and does Cargo.lock fit the manifests?")
    })?;
    let told: Told = serde_json::from_str(&text)
        .map_err(|error| Failure::new(format!("cargo's list is not understood: {error}.")))?;
    let findings = findings(&told.packages);
    if findings.is_empty() {
        println!(
            "{} libraries and crates are as they should be",
            told.packages.len()
        );
        Ok(())
    } else {
        Err(Failure::new(findings.join("\n")))
    }
}

fn findings(packages: &[Package]) -> Vec<String> {
    let mut used = BTreeSet::new();
    let mut found = Vec::new();
    let mut versions: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for package in packages {
        let Package {
            name,
            version,
            license,
        } = package;
        versions.entry(name).or_default().insert(version);
        match chosen(license.as_deref().unwrap_or_default()) {
            Some(names) => used.extend(names),
            None => found.push(format!(
                "{name} {version} is under \"{}\", which is not in the list of crate/task/src/libraries.rs: read it, then add \
                 it or do without the library.",
                license.as_deref().unwrap_or("no licence that it names")
            )),
        }
    }
    for (name, all) in &versions {
        if 1 < all.len() && !SEVERAL.contains(name) {
            let all: Vec<&str> = all.iter().copied().collect();
            found.push(format!(
                "{name} comes in the versions {}: bring what asks for them to one, or add it to the list of \
                 crate/task/src/libraries.rs.",
                all.join(", ")
            ));
        }
    }
    let several = |name: &&&str| versions.get(**name).is_some_and(|all| 1 < all.len());
    let needless = SEVERAL.iter().filter(|name| !several(name));
    let unused = LICENCES.iter().filter(|name| !used.contains(&***name));
    found.extend(needless.chain(unused).map(|name| {
        format!("{name} is needed no longer in a list of crate/task/src/libraries.rs: take it out.")
    }));
    found
}

/// The licences that are chosen of an SPDX expression: the fewest that satisfy it, early ones of [`LICENCES`] first.
/// None where no choice will do or where the expression is none. A name with an exception is another licence, which no list has.
fn chosen(expression: &str) -> Option<Vec<String>> {
    let accepted: Option<Vec<Licensee>> = LICENCES
        .iter()
        .map(|name| Licensee::parse(name).ok())
        .collect();
    // Cargo still accepts a slash for OR, which this mode reads.
    Expression::parse_mode(expression, ParseMode::LAX)
        .ok()?
        .minimized_requirements(&accepted?)
        .ok()
        .map(|names| names.iter().map(ToString::to_string).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_choice_needs_one_that_will_do_and_a_sum_all() {
        let chosen = |expression| chosen(expression).map(|names| names.join(", "));
        let choice = chosen("Unlicense OR MIT");
        assert_eq!(choice.as_deref(), Some("MIT"));
        assert_eq!(chosen("Unlicense/MIT"), choice);
        let sum = chosen("(MIT OR Apache-2.0) AND Unicode-3.0");
        assert_eq!(sum.as_deref(), Some("Apache-2.0, Unicode-3.0"));
        let exception = chosen("Apache-2.0 WITH LLVM-exception OR Apache-2.0 OR MIT");
        assert_eq!(exception.as_deref(), Some("Apache-2.0"));
        for refused in [
            "GPL-3.0-only",
            "MIT AND GPL-3.0-only",
            "Apache-2.0 WITH LLVM-exception",
            "",
            "(MIT",
            "MIT MIT",
        ] {
            assert_eq!(chosen(refused), None, "{refused}");
        }
    }

    #[test]
    fn what_is_not_in_the_lists_and_what_is_needless_in_them_is_told() {
        let package = |name: &str, version: &str, license: &str| Package {
            name: name.to_owned(),
            version: version.to_owned(),
            license: Some(license.to_owned()),
        };
        let mut packages: Vec<Package> = SEVERAL
            .iter()
            .flat_map(|name| ["1.0.0", "2.0.0"].map(|version| package(name, version, "MIT")))
            .collect();
        packages.extend(LICENCES.map(|name| package(&format!("under-{name}"), "1.0.0", name)));
        assert_eq!(findings(&packages), Vec::<String>::new());
        packages.push(package("under-MIT", "2.0.0", "MIT"));
        packages.push(package("closed", "1.0.0", "LicenseRef-own"));
        packages.remove(0);
        let found = findings(&packages);
        assert_eq!(found.len(), 3, "{found:?}");
        for (finding, name) in found.iter().zip(["closed", "under-MIT", SEVERAL[0]]) {
            assert!(finding.starts_with(name), "{finding}");
        }
    }
}
