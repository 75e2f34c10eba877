//! Runs every example of the guide, and holds its pictures to what the command writes.
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
fn the_pictures_of_the_guide_are_what_the_command_writes() {
    let pictures: [(&str, &[&str]); 3] = [
        ("hoods.svg", &["hoods-that-agree.json", "--as", "svg"]),
        ("loft.svg", &["hoods-that-agree.json", "--loft", "1-4"]),
        ("fault.svg", &["hoods-with-faults.json", "--loft", "6-7"]),
    ];
    for (name, arguments) in pictures {
        let written = loftkin_in(&demo_folder(), &[&["write"], arguments].concat(), "");
        assert_eq!(written.code, 0, "{}", written.err);
        let kept = fs::read_to_string(guide().join(name)).unwrap();
        // Not by assert_eq: it would print both pictures.
        assert!(
            kept.replace("\r\n", "\n") == written.out,
            "in demo-curves, write it again: loftkin write {} > ../www/guide/{name}",
            arguments.join(" ")
        );
    }
}

#[test]
fn a_picture_of_a_loft_needs_two_profiles_of_the_family() {
    for (pair, reason) in [
        ("1-9", "there is no profile 9: the family has 8"),
        ("2-2", "a pair needs two profiles, not profile 2 twice"),
        ("2", "give two profiles with a hyphen between them, as 2-5"),
    ] {
        let written = loftkin_in(
            &demo_folder(),
            &["write", "hoods-that-agree.json", "--loft", pair],
            "",
        );
        assert_eq!(written.code, 2, "{pair}");
        assert!(written.err.contains(reason), "{pair}: {}", written.err);
        assert_eq!(written.out, "");
    }
}

/// A ring marks each witness: a fault has one, a clear loft none; and either order of a pair is the same loft.
#[test]
fn a_picture_of_a_loft_marks_its_faults() {
    let picture = |file: &str, pair: &str| {
        let written = loftkin_in(&demo_folder(), &["write", file, "--loft", pair], "");
        assert_eq!(written.code, 0, "{}", written.err);
        written.out
    };
    let rings = |file: &str, pair: &str| picture(file, pair).matches("<circle ").count();
    assert_eq!(rings("hoods-that-agree.json", "1-4"), 0);
    assert!(0 < rings("hoods-with-faults.json", "6-7"));
    assert!(0 < rings("ring-through-the-axis.json", "1-6"));
    assert_eq!(
        picture("hoods-with-faults.json", "6-7"),
        picture("hoods-with-faults.json", "7-6")
    );
}
