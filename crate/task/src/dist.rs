//! The task `dist`: makes the static folder that any host can serve.
//!
//! The page's crate is compiled and bound to JavaScript, then the modules of www are bundled around it. All
//! paths inside the folder are relative and nothing in it calls the network, so it works below any address.

use crate::bind::{self, Loader};
use crate::bundling::{BUNDLING, ENTRIES};
use crate::place::{Project, files_below};
use crate::run::{self, Failure, Outcome};
use crate::toolchain::{self, TARGET};
use crate::{node, offline, one_file};
use std::fs;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};

/// The crates that become WebAssembly: the board, and what is fetched when work beside the page is first asked for.
const CRATES: [&str; 2] = ["loftkin-page", "loftkin-worker"];

/// How all begins that binding writes into www, beside the modules that import it and for the type check; git ignores
/// it.
const BOUND: &str = "loftkin_";

/// The parts of it that are loaded. They stay files of their own.
const LOADED: [&str; 4] = [
    "loftkin_page.js",
    "loftkin_page_bg.wasm",
    "loftkin_worker.js",
    "loftkin_worker_bg.wasm",
];

/// The profile that the page's crate is compiled in, and what is measured of it.
pub const PROFILE: &str = "page";

/// The style sheet that imports all others; they are bundled into it, for they compress better together.
pub const STYLE: &str = "style.css";

/// Files of www that are copied as they are, by extension.
const COPIED: [&str; 7] = ["html", "ico", "png", "svg", "webmanifest", "woff2", "txt"];

/// Runs the task.
pub fn run(project: &Project, arguments: &[String]) -> Outcome {
    if let Some(argument) = arguments.first() {
        return Err(Failure::new(format!(
            "dist takes no arguments, but got \"{argument}\"."
        )));
    }
    make(project)
}

/// Makes the folder unless nothing that goes into it has changed since it was made.
pub fn make_if_stale(project: &Project) -> Outcome {
    let made_from = fs::read_to_string(stamp(project)).unwrap_or_default();
    let bound = LOADED.map(|name| project.www().join(name));
    let mut made = bound
        .into_iter()
        .chain([project.dist().join(one_file::NAME)]);
    if made.all(|file| file.is_file()) && made_from == fingerprint(project) {
        println!("dist/ is up to date");
        return Ok(());
    }
    make(project)
}

fn make(project: &Project) -> Outcome {
    let before = fingerprint(project);
    node::install_packages(project)?;
    bind_crates(project)?;
    gather(project)?;
    bundle(project)?;
    offline::make(project)?;
    one_file::make(project)?;
    report_sizes(&project.dist())?;
    Ok(fs::write(stamp(project), before)?)
}

/// Compiles the crates and writes their loaders, their types and the modules into www.
fn bind_crates(project: &Project) -> Outcome {
    let toolchain = toolchain::find_or_install()?;
    let mut build = toolchain.cargo(project, "build");
    build.args(["--profile", PROFILE, "--lib"]);
    for name in CRATES {
        build.args(["--package", name]);
    }
    run::run(&mut build)?;
    let folder = project.wasm_target().join(TARGET).join(PROFILE);
    for name in CRATES {
        let module = folder.join(format!("{}.wasm", name.replace('-', "_")));
        bind::write(&module, Loader::Page, &project.www())?;
    }
    Ok(())
}

/// Starts the folder anew with the files that are copied.
fn gather(project: &Project) -> Outcome {
    let (www, dist) = (project.www(), project.dist());
    if !www.join("index.html").is_file() {
        return Err(Failure::new(
            "www/index.html is missing; there is no page to make.",
        ));
    }
    if dist.exists() {
        fs::remove_dir_all(&dist)?;
    }
    let copied = files_below(&www).into_iter().filter(|file| is_copied(file));
    for file in copied.chain(LOADED.map(|name| www.join(name))) {
        let relative = file.strip_prefix(&www).unwrap_or(&file);
        let place = dist.join(relative);
        fs::create_dir_all(place.parent().unwrap_or(&dist))?;
        fs::copy(&file, place)?;
    }
    Ok(())
}

fn is_copied(file: &Path) -> bool {
    extension(file).is_some_and(|extension| COPIED.contains(&extension))
}

fn extension(file: &Path) -> Option<&str> {
    file.extension()?.to_str()
}

fn bundle(project: &Project) -> Outcome {
    // One by one: what page and worker share stands in both, so that neither waits for a further file.
    for entry in ENTRIES {
        let mut esbuild = node::program(project, "esbuild");
        esbuild
            .arg(project.www().join(entry))
            .args(BUNDLING)
            .args(["--splitting", "--chunk-names=[name]-[hash]"])
            .arg(format!("--external:./{}", LOADED[0]))
            .arg(format!("--external:./{}", LOADED[2]))
            .arg(format!("--outdir={}", project.dist().display()));
        run::run(&mut esbuild)?;
    }
    shorten(project)
}

/// Writes the style sheets and the loaders without what only people read.
fn shorten(project: &Project) -> Outcome {
    let www = project.www();
    let mut styles = node::program(project, "esbuild");
    styles
        .arg(www.join(STYLE))
        .args(["--bundle", "--minify", "--log-level=warning"])
        .arg(format!("--outdir={}", project.dist().display()));
    run::run(&mut styles)?;
    let mut esbuild = node::program(project, "esbuild");
    esbuild
        .arg(www.join(LOADED[0]))
        .arg(www.join(LOADED[2]))
        .args(["--minify", "--log-level=warning"])
        .arg(format!("--outbase={}", www.display()))
        .arg(format!("--outdir={}", project.dist().display()));
    run::run(&mut esbuild)
}

fn report_sizes(dist: &Path) -> Outcome {
    println!("dist/ is made:");
    for file in files_below(dist) {
        let name = file.strip_prefix(dist).unwrap_or(&file).display();
        let size = fs::metadata(&file)?.len().div_ceil(1024);
        println!("{size:>7} KiB  {name}");
    }
    Ok(())
}

/// Where it is noted what the folder was made from; outside the folder, which holds only what is served.
fn stamp(project: &Project) -> PathBuf {
    project.target.join("dist-made-from")
}

/// A number that changes when a source of the page is added, removed, renamed, or written again.
fn fingerprint(project: &Project) -> String {
    let root = &project.root;
    let mut hasher = DefaultHasher::new();
    let folders = ["crate", "www", "demo-curves"].map(|name| files_below(&root.join(name)));
    let single = ["Cargo.toml", "Cargo.lock"].map(|name| root.join(name));
    for file in folders.into_iter().flatten().chain(single) {
        let name = file.file_name().unwrap_or_default().to_string_lossy();
        if name.starts_with(BOUND) {
            continue;
        }
        file.hash(&mut hasher);
        if let Ok(facts) = fs::metadata(&file) {
            facts.len().hash(&mut hasher);
            facts.modified().ok().hash(&mut hasher);
        }
    }
    format!("{:016x}", hasher.finish())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_changed_added_or_removed_source_makes_the_folder_stale() {
        let root = std::env::temp_dir().join(format!("loftkin-dist-{}", std::process::id()));
        let project = Project {
            root: root.clone(),
            target: root.join("target"),
        };
        fs::create_dir_all(root.join("www")).unwrap();
        fs::write(root.join("www/main.js"), "1").unwrap();
        let first = fingerprint(&project);
        assert_eq!(fingerprint(&project), first);
        fs::write(root.join("www/main.js"), "12").unwrap();
        let changed = fingerprint(&project);
        assert_ne!(changed, first);
        fs::write(root.join("www/more.js"), "").unwrap();
        assert_ne!(fingerprint(&project), changed);
        fs::remove_file(root.join("www/more.js")).unwrap();
        assert_eq!(fingerprint(&project), changed);
        // What making the folder writes must not make it stale.
        fs::write(root.join("www/loftkin_worker.js"), "").unwrap();
        assert_eq!(fingerprint(&project), changed);
        fs::remove_dir_all(root).unwrap();
    }

    #[test]
    fn modules_and_package_files_are_not_copied() {
        for (name, copied) in [
            ("a.svg", true),
            ("a.css", false),
            ("a.js", false),
            ("package-lock.json", false),
            ("a", false),
        ] {
            assert_eq!(is_copied(Path::new(name)), copied, "{name}");
        }
    }
}
