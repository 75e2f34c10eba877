//! Checks that the crates depend on each other in one direction only, and what each must never depend on; and that no
//! files use each other in a circle.
//!
//! These are the "deliberately not there" rules of DEVELOPERS.md, which the code alone cannot show.

use crate::circles;
use crate::place::Project;
use crate::run::{self, Failure, Outcome, answer};

/// A crate, what it must not depend on even through others, and why.
struct Rule {
    name: &'static str,
    never: &'static [&'static str],
    why: &'static str,
    /// Whether what comes in on other machines, the browser's among them, counts
    /// as well. Only where no solver is: its stop watch reaches for the web there.
    everywhere: bool,
}

const RULES: &[Rule] = &[
    Rule {
        name: "kernel",
        never: &[
            "serde",
            "serde_json",
            "wasm-bindgen",
            "js-sys",
            "web-sys",
            "loftkin-mend",
            "loftkin-form",
            "loftkin-exchange",
            "loftkin-page",
        ],
        why: "the kernel's types carry no wire format and know no web",
        everywhere: true,
    },
    Rule {
        name: "mend",
        never: &["serde", "serde_json", "loftkin-exchange", "loftkin-page"],
        why: "a mend carries no wire format",
        everywhere: false,
    },
    Rule {
        name: "form",
        never: &[
            "serde",
            "serde_json",
            "wasm-bindgen",
            "js-sys",
            "web-sys",
            "loftkin-exchange",
            "loftkin-page",
        ],
        why: "pieces carry no wire format and know no web",
        everywhere: true,
    },
    Rule {
        name: "exchange",
        never: &["wasm-bindgen", "js-sys", "web-sys", "loftkin-page"],
        why: "files are read the same way on every machine",
        everywhere: false,
    },
    Rule {
        name: "editor",
        never: &[
            "wasm-bindgen",
            "js-sys",
            "web-sys",
            "loftkin-mend",
            "loftkin-page",
        ],
        why: "the document is edited without a web and without a solver",
        everywhere: true,
    },
    Rule {
        name: "work",
        never: &["wasm-bindgen", "js-sys", "web-sys", "loftkin-page"],
        why: "works on a family know no board and no web",
        everywhere: false,
    },
    Rule {
        name: "worker",
        never: &["clap", "rayon", "loftkin-command", "loftkin-page"],
        why: "the worker has no board",
        everywhere: false,
    },
    Rule {
        name: "page",
        never: &["clap", "rayon", "loftkin-command", "loftkin-worker"],
        why: "the page holds no part of the command and starts no threads",
        everywhere: false,
    },
    Rule {
        name: "command",
        never: &["wasm-bindgen", "js-sys", "web-sys", "loftkin-page"],
        why: "the command holds no part of the page",
        everywhere: false,
    },
];

/// Checks every rule whose crate is there.
pub fn check(project: &Project) -> Outcome {
    let mut broken = Vec::new();
    for rule in RULES {
        if !project.root.join("crate").join(rule.name).is_dir() {
            continue;
        }
        let package = format!("loftkin-{}", rule.name);
        let mut tree = run::cargo();
        tree.current_dir(&project.root)
            .args(["tree", "--edges", "normal", "--prefix", "none"])
            .args(["--format", "{p}", "--package", &package]);
        if rule.everywhere {
            tree.args(["--target", "all"]);
        }
        let names = answer(&mut tree).ok_or_else(|| {
            Failure::new(format!("cargo could not list what {package} depends on."))
        })?;
        for name in offenders(&names, rule.never) {
            broken.push(format!("{package} depends on {name}, but {}.", rule.why));
        }
    }
    if let Err(circles) = circles::check(project) {
        broken.push(circles.to_string());
    }
    if broken.is_empty() {
        Ok(())
    } else {
        Err(Failure::new(broken.join("\n")))
    }
}

/// The forbidden names among the lines `NAME vVERSION ...` of a dependency list.
fn offenders<'a>(names: &str, never: &[&'a str]) -> Vec<&'a str> {
    let present: Vec<&str> = names
        .lines()
        .filter_map(|line| line.split_whitespace().next())
        .collect();
    never
        .iter()
        .copied()
        .filter(|name| present.contains(name))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_whole_names_offend() {
        let names = "loftkin-kernel v0.1.0 (crate)\nserde_core v1.0.0\nlibm v0.2.0";
        assert!(offenders(names, &["serde", "web-sys"]).is_empty());
        assert_eq!(offenders(names, &["libm", "serde"]), ["libm"]);
    }
}
