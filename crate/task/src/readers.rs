//! The programs that read files for the shop back in tests: Python packages in an environment of their own, in the
//! target directory.
//!
//! Their versions stand in tests/shop/requirements.txt. Only wheels are taken, so nothing is compiled. Together they
//! are a download of 86 MB and 490 MB on disk (Linux, x86_64); nothing of them is shipped.

use crate::place::Project;
use crate::python;
use crate::run::{self, Failure, Outcome};
use crate::toolchain::{can_install_packages, install_packages};
use std::path::{Path, PathBuf};
use std::process::Command;

/// Installs the readers unless those of this very list are there already.
///
/// # Errors
/// When Python cannot make an environment, or its packages cannot be had: the tests cannot run without them.
pub fn install(project: &Project) -> Outcome {
    python::find_or_install()?;
    let list = project.root.join("tests/shop/requirements.txt");
    let wanted = std::fs::read(&list)?;
    let folder = project.readers();
    // A copy of the list, written last, says that an install came to its end.
    let done = folder.join("installed-requirements.txt");
    if std::fs::read(&done).is_ok_and(|installed| installed == wanted) {
        return Ok(());
    }
    make_environment(&folder)?;
    let mut pip = Command::new(python_of(&folder));
    pip.args(["-m", "pip", "install", "--quiet"])
        .args(["--disable-pip-version-check", "--no-input"])
        .args(["--only-binary", ":all:", "--requirement"])
        .arg(&list);
    run::run(&mut pip).map_err(|failure| {
        Failure::new(format!(
            "{failure}\nThe readers of files for the shop could not be installed. They come from the Python package \
             index: is there a network, and has it wheels for this machine and this Python? Without them the step \
             \"test\" cannot hold these files to the outside world."
        ))
    })?;
    std::fs::write(done, wanted)?;
    Ok(())
}

/// Debian keeps the module that makes environments in a package of its own.
fn make_environment(folder: &Path) -> Outcome {
    let make = || {
        let mut command = Command::new("python3");
        command.args(["-m", "venv", "--clear"]).arg(folder);
        run::run(&mut command)
    };
    if make().is_ok() {
        return Ok(());
    }
    if can_install_packages() {
        install_packages(&["python3-venv"])?;
    }
    make().map_err(|failure| {
        Failure::new(format!(
            "{failure}\nPython's module venv is needed for the readers of files for the shop: install it."
        ))
    })
}

fn python_of(folder: &Path) -> PathBuf {
    folder.join(if cfg!(windows) {
        "Scripts/python.exe"
    } else {
        "bin/python"
    })
}
