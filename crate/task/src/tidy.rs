//! Checks the sources for what compilers do not see: header comments, traces of one machine, and spelling.
//!
//! A finding names file and line. It does not judge style; formatters and linters do that.

use crate::place::{Project, files_below};
use crate::run::{Failure, Outcome, answer};
use crate::spelling;
use std::path::Path;
use std::process::Command;

/// Beginnings of paths that exist on one person's machine only. In two halves, so that this file passes.
const MACHINE_PATHS: [&str; 5] = [
    concat!("/ho", "me/"),
    concat!("/ro", "ot/"),
    concat!("/Us", "ers/"),
    concat!("/wo", "rk/"),
    concat!("/tm", "p/"),
];

/// Hosts that packages come from: which one is used is the machine's affair, not the project's.
const REGISTRY_HOSTS: [&str; 5] = [
    concat!("registry.npm", "js"),
    concat!("index.crates", ".io"),
    concat!("static.crates", ".io"),
    concat!("files.python", "hosted"),
    concat!("deb.deb", "ian.org"),
];

/// Extensions of the files that are read as text.
const TEXT: [&str; 15] = [
    "cff", "css", "html", "js", "json", "lock", "md", "mjs", "py", "rs", "sh", "svg", "toml", "ts",
    "yml",
];

/// Checks every text file of the checkout.
pub fn check(project: &Project) -> Outcome {
    let mut findings = Vec::new();
    let hidden = [".cargo", ".ci", ".github"].map(|name| project.root.join(name));
    let folders = std::iter::once(project.root.clone()).chain(hidden);
    for file in folders.flat_map(|folder| files_below(&folder)) {
        let relative = file.strip_prefix(&project.root).unwrap_or(&file);
        // Bytes that are not text have no header and hold no path that a person wrote.
        if let (true, Ok(text)) = (is_text(relative), std::fs::read_to_string(&file)) {
            findings.extend(check_file(relative, &text));
        }
    }
    findings.extend(stale_lock(project));
    if findings.is_empty() {
        Ok(())
    } else {
        Err(Failure::new(findings.join("\n")))
    }
}

/// In CI, cargo must not have had to change the lock file: a commit brings its own. At a desk a changed lock file
/// is simply work under way.
fn stale_lock(project: &Project) -> Option<String> {
    std::env::var_os("CI")?;
    let mut git = Command::new("git");
    git.current_dir(&project.root)
        .args(["status", "--porcelain", "--", "Cargo.lock"]);
    let changed = answer(&mut git).is_some_and(|status| !status.is_empty());
    changed.then(|| {
        "Cargo.lock: it does not fit the manifests; commit it as cargo writes it.".to_owned()
    })
}

fn is_text(file: &Path) -> bool {
    // .ci/run has no extension.
    file.extension()
        .is_none_or(|extension| TEXT.iter().any(|text| extension == *text))
}

fn check_file(file: &Path, text: &str) -> Vec<String> {
    let name = file.to_string_lossy().replace('\\', "/");
    // Written by the wasm-bindgen step and ignored by git.
    if name.starts_with("www/loftkin_") {
        return Vec::new();
    }
    let mut findings: Vec<String> = missing_header(&name, text)
        .map(|what| format!("{name}:1: {what}"))
        .into_iter()
        .collect();
    for (number, line) in (1..).zip(text.lines()) {
        findings.extend(traces(line).map(|trace| {
            format!("{name}:{number}: \"{trace}\" ties the file to one machine or registry; leave it out or make it relative.")
        }));
        // Names of libraries are their authors'.
        if !name.contains("lock") {
            let mistakes = spelling::mistakes(line);
            findings.extend(mistakes.map(|mistake| format!("{name}:{number}: {mistake}")));
        }
    }
    findings
}

/// What is wrong with the beginning of a file, if its kind needs a header.
fn missing_header(name: &str, text: &str) -> Option<&'static str> {
    if name.ends_with(".rs") && !text.starts_with("//!") {
        return Some("begin the file with a //! comment that says what it is for.");
    }
    let is_module = name.ends_with(".js") || name.ends_with(".mjs") || name.ends_with(".css");
    if is_module && !(text.starts_with("/*") || text.starts_with("//")) {
        return Some("begin the file with a comment that says what it is for.");
    }
    if name.ends_with(".py") && !text.starts_with("\"\"\"") {
        return Some("begin the file with a docstring that says what it is for.");
    }
    None
}

fn traces(line: &str) -> impl Iterator<Item = &'static str> {
    let hosts = REGISTRY_HOSTS
        .into_iter()
        .filter(|host| line.contains(host));
    let paths = MACHINE_PATHS
        .into_iter()
        .filter(|path| begins_path(line, path));
    hosts.chain(paths)
}

/// Whether `path` stands in `line` as the beginning of a path, not as the middle of a relative one.
fn begins_path(line: &str, path: &str) -> bool {
    line.match_indices(path).any(|(place, _)| {
        let before = line[..place].chars().next_back();
        !before.is_some_and(|letter| letter.is_alphanumeric() || "._-".contains(letter))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn findings(name: &str, text: &str) -> Vec<String> {
        check_file(Path::new(name), text)
    }

    #[test]
    fn headers_are_asked_of_code_and_styles_only() {
        for name in [
            "crate/a/src/lib.rs",
            "www/a.js",
            "www/a.css",
            "tests/browser/a.test.mjs",
            "tests/a.py",
        ] {
            assert_eq!(findings(name, "code {}\n").len(), 1, "{name}");
        }
        assert!(findings("a.rs", "//! For this.\n").is_empty());
        assert!(findings("a.css", "/* For this. */\n").is_empty());
        assert!(findings("a.json", "{}").is_empty());
        // A comment on the first item is not one on the file.
        assert_eq!(findings("a.rs", "/// Adds.\nfn add() {}\n").len(), 1);
    }

    #[test]
    fn traces_of_a_machine_are_found_with_their_line() {
        let text = format!("{{\n \"a\": \"{}ann/x\"\n}}", MACHINE_PATHS[0]);
        let found = findings("a.json", &text);
        assert!(
            found.len() == 1 && found[0].starts_with("a.json:2:"),
            "{found:?}"
        );
        let lock = format!("resolved https://{}.example", REGISTRY_HOSTS[0]);
        assert_eq!(findings("www/package-lock.json", &lock).len(), 1);
    }

    #[test]
    fn relative_paths_and_system_programs_are_no_traces() {
        let text = format!(
            "a{0}b ./x{0}y ../{1} /usr/bin/cc",
            MACHINE_PATHS[3], "tests"
        );
        assert!(findings("a.md", &text).is_empty());
    }

    #[test]
    fn a_wrong_spelling_is_found_with_its_line_except_in_lock_files() {
        let text = concat!("right\nrec", "ieve\n");
        let found = findings("a.md", text);
        assert!(
            found.len() == 1 && found[0].starts_with("a.md:2:"),
            "{found:?}"
        );
        assert!(findings("Cargo.lock", text).is_empty());
    }

    #[test]
    fn bound_files_are_not_sources() {
        assert!(findings("www/loftkin_page.js", "let wasm;").is_empty());
    }
}
