//! Runs every example of the guide, and holds its picture to what the command writes.
//!
//! An example is a `<pre class="example">` of www/guide/index.html: lines that begin with `$ loftkin` are run in a
//! folder with the demo families, in order; the lines below one must stand in its output, in that order, with `…` for
//! what is left out; `exit N` is its exit code.

mod common;

use common::{Run, demo_folder, loftkin_in};
use std::fs;
use std::path::{Path, PathBuf};

fn guide() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../www/guide")
}

fn plain(text: &str) -> String {
    text.replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&amp;", "&")
}

/// The examples, each as its lines.
fn examples() -> Vec<String> {
    let text = fs::read_to_string(guide().join("index.html")).unwrap();
    text.split("<pre class=\"example\">")
        .skip(1)
        .map(|rest| plain(rest.split("</pre>").next().unwrap()))
        .collect()
}

/// Fails unless `quoted` are lines of what `run` printed, in this order, and `quoted` ends with its exit code.
fn compare(order: &str, quoted: &[&str], run: &Run) {
    let printed = format!("{}{}", run.out, run.err);
    let mut lines = printed.lines().map(str::trim_end);
    let (code, said) = quoted.split_last().expect("an exit code");
    assert_eq!(*code, format!("exit {}", run.code), "{order}\n{printed}");
    for line in said.iter().filter(|line| line.trim() != "…") {
        assert!(
            lines.any(|printed| printed == line.trim_end()),
            "{order} did not print, in its place: {line}\n{printed}"
        );
    }
}

fn copy_demos(folder: &Path) {
    for entry in fs::read_dir(demo_folder()).unwrap() {
        let file = entry.unwrap().path();
        fs::copy(&file, folder.join(file.file_name().unwrap())).unwrap();
    }
}

#[test]
fn every_example_of_the_guide_does_what_it_quotes() {
    let folder = tempfile::tempdir().unwrap();
    copy_demos(folder.path());
    let mut orders = Vec::new();
    for example in examples() {
        for step in example.split("$ loftkin ").skip(1) {
            let lines: Vec<&str> = step.trim_end().lines().collect();
            let words: Vec<&str> = lines[0].split_whitespace().collect();
            compare(
                lines[0],
                &lines[1..],
                &loftkin_in(folder.path(), &words, ""),
            );
            orders.push(words[0].to_owned());
        }
    }
    for order in [
        "check", "mend", "series", "make", "report", "finish", "link", "write",
    ] {
        assert!(
            orders.iter().any(|known| known == order),
            "the guide has no example of {order}"
        );
    }
}

#[test]
fn the_picture_of_the_guide_is_what_the_command_writes() {
    let arguments = ["write", "hoods-that-agree.json", "--as", "svg"];
    let written = loftkin_in(&demo_folder(), &arguments, "");
    let kept = fs::read_to_string(guide().join("hoods.svg")).unwrap();
    assert_eq!(
        kept.replace("\r\n", "\n"),
        written.out,
        "write it again: loftkin write demo-curves/hoods-that-agree.json --as svg > www/guide/hoods.svg"
    );
}
