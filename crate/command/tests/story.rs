//! The story that the README of the demo curves tells: its orders, read from it, run one after the other in a copy of that
//! folder, end as it says and tell the figures that it tells.

mod common;

use common::folder::{all_named_is_whole, files};
use common::{demo_folder, loftkin_in};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

fn readme() -> String {
    fs::read_to_string(demo_folder().join("README.md")).unwrap()
}

/// The orders of the README with their exit codes: indented lines as `loftkin check … # 0`.
fn orders(readme: &str) -> Vec<(Vec<String>, i32)> {
    let lines = readme
        .lines()
        .filter_map(|line| line.strip_prefix("    loftkin "));
    let order = |line: &str| {
        let (words, code) = line.split_once('#').expect("an order has its exit code");
        let words = words.split_whitespace().map(str::to_owned).collect();
        (words, code.trim().parse().unwrap())
    };
    lines.map(order).collect()
}

/// What an order printed, with its lines joined.
fn said(folder: &Path, words: &[String], code: i32) -> String {
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let run = loftkin_in(folder, &words, "");
    assert_eq!(run.code, code, "{words:?}: {}{}", run.out, run.err);
    run.out.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The worst draft in `said`, which must be that of a straight wall that is `within` mm
/// farther in when it has risen by `rise` mm, or up to .02 degrees less.
fn draft(said: &str, within: f64, rise: f64) -> String {
    let (_, told) = said.split_once("the worst is ").unwrap();
    let (value, _) = told.split_once(" degrees").unwrap();
    let exact = f64::atan2(within, rise).to_degrees();
    let below = exact - value.parse::<f64>().unwrap();
    assert!((-0.001..0.021).contains(&below), "{value} for {exact}");
    format!("{value} degrees")
}

#[test]
fn the_orders_of_the_story_end_as_told() {
    let readme = readme();
    let folder = TempDir::new().unwrap();
    for (name, bytes) in files(&demo_folder()) {
        fs::write(folder.path().join(name), bytes).unwrap();
    }
    let orders = orders(&readme);
    assert_eq!(orders.len(), 8);
    let said: Vec<String> = orders
        .iter()
        .map(|(words, code)| said(folder.path(), words, *code))
        .collect();
    // Below the fixed collar each of three stations may have any of eight rims but the one above it.
    let count = format!("{} pieces", 7 * 7 * 7);
    // The oval is 120 mm wide, the round rim 150 mm, at .85 and at .7 of that, 24 mm higher.
    let hooked = draft(&said[2], 120.0 - 127.5, 24.0);
    let free = draft(&said[4], 120.0 - 105.0, 24.0);
    for (order, figure) in [(1, &count), (2, &hooked), (3, &count), (4, &free)] {
        assert!(
            readme.contains(figure.as_str()),
            "the README tells {figure}"
        );
        assert!(
            said[order].contains(figure.as_str()),
            "{figure}: {}",
            said[order]
        );
    }
    assert!(said[4].contains("(1 proved)"), "{}", said[4]);
    // Edges that the skin has, and what a fillet makes of them: half a gauge less than
    // 25 mm at the inner face, and 2 · 8 · 1 / 25 MPa.
    for (order, figure) in [
        (4, "23.31 degrees"),
        (4, "16.62 degrees"),
        (5, "24.500 mm"),
        (5, "0.640 MPa"),
    ] {
        let is_told = readme.contains(figure) && said[order].contains(figure);
        assert!(is_told, "{figure}: {}", said[order]);
    }
    assert!(!said[5].contains(" 0 pass"), "{}", said[5]);
    assert!(
        said[5].contains("the files have the sharp edge"),
        "{}",
        said[5]
    );
    let hood = folder.path().join("hood");
    assert_eq!(all_named_is_whole(&hood, "manifest.csv", 4), 1);
    // ISO 10303-42: the last of the three after the form is self_intersect.
    let surfaces = fs::read_to_string(hood.join("00000/piece-46.step")).unwrap();
    let fields = |last: &str| {
        let shape = format!(".UNSPECIFIED.,.F.,.F.,{last}");
        surfaces.matches(&shape).count()
    };
    assert!(0 < fields(".F.") && fields(".U.") == 0 && fields(".T.") == 0);
    let page = fs::read_to_string(folder.path().join("hood.html")).unwrap();
    assert!(page.contains("Draft to the direction of draw"));
    let bath = fs::read_to_string(folder.path().join("bath.csv")).unwrap();
    assert!(bath.starts_with("height_mm,"), "{bath}");
}
