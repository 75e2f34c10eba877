//! What the command takes of drawings and lists, and how numbers are typed.

mod common;

use common::loftkin;
use serde_json::Value;

const MIXED: &str = "<svg width=\"99mm\" height=\"99mm\" viewBox=\"0 0 99 99\"><path d=\"M0 0L90 9\"/>\
    <path d=\"M0 20L90 29\"/><path d=\"M0 0L50 0L50 50Z\"/></svg>";

#[test]
fn a_drawing_of_open_and_closed_paths_is_taken_by_choice() {
    let run = loftkin(&["check", "-"], MIXED);
    assert_eq!((run.code, run.out.as_str()), (2, ""));
    assert!(run.err.contains("(2 open, 1 closed)"), "{}", run.err);
    assert!(
        run.err.contains("by --take open or --take closed"),
        "{}",
        run.err
    );
    for (take, count) in [("open", 2), ("closed", 1)] {
        let run = loftkin(&["write", "-", "--take", take], MIXED);
        assert_eq!(run.code, 0, "{}", run.err);
        let family: Value = serde_json::from_str(&run.out).unwrap();
        assert_eq!(family["profiles"].as_array().unwrap().len(), count);
        assert!(run.err.contains("left out, as was chosen"), "{}", run.err);
    }
}

#[test]
fn too_many_profiles_are_bad_input_in_every_form() {
    let list: String = (0..257).map(|n| format!("{n} 0\n{n} 90\n\n")).collect();
    let paths = "<path d=\"M0 0L9 9\"/>".repeat(257);
    for text in [list, format!("<svg>{paths}</svg>")] {
        let run = loftkin(&["check", "-", "--brief"], &text);
        assert_eq!((run.code, run.out.as_str()), (2, ""));
        assert!(
            run.err.contains("257 profiles: keep to 256 at most"),
            "{}",
            run.err
        );
    }
}

#[test]
fn comma_and_point_are_decimal_marks() {
    let places = |at: &str| {
        let run = loftkin(
            &["series", "rims-that-agree.json", "--at", at, "--json"],
            "",
        );
        assert_eq!(run.code, 0, "{at}: {}", run.err);
        let report: Value = serde_json::from_str(&run.out).unwrap();
        let stations = report["series"]["stations"].as_array().unwrap().clone();
        let places = stations
            .iter()
            .map(|station| station["at"].as_f64().unwrap());
        places.collect::<Vec<_>>()
    };
    for at in [
        "0.5;90.5;112.5",
        "0,5;90,5;112,5",
        "0,5 90,5 112,5",
        "0.5,90.5,112.5",
    ] {
        assert_eq!(places(at), [0.5, 90.5, 112.5], "{at}");
    }
    assert_eq!(places("0,90,180"), [0.0, 90.0, 180.0]);
    for (at, words) in [
        ("1.234,5;2000", "“1.234,5” has a second decimal mark"),
        ("0;1e5", "“1e5” has an exponent"),
        ("0;12mm", "“12mm” is no number"),
        ("0, 90,5", "can be read in two ways"),
    ] {
        let run = loftkin(&["series", "rims-that-agree.json", "--at", at], "");
        assert_eq!((run.code, run.out.as_str()), (2, ""));
        assert!(run.err.contains(words), "{at}: {}", run.err);
    }
}
