//! Where things are: the project's folders and the folders that tasks write to.
//!
//! It only names places; it makes and changes none.

use crate::run::{Failure, Outcome};
use std::path::{Path, PathBuf};

/// The folders of one checkout.
pub struct Project {
    /// The folder with the workspace's Cargo.toml.
    pub root: PathBuf,
    /// The target directory of the native build, wherever the person has put it.
    pub target: PathBuf,
}

impl Project {
    /// Finds the checkout from the current folder upwards, and the target directory from the running program.
    pub fn find() -> Outcome<Self> {
        let here = std::env::current_dir()?;
        let root = here
            .ancestors()
            .find(|folder| folder.join("crate/task/Cargo.toml").is_file())
            .ok_or_else(|| {
                Failure::new(format!(
                    "{} is not inside a checkout of this project; change into one first.",
                    here.display()
                ))
            })?
            .to_path_buf();
        // The program stands in TARGET/PROFILE/.
        let program = std::env::current_exe()?;
        let target = program
            .ancestors()
            .nth(2)
            .map_or_else(|| root.join("target"), Path::to_path_buf);
        Ok(Self { root, target })
    }

    /// Page sources and their npm packages.
    pub fn www(&self) -> PathBuf {
        self.root.join("www")
    }

    /// The static folder that is served.
    pub fn dist(&self) -> PathBuf {
        self.root.join("dist")
    }

    /// The Python environment with the readers of files for the shop; tests/tests/shop_files.rs looks for it here.
    pub fn readers(&self) -> PathBuf {
        self.target.join("readers")
    }

    /// A target directory for WebAssembly builds alone: they may come from another compiler version, and two
    /// compilers in one directory rebuild each other's work.
    pub fn wasm_target(&self) -> PathBuf {
        self.target.join("for-wasm")
    }
}

/// Every file below `folder`, without build output, npm packages and hidden folders, in a fixed order.
/// A folder that does not exist has no files.
pub fn files_below(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    collect(folder, &mut found);
    found.sort();
    found
}

fn collect(folder: &Path, found: &mut Vec<PathBuf>) {
    let Ok(entries) = std::fs::read_dir(folder) else {
        return;
    };
    for path in entries.flatten().map(|entry| entry.path()) {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        if !path.is_dir() {
            // In a second work tree .git is a file that names a folder of this machine.
            if name != ".git" {
                found.push(path);
            }
        } else if !name.starts_with('.')
            && !["target", "node_modules", "dist"].contains(&name.as_ref())
        {
            collect(&path, found);
        }
    }
}
