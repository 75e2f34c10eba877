//! The command's promises to people and programs: exit codes, sentences, the
//! structure of its reports.

mod common;

use common::{demo_folder, loftkin};
use serde_json::{Value, json};

/// A family of open profiles through the given nodes, as JSON.
fn family(settings: Value, profiles: &[&[[f64; 2]]]) -> String {
    let profiles: Vec<Value> = profiles
        .iter()
        .map(|nodes| json!({"nodes": nodes}))
        .collect();
    json!({"format": "loftkin-family", "version": 1, "unit": "mm", "grid": 0.01,
        "settings": settings, "profiles": profiles})
    .to_string()
}

const LINE: &[[f64; 2]] = &[[0.0, 0.0], [90.0, 10.0]];
const BENT: &[[f64; 2]] = &[[0.0, 0.0], [50.0, 30.0], [90.0, 40.0]];
/// Another bent line, drawn from its other end: the loft to it must fold.
const BACK: &[[f64; 2]] = &[[90.0, 42.0], [48.0, 33.0], [0.0, 5.0]];

#[test]
fn exit_codes_tell_the_verdict() {
    let code = |text: &str, more: &[&str]| {
        let mut arguments = vec!["check", "--brief", "-"];
        arguments.extend(more);
        loftkin(&arguments, text).code
    };
    let clear = family(json!({}), &[LINE, BENT]);
    assert_eq!(code(&clear, &[]), 0);
    assert_eq!(code(&family(json!({}), &[BENT, BACK]), &[]), 1);
    assert_eq!(
        code(&clear, &["--pacing", "node"]),
        3,
        "counts differ, so unproven"
    );
    assert_eq!(code(&clear, &["--twist-limit", "0.1"]), 1);
    assert_eq!(code("", &[]), 2);
    assert_eq!(code("{}", &[]), 2);
    assert_eq!(code(&clear, &["--twist-limit", "180"]), 2);
    assert_eq!(code(&clear, &["--twist-limit", "many"]), 2);
    assert_eq!(code(&family(json!({}), &[]), &[]), 2, "an empty family");
}

#[test]
fn a_family_that_fails_three_at_once_has_an_exit_code_of_its_own() {
    let file = "rims-by-thirds.json";
    assert_eq!(loftkin(&["check", "--brief", file], "").code, 0);
    let run = loftkin(&["check", "--any-blend", file], "");
    assert_eq!(run.code, 4, "{}", run.err);
    for part in ["A blend of", "Leave out profile", "may move by"] {
        assert!(run.out.contains(part), "{part} is missing from {}", run.out);
    }
    let agreeing = loftkin(
        &["check", "--brief", "--any-blend", "rims-that-agree.json"],
        "",
    );
    assert_eq!(agreeing.code, 0, "{}", agreeing.out);
}

#[test]
fn a_proof_is_written_for_one_family_only() {
    let path = std::env::temp_dir().join(format!("loftkin-proof-{}.json", std::process::id()));
    let file = path.to_str().unwrap();
    let run = loftkin(
        &["check", "--brief", "--proof", file, "hoods-that-agree.json"],
        "",
    );
    assert_eq!(run.code, 0, "{}", run.err);
    let proof: Value = serde_json::from_str(&std::fs::read_to_string(&path).unwrap()).unwrap();
    std::fs::remove_file(&path).unwrap();
    assert_eq!(proof["claims"][0]["curves"].as_array().unwrap().len(), 8);
    let two = [
        "check",
        "--brief",
        "--proof",
        file,
        "hoods-that-agree.json",
        "wind-vanes.json",
    ];
    assert_eq!(loftkin(&two, "").code, 2);
    assert!(!path.exists());
}

#[test]
fn the_worst_of_several_files_decides_and_all_are_reported() {
    let run = loftkin(
        &[
            "check",
            "--brief",
            "no-such-file.json",
            "hoods-with-faults.json",
            "hoods-that-agree.json",
        ],
        "",
    );
    assert_eq!(run.code, 2);
    assert!(
        run.err.contains("no-such-file.json: cannot be read"),
        "{}",
        run.err
    );
    assert!(
        run.out.contains("Socket hoods") && run.out.contains("west promenade"),
        "{}",
        run.out
    );
    let run = loftkin(
        &[
            "check",
            "--brief",
            "hoods-with-faults.json",
            "hoods-that-agree.json",
        ],
        "",
    );
    assert_eq!(run.code, 1);
}

#[test]
fn wrong_use_is_explained() {
    for arguments in [
        &["check"][..],
        &["check", "-", "--pacing", "speed"],
        &["mend"],
        &[],
    ] {
        let run = loftkin(arguments, "");
        assert_eq!(run.code, 2, "{arguments:?}");
        assert!(
            run.err.contains("--help") || run.err.contains("Usage"),
            "{}",
            run.err
        );
    }
    assert_eq!(loftkin(&["check", "--help"], "").code, 0);
}

#[test]
fn damaged_and_foreign_links_are_told_apart() {
    let link = loftkin(&["link", "hoods-that-agree.json"], "").out;
    let link = link.trim();
    let cut = loftkin(&["check", &link[..link.len() - 9]], "");
    assert_eq!(cut.code, 2);
    assert!(cut.err.contains("cut short"), "{}", cut.err);
    let changed = link.replace(
        &link[100..101],
        if &link[100..101] == "A" { "B" } else { "A" },
    );
    let damaged = loftkin(&["check", &changed], "");
    assert_eq!(damaged.code, 2);
    assert!(
        damaged.err.contains("damaged") || damaged.err.contains("cut short"),
        "{}",
        damaged.err
    );
}

#[test]
fn the_text_names_fault_place_and_remedy_without_colour_in_a_pipe() {
    let run = loftkin(&["check", "-"], &family(json!({}), &[BENT, BACK]));
    assert!(!run.out.contains('\u{1b}'), "escape codes in a pipe");
    for part in [
        "Folds:",
        " along",
        " across",
        " mm",
        "Reverse profile 2",
        "1 pair: 0 clear, 1 faulty",
    ] {
        assert!(
            run.out.contains(part),
            "\"{part}\" is missing in:\n{}",
            run.out
        );
    }
    assert!(
        run.out.lines().all(|line| line.chars().count() <= 96),
        "{}",
        run.out
    );
}

#[test]
fn many_profiles_are_shown_by_letters_with_a_legend() {
    let rows: Vec<[[f64; 2]; 2]> = (0..12)
        .map(|k| [[0.0, 0.0], [90.0, f64::from(k)]])
        .collect();
    let profiles: Vec<&[[f64; 2]]> = rows.iter().map(|row| &row[..]).collect();
    let run = loftkin(&["check", "--brief", "-"], &family(json!({}), &profiles));
    assert_eq!(run.code, 0);
    assert!(run.out.contains(". clear  F fold"), "{}", run.out);
}

#[test]
fn names_cannot_steer_the_terminal() {
    let text = family(json!({}), &[BENT, BACK]).replace(
        "\"nodes\"",
        "\"name\": \"\\u001b[2J\\u202eevil\", \"nodes\"",
    );
    let run = loftkin(&["check", "-"], &text);
    assert!(run.out.contains("evil"));
    assert!(!run.out.contains(['\u{1b}', '\u{202e}']), "{}", run.out);
}

/// The published structure, by a library of JSON Schema, on every kind of run.
#[test]
fn reports_keep_to_their_schema() {
    let schema: Value = serde_json::from_str(include_str!("../check-report.schema.json")).unwrap();
    assert!(jsonschema::draft202012::meta::is_valid(&schema));
    let schema = jsonschema::draft202012::new(&schema).unwrap();
    let invalid = family(json!({}), &[LINE, &[[0.0, 0.0], [0.0, 0.0]]]);
    let loop_of = [[0.0, 0.0], [60.0, 0.0], [60.0, 60.0], [30.0, -60.0]];
    let crossed = family(json!({}), &[LINE, &loop_of]);
    let counts = family(json!({"pacing": "node"}), &[LINE, BENT]);
    let runs = [
        loftkin(
            &[
                "check",
                "--json",
                "hoods-with-faults.json",
                "rims-with-turned-seams.json",
            ],
            "",
        ),
        loftkin(
            &[
                "check",
                "--json",
                "ring-through-the-axis.json",
                "wind-vanes.txt",
                "no-such-file",
            ],
            "",
        ),
        loftkin(&["check", "--json", "--brief", "rims-that-agree.json"], ""),
        loftkin(
            &["check", "--json", "--node-margins", "-"],
            &triangles("parameter"),
        ),
        loftkin(
            &["check", "--json", "--node-margins", "-"],
            &triangles("node"),
        ),
        loftkin(&["check", "--json", "-"], &invalid),
        loftkin(&["check", "--json", "-"], &crossed),
        loftkin(&["check", "--json", "-"], &counts),
    ];
    for run in runs {
        let report: Value = serde_json::from_str(&run.out).unwrap();
        let problems: Vec<String> = schema
            .iter_errors(&report)
            .map(|error| format!("{}: {error}", error.instance_path()))
            .collect();
        assert!(problems.is_empty(), "{problems:?}");
    }
}

#[test]
fn families_are_written_in_other_forms_and_read_back() {
    let svg = loftkin(&["write", "hoods-that-agree.json", "--as", "svg"], "");
    let back = loftkin(&["check", "--brief", "-"], &svg.out);
    assert_eq!((svg.code, back.code), (0, 0), "{}", back.err);
    let family = loftkin(&["write", "hoods-that-agree.json"], "");
    let kept = std::fs::read_to_string(demo_folder().join("hoods-that-agree.json")).unwrap();
    assert_eq!(family.out, kept);
    let list = loftkin(&["write", "wind-vanes.txt", "--scale", "240"], "");
    assert!(list.out.contains("\"Vane, NACA 0012\""), "{}", list.out);
    assert!(list.err.contains("rounded to the grid"), "{}", list.err);
}

/// A list may begin with a minus sign, and the option behind it is still read.
#[test]
fn lists_that_begin_with_a_minus_are_read() {
    let order = [
        "series",
        "rims-that-agree.json",
        "--turns",
        "-5,5",
        "--at",
        "-10,20",
        "--shifts-x",
        "-3,0",
        "--json",
    ];
    let joined = [
        "series",
        "rims-that-agree.json",
        "--turns=-5,5",
        "--at=-10,20",
        "--shifts-x=-3,0",
        "--json",
    ];
    let run = loftkin(&order, "");
    assert_eq!(run.code, 0, "{}", run.err);
    let report: Value = serde_json::from_str(&run.out).unwrap();
    assert_eq!(report["series"]["stations"][0]["at"], -10.0);
    assert_eq!(run.out, loftkin(&joined, "").out);
    // What cannot be is refused by the option itself, in words of its own.
    let refused = loftkin(&["mend", "rims-that-agree.json", "--margin", "-1"], "");
    assert_eq!(refused.code, 2);
    assert!(
        refused.err.contains("0 or a positive length"),
        "{}",
        refused.err
    );
    let refused = loftkin(&["series", "rims-that-agree.json", "--piece", "-4"], "");
    assert!(
        refused.err.contains("a whole number from 1"),
        "{}",
        refused.err
    );
}

/// Two triangles, all corners, two of them at .662 and .663 along.
fn triangles(pacing: &str) -> String {
    let triangle = |at: [[f64; 2]; 3]| {
        let nodes = at.map(|[x, y]| json!([x, y, "corner"]));
        json!({"closed": true, "nodes": nodes})
    };
    json!({"format": "loftkin-family", "version": 1, "unit": "mm", "grid": 0.01,
    "settings": {"pacing": pacing, "twist_limit": 179.9}, "profiles": [
        triangle([[17.38, 160.16], [-129.79, -48.33], [118.51, -76.64]]),
        triangle([[170.78, -1.13], [-54.73, 128.51], [-60.15, -132.2]]),
    ]})
    .to_string()
}

/// The corners change places, and the pair folds, when nodes move by .41 mm; the
/// margin of the surface is 14.20 mm.
#[test]
fn the_margin_of_the_nodes_is_told_beside_that_of_the_surface() {
    let run = |more: &[&str]| {
        let arguments = [&["check", "--node-margins", "-"], more].concat();
        loftkin(&arguments, &triangles("parameter")).out
    };
    let report: Value = serde_json::from_str(&run(&["--json"])).unwrap();
    let pair = &report["families"][0]["cells"][1];
    let surface = pair["finding"]["margin"]["mm"].as_f64().unwrap();
    let broken = pair["nodes"]["broken"]["mm"].as_f64().unwrap();
    assert!(14.0 < surface && broken < 0.42, "{pair}");
    assert_eq!(pair["nodes"]["proved"], Value::Null);
    assert_eq!(pair["nodes"]["swaps"][0]["breaks"], true);
    let text = run(&[]).replace("\n    ", " ");
    for part in ["at a kept pace", "nothing is proved of them", "swap them"] {
        assert!(text.contains(part), "{part} is missing from {text}");
    }
}

/// `loftkin … 2>&1 | head` closes the pipe early.
#[test]
fn a_reader_that_has_left_is_no_error() {
    let (reader, writer) = std::io::pipe().expect("a pipe");
    drop(reader);
    let family = demo_folder().join("hoods-that-agree.json");
    let series = demo_folder().join("hoods-round-the-lantern.series.json");
    let ended = std::process::Command::new(env!("CARGO_BIN_EXE_loftkin"))
        .args(["finish", "--stops", "180:20,0:90"])
        .arg(family)
        .arg("--series")
        .arg(series)
        .stdout(std::process::Stdio::null())
        .stderr(writer)
        .status()
        .expect("the command runs");
    assert_eq!(ended.code(), Some(0));
}
