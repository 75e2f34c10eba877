//! Finds the browser and the driver that the tests use, and installs them where the distribution has them.
//!
//! The environment variables CHROME and CHROMEDRIVER come first, so that a person can choose.

use crate::place::Project;
use crate::run::{Failure, Outcome};
use crate::toolchain::{can_install_packages, install_packages};
use std::env;
use std::path::PathBuf;

/// How the browser is started: without a window, as root in a container, and without any call of its own to
/// the network.
pub const FLAGS: [&str; 8] = [
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
];

/// Debian's packages.
const PACKAGES: [&str; 2] = ["chromium", "chromium-driver"];

/// The browser without any of its own window, as Debian packs and calls it: beside each tab the whole
/// browser draws its tool bar, a page of its own, which takes a third of the time of the tests (measured in
/// version 156).
const SHELL: &str = "chromium-headless-shell";

/// The names that systems give to the program.
const BROWSER_NAMES: [&str; 4] = [
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
];

/// A browser and its driver.
pub struct Browser {
    /// The browser's program.
    pub program: PathBuf,
    /// The driver's program, of the same version.
    pub driver: PathBuf,
}

/// Finds a browser and its driver, installing them if need be.
///
/// # Errors
/// When one of them is missing and cannot be installed: says how to provide it.
pub fn find_or_install() -> Outcome<Browser> {
    if let Some(browser) = find() {
        return Ok(browser);
    }
    if can_install_packages() {
        install_packages(&PACKAGES)?;
    }
    find().ok_or_else(|| {
        Failure::new(
            "The browser tests need Chromium and its driver: install both (on Debian, as root, `apt-get install \
             chromium chromium-driver`), or name their programs in the environment variables CHROME and CHROMEDRIVER.",
        )
    })
}

/// The program that opens the page from end to end: the shell where there is one, else the browser itself.
///
/// # Errors
/// As [`find_or_install`].
pub fn for_pages() -> Outcome<PathBuf> {
    if env::var_os("CHROME").is_none() {
        if on_path(SHELL).is_none() && can_install_packages() {
            // A distribution may lack it; the browser does as well.
            if let Err(failure) = install_packages(&[SHELL]) {
                println!("{failure}");
            }
        }
        if let Some(shell) = on_path(SHELL) {
            return Ok(shell);
        }
    }
    Ok(find_or_install()?.program)
}

fn find() -> Option<Browser> {
    Some(Browser {
        program: chosen("CHROME", &BROWSER_NAMES)?,
        driver: chosen("CHROMEDRIVER", &["chromedriver"])?,
    })
}

fn chosen(variable: &str, names: &[&str]) -> Option<PathBuf> {
    match env::var_os(variable) {
        Some(program) => Some(PathBuf::from(program)).filter(|program| program.is_file()),
        None => names.iter().find_map(|name| on_path(name)),
    }
}

fn on_path(name: &str) -> Option<PathBuf> {
    env::split_paths(&env::var_os("PATH")?)
        .map(|folder| folder.join(name))
        .find(|program| program.is_file())
}

impl Browser {
    /// Writes the settings that the driver of the WebAssembly tests reads, and says where.
    pub fn write_driver_settings(&self, project: &Project) -> Outcome<PathBuf> {
        let flags = FLAGS.map(quoted).join(", ");
        let program = quoted(&self.program.to_string_lossy());
        let settings = format!(
            "{{ \"goog:chromeOptions\": {{ \"binary\": {program}, \"args\": [{flags}] }} }}\n"
        );
        let file = project.target.join("webdriver.json");
        std::fs::write(&file, settings)?;
        Ok(file)
    }
}

/// A JSON string. Paths and flags hold no control characters, so two escapes are enough.
fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_becomes_a_json_string() {
        assert_eq!(quoted(r#"C:\a "b""#), r#""C:\\a \"b\"""#);
    }

    #[test]
    fn a_program_that_no_path_holds_is_not_found() {
        assert!(on_path("no-such-program-here").is_none());
    }
}
