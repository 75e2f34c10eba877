//! The order `series` and the series file: counts against all arrangements tried
//! one by one, piece numbers both ways, and what other orders make of them.

mod common;

use common::{Run, demo_folder, loftkin};
use serde_json::Value;
use std::collections::BTreeSet;
use std::fs;
use tempfile::TempDir;

const SERIES: &str = "hoods-round-the-lantern.series.json";
const AGREE: &str = "hoods-that-agree.json";
const FAULTS: &str = "hoods-with-faults.json";

fn json(text: &str) -> Value {
    serde_json::from_str(text).unwrap_or_else(|error| panic!("{error}: {text}"))
}

fn demo(name: &str) -> Value {
    json(&fs::read_to_string(demo_folder().join(name)).unwrap())
}

fn told(arguments: &[&str]) -> (Run, Value) {
    let run = loftkin(&[&["series", "--json"], arguments].concat(), "");
    let report = json(&run.out);
    (run, report)
}

/// All arrangements of the demo series over the eight hoods of `family`, in the
/// order of words, from the pair table that `expected.json` gives: every word is
/// tried.
fn arrangements(family: &str) -> Vec<Vec<u64>> {
    let series = demo(SERIES);
    let bad: BTreeSet<String> = demo("expected.json")[family]["cells"]
        .as_object()
        .unwrap()
        .keys()
        .cloned()
        .collect();
    let stations = series["stations"].as_array().unwrap();
    let allowed = |station: usize, profile: u64| match stations[station].get("profiles") {
        Some(list) => list.as_array().unwrap().contains(&profile.into()),
        None => true,
    };
    let beside = |one: u64, other: u64| {
        one != other && !bad.contains(&format!("{}-{}", one.min(other), one.max(other)))
    };
    let size = 8_u64;
    let count = stations.len();
    let words = (0..size.pow(count as u32)).map(|code| {
        let digit = |place: usize| code / size.pow((count - 1 - place) as u32) % size + 1;
        (0..count).map(digit).collect::<Vec<u64>>()
    });
    words
        .filter(|word| {
            (0..count).all(|place| {
                allowed(place, word[place]) && beside(word[place], word[(place + 1) % count])
            })
        })
        .collect()
}

fn profiles(piece: &Value) -> Vec<u64> {
    let profiles = piece["profiles"].as_array().unwrap().iter();
    profiles.map(|number| number.as_u64().unwrap()).collect()
}

#[test]
fn the_count_is_that_of_all_arrangements_tried_one_by_one() {
    for family in [AGREE, FAULTS] {
        let words = arrangements(family);
        let (run, report) = told(&[
            family, "--series", SERIES, "--choose", "300", "--seed", "11",
        ]);
        assert_eq!(run.code, 0, "{}", run.err);
        assert_eq!(report["count"], words.len().to_string(), "{family}");
        let pieces = report["pieces"].as_array().unwrap();
        assert_eq!(pieces.len(), 300.min(words.len()));
        for piece in pieces {
            let number: usize = piece["number"].as_str().unwrap().parse().unwrap();
            assert_eq!(profiles(piece), words[number - 1], "{family}, {number}");
        }
        for number in [1, words.len() / 2, words.len()] {
            let word = words[number - 1].iter().map(u64::to_string);
            let word = word.collect::<Vec<_>>().join(",");
            let number = number.to_string();
            let (_, there) = told(&[family, "--series", SERIES, "--piece", &number]);
            let (_, back) = told(&[family, "--series", SERIES, "--arrangement", &word]);
            assert_eq!(there["pieces"], back["pieces"]);
            assert_eq!(there["pieces"][0]["number"], number);
            assert_eq!(back["series"]["piece"], number);
        }
    }
}

/// 130 necklaces and 92 bracelets of six beads in three colours (OEIS A001867 and
/// A027671); check of the formula, from memory of these tables.
#[test]
fn a_ring_is_counted_up_to_turning_and_mirroring() {
    let six = "0,60,120,180,240,300";
    let only = "1:1+2+3,2:1+2+3,3:1+2+3,4:1+2+3,5:1+2+3,6:1+2+3";
    let run = [
        AGREE,
        "--placement",
        "ring",
        "--at",
        six,
        "--all-round",
        "--allow",
        only,
    ];
    let (_, report) = told(&run);
    let counts = ["count", "up_to_turning", "up_to_mirroring"].map(|name| &report[name]);
    assert_eq!(counts, ["729", "130", "92"]);
    let plain = loftkin(&[&["series"], &run[..]].concat(), "");
    let sentence = "729 pieces; up to turning 130, up to turning and mirroring 92.";
    assert!(plain.out.contains(sentence), "{}", plain.out);
}

#[test]
fn what_is_no_piece_has_an_exit_code_and_a_reason() {
    let cases: [(&[&str], i32, &str); 9] = [
        (
            &[AGREE, "--series", SERIES, "--piece", "99999999999999999999"],
            1,
            "there is no piece 99999999999999999999",
        ),
        (
            &[AGREE, "--series", SERIES, "--arrangement", "2,1,2,8,1,2"],
            1,
            "profile 2 may not stand at station 1",
        ),
        (
            &[AGREE, "--series", SERIES, "--arrangement", "1,2"],
            1,
            "2 profiles for 6 stations",
        ),
        (&[FAULTS, "--at", "0,90", "--allow", "1:5,2:6"], 1, ""),
        (&[AGREE], 2, "no stations are given"),
        (
            &[AGREE, "--series", "no-such-file"],
            2,
            "the series file no-such-file cannot be read",
        ),
        (&[AGREE, "--series", AGREE], 2, "this is no series file"),
        (
            &[AGREE, "--at", "0,90", "--all-round"],
            2,
            "only a ring can be joined all round",
        ),
        (
            &[AGREE, "--at", "0,90", "--allow", "3:1"],
            2,
            "there is no station 3",
        ),
    ];
    for (arguments, code, sentence) in cases {
        let run = loftkin(&[&["series"], arguments].concat(), "");
        assert_eq!(run.code, code, "{arguments:?} {}", run.err);
        assert!(run.err.contains(sentence), "{arguments:?} {}", run.err);
    }
}

/// Beside a series file every option that would change it is refused by name, and
/// so is one that has no stations to go with.
#[test]
fn stations_are_given_in_one_way_only() {
    let options = [
        ["--scales", "1,2"],
        ["--turns", "1,2"],
        ["--shifts-x", "1,2"],
        ["--shifts-y", "1,2"],
        ["--blend", "eased"],
        ["--allow", "1:1"],
        ["--all-round", "--no-equal-neighbours"],
    ];
    for order in ["series", "link"] {
        for option in options {
            let beside = [&[order, AGREE, "--series", SERIES], &option[..]].concat();
            let run = loftkin(&beside, "");
            assert_eq!(run.code, 2, "{option:?}");
            assert!(run.err.contains("cannot be used with"), "{}", run.err);
            let alone = loftkin(&[&[order, AGREE], &option[..]].concat(), "");
            assert_eq!(alone.code, 2, "{option:?}");
            assert!(alone.err.contains("--at <PLACES>"), "{}", alone.err);
        }
        let both = loftkin(&[order, AGREE, "--series", SERIES, "--at", "0,1"], "");
        assert_eq!(both.code, 2);
    }
}

#[test]
fn a_series_is_written_and_read_back() {
    let folder = TempDir::new().unwrap();
    let out = folder.path().join("series.json");
    let out = out.to_str().unwrap();
    let stations = [
        "--at",
        "0,62.5,140",
        "--scales",
        "1,0.9,0.8",
        "--blend",
        "b-spline-2",
        "--allow",
        "2:1,2:4",
    ];
    let run = loftkin(
        &[
            &["series", AGREE, "-o", out, "--piece", "77"],
            &stations[..],
        ]
        .concat(),
        "",
    );
    assert_eq!(run.code, 0, "{}", run.err);
    let file = json(&fs::read_to_string(out).unwrap());
    assert_eq!(file["piece"], "77");
    assert_eq!(file["stations"][1]["profiles"], serde_json::json!([1, 4]));
    let (_, by_file) = told(&[AGREE, "--series", out]);
    let (_, by_options) = told(&[&[AGREE, "--piece", "77"], &stations[..]].concat());
    assert_eq!(by_file["pieces"], by_options["pieces"]);
    assert_eq!(by_file["series"], file);
    let again = loftkin(&["series", AGREE, "--series", SERIES, "-o", out], "");
    assert_eq!(again.code, 2);
    assert!(again.err.contains("--overwrite"), "{}", again.err);
    assert_eq!(json(&fs::read_to_string(out).unwrap()), file);
    let printed = loftkin(&["series", AGREE, "--series", SERIES, "-o", "-"], "");
    assert_eq!(json(&printed.out), demo(SERIES));
    assert!(printed.err.contains("Piece 512"), "{}", printed.err);
    // What is printed can be piped on, but family and series cannot share a pipe.
    let piped = loftkin(&["series", AGREE, "--series", "-"], &printed.out);
    assert!(piped.out.contains("Piece 512"), "{}", piped.err);
    let both = loftkin(&["series", "-", "--series", "-"], &demo(AGREE).to_string());
    assert_eq!(both.code, 2);
    assert!(both.err.contains("standard input is empty"), "{}", both.err);
    let beyond = ["--piece", "99999999", "-o", "no-such-file.json"];
    let beyond = loftkin(
        &[&["series", AGREE, "--series", SERIES], &beyond[..]].concat(),
        "",
    );
    assert_eq!(beyond.code, 1);
    assert!(beyond.err.contains("nothing is written"), "{}", beyond.err);
    assert!(!demo_folder().join("no-such-file.json").exists());
}

#[test]
fn a_link_carries_the_series_and_the_piece() {
    let link = |arguments: &[&str]| {
        let run = loftkin(&[&["link", AGREE], arguments].concat(), "");
        assert_eq!(run.code, 0, "{}", run.err);
        run.out.trim().to_owned()
    };
    let alone = link(&[]);
    let longer = link(&[
        "--series",
        SERIES,
        "--piece",
        "5",
        "--page",
        "https://example.org/board/",
    ]);
    assert!(longer.starts_with(&format!("https://example.org/board/#{alone}~series1.")));
    let (_, report) = told(&[&longer]);
    assert_eq!(report["pieces"][0]["number"], "5");
    let mut wanted = demo(SERIES);
    wanted["piece"] = "5".into();
    assert_eq!(report["series"], wanted);
    // Every order that takes a family takes the longer link.
    assert_eq!(loftkin(&["check", "--brief", &longer], "").code, 0);
    assert_eq!(loftkin(&["check", "--brief", "-"], &longer).code, 0);
    let family = loftkin(&["write", &longer], "");
    assert_eq!(json(&family.out), demo(AGREE));
    assert!(family.err.contains("loftkin series"), "{}", family.err);
    // A link made of a link keeps its series.
    let again = loftkin(
        &["link", &longer, "--page", "https://example.org/board/"],
        "",
    );
    assert_eq!(again.out.trim(), longer);
    let none = loftkin(&["link", AGREE, "--piece", "5"], "");
    assert_eq!(none.code, 2);
    let beyond = loftkin(
        &["link", AGREE, "--series", SERIES, "--piece", "999999"],
        "",
    );
    assert_eq!(beyond.code, 2);
    assert!(
        beyond.err.contains("there is no piece 999999"),
        "{}",
        beyond.err
    );
}

#[test]
fn a_damaged_series_leaves_the_family() {
    let link = loftkin(&["link", AGREE, "--series", SERIES], "").out;
    let cut = &link.trim()[..link.trim().len() - 3];
    let check = loftkin(&["check", "--brief", cut], "");
    assert_eq!(check.code, 0, "{}", check.err);
    assert!(
        check
            .err
            .contains("the link: The series in this link was cut short, 3 characters"),
        "{}",
        check.err
    );
    let series = loftkin(&["series", cut], "");
    assert_eq!(series.code, 2);
    assert!(series.err.contains("--series FILE"), "{}", series.err);
    assert_eq!(loftkin(&["series", cut, "--at", "0,90"], "").code, 0);
    let again = loftkin(&["link", cut], "");
    assert_eq!(again.code, 0);
    assert_eq!(again.out, loftkin(&["link", AGREE], "").out);
}

/// The published structure, by a library of JSON Schema, on every kind of run.
#[test]
fn reports_keep_to_their_schema() {
    let valid = |text: &str| {
        let schema = json(text);
        assert!(jsonschema::draft202012::meta::is_valid(&schema));
        jsonschema::draft202012::new(&schema).unwrap()
    };
    let schema = valid(include_str!("../series-report.schema.json"));
    let series = valid(include_str!("../../exchange/series.schema.json"));
    let runs: [(&[&str], &str); 5] = [
        (&[AGREE, "--series", SERIES, "--choose", "4"], "counted"),
        (
            &[AGREE, "--at", "0,60,90", "--blend", "b-spline-3"],
            "problem",
        ),
        (
            &[AGREE, "--at", "0,60,90,120", "--blend", "b-spline-3"],
            "counted",
        ),
        (
            &[AGREE, "--series", SERIES, "--piece", "999999"],
            "no-such-piece",
        ),
        (&[FAULTS, "--at", "0,90", "--allow", "1:5,2:6"], "empty"),
    ];
    for (arguments, outcome) in runs {
        let (_, report) = told(arguments);
        let problems: Vec<String> = schema
            .iter_errors(&report)
            .map(|error| format!("{}: {error}", error.instance_path()))
            .collect();
        assert!(problems.is_empty(), "{problems:?}");
        assert_eq!(report["outcome"], outcome, "{report}");
        assert!(report["series"].is_null() || series.is_valid(&report["series"]));
    }
}

#[test]
fn pieces_are_made_from_a_series_file_and_from_a_link() {
    let folder = TempDir::new().unwrap();
    let run = |source: &str, more: &[&str], out: &str| {
        let out = folder.path().join(out);
        let arguments = [&["make", source, "-o", out.to_str().unwrap()], more].concat();
        let run = loftkin(&arguments, "");
        assert_eq!(run.code, 0, "{}", run.err);
        fs::read_to_string(out.join("manifest.csv")).unwrap()
    };
    let options = [
        "--placement",
        "ring",
        "--at",
        "0,60,120,180,240,300",
        "--scales",
        "1,1,0.92,1,1,0.92",
        "--all-round",
        "--blend",
        "eased",
        "--no-equal-neighbours",
        "--allow",
        "1:1+3+4+7,4:2+8",
    ];
    let by_options = run(
        AGREE,
        &[&options[..], &["--pieces", "512"]].concat(),
        "options",
    );
    // The chosen piece, unless others are named.
    assert_eq!(run(AGREE, &["--series", SERIES], "file"), by_options);
    let link = loftkin(&["link", AGREE, "--series", SERIES], "").out;
    assert_eq!(run(link.trim(), &[], "link"), by_options);
    let some = run(link.trim(), &["--pieces", "511-513"], "some");
    assert_eq!(some.lines().count(), 4);
    assert!(some.contains(by_options.lines().nth(1).unwrap()));
    // Another way to say the same goes on in the same folder.
    let again = run(AGREE, &["--series", SERIES, "--pieces", "511-513"], "some");
    assert_eq!(again, some);
    let few = ["--at", "0,90", "--allow", "1:1,2:2+3", "--piece", "2"];
    let few = loftkin(&[&["link", AGREE], &few[..]].concat(), "").out;
    assert_eq!(run(few.trim(), &[], "chosen").lines().count(), 2);
    assert_eq!(
        run(few.trim(), &["--pieces", "all"], "all").lines().count(),
        3
    );
}
