//! The program that cargo starts for a WebAssembly test binary: runs its tests in a headless browser.
//!
//! It adds nothing to the library it calls. `verify` names it as the runner of the wasm32-unknown-unknown
//! target and tells it by environment variables which driver, browser and flags to use.

use std::process::ExitCode;

fn main() -> ExitCode {
    match wasm_bindgen_cli::wasm_bindgen_test_runner::run_cli_with_args(std::env::args_os()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("the browser tests did not pass: {error:#}");
            ExitCode::FAILURE
        }
    }
}
