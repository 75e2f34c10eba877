//! Every demo family is judged as `demo-curves/expected.json` says, by the
//! command as a person would run it.

mod common;

use common::{demo_folder, loftkin};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

fn expected() -> BTreeMap<String, Value> {
    let text = std::fs::read_to_string(demo_folder().join("expected.json")).unwrap();
    serde_json::from_str(&text).unwrap()
}

/// The worst fault, or the verdict, of every cell of `report` that is not clear.
fn cells(report: &Value) -> BTreeMap<String, String> {
    let cells = report["families"][0]["cells"].as_array().unwrap();
    cells
        .iter()
        .filter(|cell| cell["verdict"] != "clear")
        .map(|cell| {
            let worst = match cell["faults"][0]["kind"].as_str() {
                Some(kind) => kind,
                None => cell["verdict"].as_str().unwrap(),
            };
            (
                format!("{}-{}", cell["first"], cell["second"]),
                worst.to_owned(),
            )
        })
        .collect()
}

#[test]
fn each_file_is_judged_as_expected() {
    for (file, expected) in expected() {
        let run = loftkin(&["check", "--json", "--brief", &file], "");
        let report: Value = serde_json::from_str(&run.out).unwrap();
        let wanted: BTreeMap<String, String> =
            serde_json::from_value(expected["cells"].clone()).unwrap();
        assert_eq!(cells(&report), wanted, "{file}");
        assert_eq!(
            report["families"][0]["verdict"], expected["verdict"],
            "{file}"
        );
        if let Some(answer) = expected.get("any_blend") {
            assert_eq!(
                &report["families"][0]["any_blend"]["answer"], answer,
                "{file}"
            );
        }
        let code = match expected["verdict"].as_str() {
            Some("clear") => 0,
            Some("faulty") => 1,
            _ => 3,
        };
        assert_eq!(run.code, code, "{file}: {}", run.err);
    }
}

#[test]
fn no_file_is_without_an_expectation() {
    let listed: BTreeSet<String> = expected().into_keys().collect();
    let present: BTreeSet<String> = std::fs::read_dir(demo_folder())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name != "expected.json")
        .filter(|name| !name.ends_with(".md") && !name.ends_with(".series.json"))
        .collect();
    assert_eq!(listed, present);
}

/// Together the files show every kind of fault, so that the page's examples do.
#[test]
fn every_kind_of_fault_is_shown() {
    let shown: BTreeSet<String> = expected()
        .into_values()
        .flat_map(|file| {
            let cells: BTreeMap<String, String> =
                serde_json::from_value(file["cells"].clone()).unwrap();
            cells.into_values()
        })
        .collect();
    let kinds = ["axis", "crease", "crossing", "fold", "twist"].map(str::to_owned);
    assert_eq!(shown, BTreeSet::from(kinds));
}

/// The same family by every way in gives the same report, but for its source.
#[test]
fn file_pipe_and_link_are_judged_alike() {
    for file in [
        "hoods-with-faults.json",
        "rims-that-agree.json",
        "ring-through-the-axis.json",
    ] {
        let judged = |source: &str, input: &str| {
            let run = loftkin(&["check", "--json", source], input);
            let mut report: Value = serde_json::from_str(&run.out).unwrap();
            report["families"][0]["source"].take();
            (run.code, report)
        };
        let text = std::fs::read_to_string(demo_folder().join(file)).unwrap();
        let link = loftkin(&["link", file, "--page", "https://example.org/board/"], "");
        assert_eq!(link.code, 0);
        let by_file = judged(file, "");
        assert_eq!(judged("-", &text), by_file, "{file} by standard input");
        assert_eq!(judged(link.out.trim(), ""), by_file, "{file} by link");
        assert_eq!(
            judged("-", &link.out),
            by_file,
            "{file} by link on standard input"
        );
    }
}
