//! Decides which compiler builds the page for WebAssembly, and gets one when there is none.
//!
//! The decision is a pure function of the facts, so that its order can be tested: what is installed is used
//! before anything is downloaded; of the downloads, rustup's is the ordinary one and the distribution's
//! packages are for machines that rustup cannot serve.

use crate::place::Project;
use crate::remap;
use crate::run::{self, Failure, Outcome, answer};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

/// The WebAssembly target as rustc names it.
pub const TARGET: &str = "wasm32-unknown-unknown";

/// Debian's packages of a recent Rust, of the standard library's source, and of the linker it calls.
const PACKAGES: [&str; 4] = ["rustc-web", "cargo-web", "rust-web-src", "lld-22"];

/// Where those packages put their programs, beside and not instead of rustup's.
const DISTRIBUTION: &str = "/usr/bin";

/// The linker of the package lld-22.
const LINKER: &str = "wasm-ld-22";

/// rustup's download takes a few seconds where its server can be reached, and hangs where it cannot.
const RUSTUP_LIMIT: Duration = Duration::from_secs(20);

/// A compiler that can build for WebAssembly.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Toolchain {
    /// The compiler in use, which has the target's standard library.
    Active,
    /// The distribution's compiler, which builds the standard library from its source.
    Distribution,
}

/// The facts about this machine that choose a compiler.
#[derive(Clone, Copy, Default)]
struct Facts {
    active_has_target: bool,
    distribution_ready: bool,
    /// rustup is here and has not been asked yet.
    can_ask_rustup: bool,
    /// The packages can be installed and this has not been tried yet.
    can_ask_distribution: bool,
}

/// What to do next.
#[derive(Debug, PartialEq, Eq)]
enum Step {
    Use(Toolchain),
    AskRustup,
    AskDistribution,
    GiveUp,
}

fn next_step(facts: Facts) -> Step {
    if facts.active_has_target {
        Step::Use(Toolchain::Active)
    } else if facts.distribution_ready {
        Step::Use(Toolchain::Distribution)
    } else if facts.can_ask_rustup {
        Step::AskRustup
    } else if facts.can_ask_distribution {
        Step::AskDistribution
    } else {
        Step::GiveUp
    }
}

/// Finds a compiler for WebAssembly, installing one if need be.
///
/// # Errors
/// When there is none and none can be installed: says which commands would install one.
pub fn find_or_install() -> Outcome<Toolchain> {
    let mut facts = Facts {
        can_ask_rustup: answer(Command::new("rustup").arg("--version")).is_some(),
        can_ask_distribution: can_install_packages(),
        ..Facts::default()
    };
    loop {
        facts.active_has_target = active_has_target();
        facts.distribution_ready = distribution_ready();
        match next_step(facts) {
            Step::Use(toolchain) => return Ok(toolchain),
            Step::AskRustup => {
                facts.can_ask_rustup = false;
                let mut command = Command::new("rustup");
                run::succeeds_within(command.args(["target", "add", TARGET]), RUSTUP_LIMIT);
            }
            Step::AskDistribution => {
                facts.can_ask_distribution = false;
                // A failure is not final here: the next look at the facts decides.
                if let Err(failure) = install_packages(&PACKAGES) {
                    println!("{failure}");
                }
            }
            Step::GiveUp => {
                return Err(Failure::new(format!(
                    "No compiler here can build for WebAssembly: run `rustup target add {TARGET}`, or on Debian, \
                     as root, `apt-get install {}`; then start this again.",
                    PACKAGES.join(" ")
                )));
            }
        }
    }
}

impl Toolchain {
    /// Which compiler it is, for the person.
    pub fn in_words(self) -> &'static str {
        match self {
            Self::Active => "the one in use",
            Self::Distribution => "the distribution's",
        }
    }

    /// A cargo call for WebAssembly, `subcommand` first, in a target directory of its own.
    pub fn cargo(self, project: &Project, subcommand: &str) -> Command {
        let mut command = match self {
            Self::Active => run::cargo(),
            Self::Distribution => distribution_cargo(),
        };
        command
            .current_dir(&project.root)
            .env("CARGO_TARGET_DIR", project.wasm_target())
            .env("CARGO_ENCODED_RUSTFLAGS", remap::flags(project))
            .args([subcommand, "--target", TARGET]);
        if self == Self::Distribution {
            // With wasm32's own panic strategy; no other part of the library is used.
            command.arg("-Zbuild-std=std,panic_abort");
        }
        command
    }
}

/// Whether packages of the distribution can be installed: apt is here, and this is root.
pub fn can_install_packages() -> bool {
    answer(Command::new("apt-get").arg("--version")).is_some()
        && answer(Command::new("id").arg("-u")).as_deref() == Some("0")
}

/// Installs packages of the distribution, after reading its lists anew.
pub fn install_packages(packages: &[&str]) -> Outcome {
    let apt = || {
        let mut command = Command::new("apt-get");
        // It tells every unpacked file, even when asked to be quiet; what goes wrong comes by the other channel.
        command
            .env("DEBIAN_FRONTEND", "noninteractive")
            .stdin(Stdio::null())
            .stdout(Stdio::null());
        command
    };
    run::run(apt().arg("update"))?;
    run::run(
        apt()
            .args(["install", "--yes", "--no-install-recommends"])
            .args(packages),
    )
}

fn active_has_target() -> bool {
    let mut command = Command::new("rustc");
    answer(command.args(["--print", "target-libdir", "--target", TARGET]))
        .is_some_and(|folder| Path::new(&folder).is_dir())
}

fn distribution_ready() -> bool {
    let program = |name: &str| Path::new(DISTRIBUTION).join(name);
    let mut rustc = without_rustup(Command::new(program("rustc")));
    let source = answer(rustc.args(["--print", "sysroot"]))
        .map(|root| PathBuf::from(root).join("lib/rustlib/src/rust/library/Cargo.lock"));
    // An older compiler of the distribution has neither this linker nor edition 2024.
    program("cargo").is_file()
        && program(LINKER).is_file()
        && source.is_some_and(|file| file.is_file())
}

fn distribution_cargo() -> Command {
    let mut command = without_rustup(Command::new(Path::new(DISTRIBUTION).join("cargo")));
    command
        .env("RUSTC", Path::new(DISTRIBUTION).join("rustc"))
        // Building the standard library is still behind this switch.
        .env("RUSTC_BOOTSTRAP", "1")
        // Without it rustc looks for "rust-lld", which these packages do not have.
        .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER", LINKER);
    command
}

/// Clears what a cargo of rustup hands down to its children and what would lead another cargo back to rustup's
/// compiler and libraries.
fn without_rustup(mut command: Command) -> Command {
    for name in [
        "CARGO",
        "LD_LIBRARY_PATH",
        "RUSTC",
        "RUSTC_WORKSPACE_WRAPPER",
        "RUSTC_WRAPPER",
        "RUSTDOC",
        "RUSTUP_TOOLCHAIN",
    ] {
        command.env_remove(name);
    }
    command
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALL: Facts = Facts {
        active_has_target: true,
        distribution_ready: true,
        can_ask_rustup: true,
        can_ask_distribution: true,
    };

    #[test]
    fn the_compiler_in_use_comes_first() {
        assert_eq!(next_step(ALL), Step::Use(Toolchain::Active));
    }

    #[test]
    fn what_is_installed_comes_before_any_download() {
        let facts = Facts {
            active_has_target: false,
            ..ALL
        };
        assert_eq!(next_step(facts), Step::Use(Toolchain::Distribution));
    }

    #[test]
    fn rustup_is_asked_before_the_distribution() {
        let mut facts = Facts {
            can_ask_rustup: true,
            can_ask_distribution: true,
            ..Facts::default()
        };
        assert_eq!(next_step(facts), Step::AskRustup);
        facts.can_ask_rustup = false;
        assert_eq!(next_step(facts), Step::AskDistribution);
        facts.can_ask_distribution = false;
        assert_eq!(next_step(facts), Step::GiveUp);
    }

    #[test]
    fn the_distribution_is_not_led_back_to_rustup() {
        let command = distribution_cargo();
        let value = |name: &str| {
            command
                .get_envs()
                .find(|(key, _)| *key == name)
                .map(|(_, value)| value)
        };
        assert_eq!(value("RUSTUP_TOOLCHAIN"), Some(None));
        assert_eq!(value("CARGO"), Some(None));
        assert!(value("RUSTC").flatten().is_some());
    }
}
