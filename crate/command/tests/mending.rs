//! The promises of the order `mend`: what it writes is proved, what it cannot
//! mend it leaves alone, and what it says fits what it did.

mod common;

use common::loftkin;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// Three hoods; the second leans so far that its lofts twist beyond the limit.
const HOODS: [[[f64; 2]; 5]; 3] = [
    [
        [0.0, 0.0],
        [15.0, 30.0],
        [40.0, 42.0],
        [65.0, 30.0],
        [80.0, 0.0],
    ],
    [
        [0.0, 0.0],
        [45.0, 25.0],
        [30.0, 45.0],
        [68.0, 32.0],
        [80.0, 0.0],
    ],
    [
        [0.0, 0.0],
        [14.0, 28.0],
        [41.0, 40.0],
        [64.0, 29.0],
        [80.0, 0.0],
    ],
];

/// A folder with the hoods in it, and the path of their file.
fn folder() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("hoods.json");
    let profiles: Vec<Value> = HOODS.iter().map(|nodes| json!({"nodes": nodes})).collect();
    let family = json!({"format": "loftkin-family", "version": 1, "unit": "mm", "grid": 0.01,
        "settings": {}, "profiles": profiles});
    std::fs::write(&path, family.to_string()).unwrap();
    (folder, path)
}

fn text(path: &Path) -> &str {
    path.to_str().unwrap()
}

fn report(arguments: &[&str]) -> (i32, Value) {
    let run = loftkin(arguments, "");
    let report = serde_json::from_str(&run.out);
    (
        run.code,
        report.unwrap_or_else(|error| panic!("{error}: {}{}", run.out, run.err)),
    )
}

/// Names of all that is in `folder`.
fn names(folder: &TempDir) -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(folder.path())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

/// Every node of a family file, as (profile, node, x, y).
fn nodes(path: &Path) -> Vec<(usize, usize, f64, f64)> {
    let family: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let mut nodes = Vec::new();
    for (profile, drawn) in family["profiles"].as_array().unwrap().iter().enumerate() {
        for (node, at) in drawn["nodes"].as_array().unwrap().iter().enumerate() {
            let coordinate = |axis: usize| at[axis].as_f64().unwrap();
            nodes.push((profile + 1, node + 1, coordinate(0), coordinate(1)));
        }
    }
    nodes
}

#[test]
fn a_mended_family_is_clear_when_checked_again() {
    let (folder, hoods) = folder();
    let out = folder.path().join("mended.json");
    let run = loftkin(&["mend", text(&hoods), "--out", text(&out)], "");
    assert_eq!(run.code, 0, "{}{}", run.out, run.err);
    for part in ["the farthest by", " mm", "Proved: ", "Written to "] {
        assert!(run.out.contains(part), "{part} is missing in:\n{}", run.out);
    }
    assert_eq!(loftkin(&["check", "--brief", text(&hoods)], "").code, 1);
    assert_eq!(loftkin(&["check", "--brief", text(&out)], "").code, 0);
    assert_eq!(names(&folder), ["hoods.json", "mended.json"]);
}

/// The distances told are those between the two files.
#[test]
fn the_report_tells_what_the_files_show() {
    let (folder, hoods) = folder();
    let out = folder.path().join("mended.json");
    let (code, report) = report(&[
        "mend",
        "--json",
        "--no-remedies",
        text(&hoods),
        "-o",
        text(&out),
    ]);
    assert_eq!(code, 0, "{report}");
    let before = nodes(&hoods);
    let mut moved = Vec::new();
    for (old, new) in before.iter().zip(nodes(&out)) {
        let (right, up) = (new.2 - old.2, new.3 - old.3);
        if (right, up) != (0.0, 0.0) {
            moved.push((old.0 as u64, old.1 as u64, right, up));
        }
    }
    let told = report["moves"].as_array().unwrap();
    assert_eq!(told.len(), moved.len());
    for (told, (profile, node, right, up)) in told.iter().zip(moved) {
        assert_eq!(told["profile"], profile);
        assert_eq!(
            (&told["point"], &told["number"]),
            (&"node".into(), &node.into())
        );
        let near = |name: &str, value: f64| (told[name].as_f64().unwrap() - value).abs() < 1e-9;
        assert!(
            near("right", right) && near("up", up) && near("distance", right.hypot(up)),
            "{told}"
        );
    }
}

#[test]
fn what_is_clear_is_written_as_it_is() {
    let (folder, _hoods) = folder();
    let out = folder.path().join("same.json");
    let (code, report) = report(&["mend", "--json", "hoods-that-agree.json", "-o", text(&out)]);
    assert_eq!(
        (code, &report["outcome"]),
        (0, &"already-clear".into()),
        "{report}"
    );
    let before = common::demo_folder().join("hoods-that-agree.json");
    assert_eq!(nodes(&out), nodes(&before));
}

#[test]
fn the_margin_asked_for_is_proved_by_check() {
    let (folder, hoods) = folder();
    let out = folder.path().join("mended.json");
    let (code, mended) = report(&[
        "mend",
        "--json",
        text(&hoods),
        "--margin",
        "0.1",
        "-o",
        text(&out),
    ]);
    assert_eq!(code, 0, "{mended}");
    assert!(0.1 <= mended["margin"].as_f64().unwrap());
    let (_, checked) = report(&["check", "--json", text(&out)]);
    for cell in checked["families"][0]["cells"].as_array().unwrap() {
        if cell["first"] != cell["second"] {
            let margin = cell["finding"]["margin"]["mm"].as_f64().unwrap();
            assert!(
                0.1 <= margin,
                "{} with {}: {margin}",
                cell["first"],
                cell["second"]
            );
        }
    }
}

#[test]
fn what_is_held_stays() {
    let (folder, hoods) = folder();
    let out = folder.path().join("mended.json");
    let (_, checked) = report(&["check", "--json", "--brief", text(&hoods)]);
    let cells = checked["families"][0]["cells"].as_array().unwrap();
    let faulty = |cell: &&Value| cell["verdict"] == "faulty" && cell["first"] != cell["second"];
    let cell = cells.iter().find(faulty).unwrap();
    let pair = format!("{}-{}", cell["first"], cell["second"]);
    let only = cell["second"].to_string();
    let pin = format!("{only}:2");
    let arguments = [
        "mend",
        "--json",
        text(&hoods),
        "--pair",
        &pair,
        "--only",
        &only,
        "--pin",
        &pin,
        "--keep-ends",
        "--no-remedies",
        "--nearest",
        "-o",
        text(&out),
    ];
    let (_, report) = report(&arguments);
    assert_eq!(report["asked"]["pairs"][0][0], cell["first"], "{report}");
    let before = nodes(&hoods);
    let last = before
        .iter()
        .filter(|node| node.0.to_string() == only)
        .count();
    for (old, new) in before.iter().zip(nodes(&out)) {
        let held = old.0.to_string() != only || [1, 2, last].contains(&old.1);
        assert!(!held || *old == new, "{old:?} moved to {new:?}");
    }
}

#[test]
fn without_a_mend_nothing_is_written_unless_the_nearest_is_wanted() {
    let (folder, hoods) = folder();
    let out = folder.path().join("mended.json");
    // No hood of 80 mm can be clear by 400 mm.
    let asked = [
        "mend",
        text(&hoods),
        "--json",
        "--margin",
        "400",
        "-o",
        text(&out),
    ];
    let (code, first) = report(&asked);
    assert_eq!(
        (code, &first["outcome"]),
        (1, &"not-found".into()),
        "{first}"
    );
    assert_eq!(
        (&first["written"], &first["proved"]),
        (&Value::Null, &false.into())
    );
    assert!(!first["pairs_open"].as_array().unwrap().is_empty());
    assert_eq!(names(&folder), ["hoods.json"]);
    let (code, second) = report(&[&asked[..], &["--nearest"]].concat());
    assert_eq!(code, 1);
    assert_eq!(second["written"], text(&out));
    assert_eq!(names(&folder), ["hoods.json", "mended.json"]);
}

#[test]
fn a_file_that_is_there_is_kept_unless_asked() {
    let (_folder, own) = folder();
    let before = std::fs::read(&own).unwrap();
    let run = loftkin(&["mend", text(&own), "-o", text(&own)], "");
    assert_eq!(run.code, 2);
    assert!(run.err.contains("--overwrite"), "{}", run.err);
    assert_eq!(std::fs::read(&own).unwrap(), before);
    let run = loftkin(&["mend", text(&own), "-o", text(&own), "--overwrite"], "");
    assert_eq!(run.code, 0, "{}", run.err);
    assert_eq!(loftkin(&["check", "--brief", text(&own)], "").code, 0);
}

#[test]
fn standard_output_gives_the_family_and_nothing_else() {
    let (_folder, hoods) = folder();
    let run = loftkin(&["mend", text(&hoods), "-o", "-"], "");
    assert_eq!(run.code, 0, "{}", run.err);
    assert!(run.err.contains("Proved: "), "{}", run.err);
    assert_eq!(loftkin(&["check", "--brief", "-"], &run.out).code, 0);
}

#[test]
fn what_cannot_be_asked_is_explained() {
    let (folder, hoods) = folder();
    let nowhere = folder.path().join("no-such-folder/mended.json");
    let drawing = PathBuf::from("mended.svg");
    let cases: [(&[&str], &str); 11] = [
        (&["--any-blend", "--pair", "1-2"], "cannot be used with"),
        (&["--pair", "2"], "as 2-5"),
        (&["--pair", "0-1"], "as 2-5"),
        (&["--pair", "1-99"], "no profile 99"),
        (&["--pair", "2-2"], "not profile 2 twice"),
        (&["--pin", "1:999"], "no node 999"),
        (&["--margin=-1"], "0 or a positive length"),
        (&["--weight", "1:0"], "above 0"),
        (&["-o", text(&nowhere)], "could not be written"),
        (&["-o", text(&drawing)], "does not hold a family exactly"),
        (&["--overwrite"], "--out"),
    ];
    for (more, part) in cases {
        let run = loftkin(&[&["mend", text(&hoods)], more].concat(), "");
        assert_eq!(run.code, 2, "{more:?}: {}", run.err);
        assert!(run.err.contains(part), "{part} is missing in: {}", run.err);
    }
}

#[test]
fn a_family_that_fails_three_at_once_is_mended_for_any_blend() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("mended.json");
    let file = "rims-by-thirds.json";
    assert_eq!(
        loftkin(&["check", "--brief", "--any-blend", file], "").code,
        4
    );
    let run = loftkin(&["mend", "--any-blend", file, "-o", text(&out)], "");
    assert_eq!(run.code, 0, "{}{}", run.out, run.err);
    assert!(run.out.contains("Any blend of any profiles"), "{}", run.out);
    let arguments = ["check", "--brief", "--any-blend", text(&out)];
    assert_eq!(loftkin(&arguments, "").code, 0);
}

/// Seams turned and a profile drawn from the other end: several changes that cost
/// nothing come before any movement.
#[test]
fn free_changes_are_taken_one_after_the_other() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("mended.json");
    let file = "rims-with-turned-seams.json";
    let (code, report) = report(&["mend", "--json", file, "-o", text(&out)]);
    assert_eq!(
        (code, &report["outcome"]),
        (0, &"remedy".into()),
        "{report}"
    );
    assert!(1 < report["remedies"].as_array().unwrap().len(), "{report}");
    assert_eq!(report["moves"], json!([]));
    assert_eq!(loftkin(&["check", "--brief", text(&out)], "").code, 0);
}

/// The published structure, by a library of JSON Schema, on every kind of run.
#[test]
fn reports_keep_to_their_schema() {
    let schema: Value = serde_json::from_str(include_str!("../mend-report.schema.json")).unwrap();
    assert!(jsonschema::draft202012::meta::is_valid(&schema));
    let schema = jsonschema::draft202012::new(&schema).unwrap();
    let (_folder, hoods) = folder();
    let runs: [(&[&str], &str); 7] = [
        (
            &["rims-by-thirds.json", "--any-blend", "--margin", "400"],
            "not-found",
        ),
        (&[text(&hoods)], "moved"),
        (&["hoods-with-faults.json", "--pair", "1-5"], "remedy"),
        (&["hoods-that-agree.json"], "already-clear"),
        (&[text(&hoods), "--margin", "400"], "not-found"),
        (&[text(&hoods), "--pair", "1-99"], "problem"),
        (&["no-such-file.json"], "problem"),
    ];
    for (arguments, outcome) in runs {
        let (_, report) = report(&[&["mend", "--json"], arguments].concat());
        let problems: Vec<String> = schema
            .iter_errors(&report)
            .map(|error| format!("{}: {error}", error.instance_path()))
            .collect();
        assert!(problems.is_empty(), "{problems:?}");
        assert_eq!(report["outcome"], outcome, "{report}");
    }
}

/// Stopped in the middle, it leaves no file, whole or half.
#[cfg(unix)]
#[test]
fn an_interrupt_leaves_nothing_half_written() {
    let (folder, hoods) = folder();
    let out = folder.path().join("mended.json");
    let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_loftkin"))
        .args([
            "mend",
            text(&hoods),
            "--margin",
            "400",
            "--nearest",
            "-o",
            text(&out),
        ])
        .current_dir(common::demo_folder())
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    std::thread::sleep(std::time::Duration::from_millis(40));
    let signal = std::process::Command::new("kill")
        .args(["-INT", &child.id().to_string()])
        .status();
    assert!(signal.unwrap().success());
    let status = child.wait().unwrap();
    // It may have been quicker than the signal, or not yet have listened.
    let stopped = status.code() != Some(1);
    assert_eq!(names(&folder).len() == 1, stopped, "{status:?}");
}

/// Two hoods lean too far and only the first may move: the pairs of the second
/// stay faulty, which is no error of the order.
#[test]
fn pairs_that_nothing_reaches_are_told() {
    let (folder, hoods) = folder();
    let mut family: Value =
        serde_json::from_str(&std::fs::read_to_string(&hoods).unwrap()).unwrap();
    let profiles = family["profiles"].as_array_mut().unwrap();
    profiles.insert(0, profiles[1].clone());
    std::fs::write(&hoods, family.to_string()).unwrap();
    let out = folder.path().join("mended.json");
    let asked = ["mend", text(&hoods), "--json", "--only", "1", "--nearest"];
    let (code, report) = report(&[&asked[..], &["-o", text(&out)]].concat());
    assert_eq!(code, 1, "{report}");
    assert_eq!(report["reason"], "out-of-reach", "{report}");
    let open = report["pairs_open"].as_array().unwrap();
    assert_eq!(open, &[json!([2, 3]), json!([3, 4])], "{report}");
    for (old, new) in nodes(&hoods).iter().zip(nodes(&out)) {
        assert!(old.0 == 1 || *old == new, "{old:?} moved to {new:?}");
    }
}
