//! Turns a compiled WebAssembly module into one that JavaScript can load, with its loader and its types.
//!
//! It does not compile the module and does not bundle the result.

use crate::run::{Failure, Outcome};
use std::path::Path;
use wasm_bindgen_cli_support::Bindgen;

/// Who loads the module.
#[derive(Clone, Copy)]
pub enum Loader {
    /// A page or a worker, as an ES module.
    Page,
    /// A Node.js script, as a module that is loaded at once by `require`.
    Node,
}

/// Writes `NAME.js`, `NAME.d.ts` and `NAME_bg.wasm` into `folder`, NAME being the file name of `module`.
///
/// # Errors
/// When the module cannot be read, or was compiled with another version of wasm-bindgen.
pub fn write(module: &Path, loader: Loader, folder: &Path) -> Outcome {
    let mut bindgen = Bindgen::new();
    bindgen
        .input_path(module)
        // Neither is of use to the person who loads the page.
        .remove_name_section(true)
        .remove_producers_section(true)
        // The library's defaults differ from those of the command-line tool: ask for types, and for a loader
        // that finds the module beside itself.
        .typescript(true)
        .omit_default_module_path(false);
    let chosen = match loader {
        Loader::Page => bindgen.web(true),
        Loader::Node => bindgen.nodejs(true),
    };
    chosen
        .and_then(|bindgen| bindgen.generate(folder))
        .map_err(|error| {
            Failure::new(format!(
                "{} could not be made loadable from JavaScript: {error:#}",
                module.display()
            ))
        })
}
