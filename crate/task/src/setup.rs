//! The task `setup`: installs everything that the page and the checks need.
//!
//! Doing it twice does nothing the second time. The other tasks call the parts they need, so a person need
//! not run this first.

use crate::place::Project;
use crate::run::{Failure, Outcome};
use crate::{browser, node, python, readers, toolchain};

/// Runs the task.
pub fn run(project: &Project, arguments: &[String]) -> Outcome {
    if let Some(argument) = arguments.first() {
        return Err(Failure::new(format!(
            "setup takes no arguments, but got \"{argument}\"."
        )));
    }
    let toolchain = toolchain::find_or_install()?;
    println!("WebAssembly compiler: {}", toolchain.in_words());
    node::install_packages(project)?;
    println!("npm packages: installed from the lock file");
    let browser = browser::find_or_install()?;
    println!("browser for tests: {}", browser.program.display());
    println!("driver for tests: {}", browser.driver.display());
    println!(
        "browser for the page from end to end: {}",
        browser::for_pages()?.display()
    );
    println!("{} for tests", python::find_or_install()?);
    readers::install(project)?;
    println!("readers of files for the shop: installed from tests/shop/requirements.txt");
    Ok(())
}
