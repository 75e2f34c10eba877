//! The published schema, the reader and the writer agree on the series file.
//!
//! The schema is held against JSON Schema draft 2020-12 by a library of that
//! standard; what it refuses the reader refuses, or the layout and the rules that
//! are made of it.

use jsonschema::Validator;
use loftkin_exchange::series::{read, write};
use serde_json::{Value, json};

fn schema() -> Validator {
    let text = include_str!("../series.schema.json");
    let schema: Value = serde_json::from_str(text).unwrap();
    assert!(jsonschema::draft202012::meta::is_valid(&schema));
    jsonschema::draft202012::new(&schema).unwrap()
}

fn sound() -> Value {
    json!({
        "format": "loftkin-series", "version": 1, "placement": "ring", "all_round": true,
        "blend": "eased", "no_equal_neighbours": true, "piece": "117656",
        "stations": [
            {"at": 0, "scale": 0.5, "right": 20, "up": -3.25, "turn": 15, "profiles": [1, 8]},
            {"at": 90}, {"at": 180.5}
        ]
    })
}

/// The sound file with the value at `pointer` (RFC 6901) replaced, or added to
/// its object.
fn with(pointer: &str, value: Value) -> Value {
    let mut file = sound();
    match file.pointer_mut(pointer) {
        Some(place) => *place = value,
        None => {
            let (parent, field) = pointer.rsplit_once('/').unwrap();
            file.pointer_mut(parent).unwrap()[field] = value;
        }
    }
    file
}

/// Whether a family of 256 profiles could have this series.
fn can_be_used(file: &Value) -> bool {
    let Ok(plan) = read(&file.to_string()) else {
        return false;
    };
    let count = plan.stations.len();
    plan.layout().is_ok() && plan.rules().validate(count, 256).is_ok()
}

#[test]
fn a_sound_file_passes_and_so_does_what_is_written() {
    let schema = schema();
    assert!(schema.is_valid(&sound()));
    assert!(can_be_used(&sound()));
    let plan = read(&sound().to_string()).unwrap();
    let written: Value = serde_json::from_str(&write(&plan)).unwrap();
    assert!(schema.is_valid(&written), "{written}");
    assert_eq!(read(&written.to_string()), Ok(plan));
    let least = json!({"format": "loftkin-series", "version": 1, "placement": "stack",
        "stations": [{"at": -100_000}, {"at": 100_000}]});
    assert!(schema.is_valid(&least));
    assert!(can_be_used(&least));
}

#[test]
fn what_the_schema_refuses_cannot_be_used() {
    let schema = schema();
    let many: Vec<Value> = (0..25).map(|at| json!({"at": at})).collect();
    let broken = [
        ("/format", json!("loftkin-family")),
        ("/version", json!(2)),
        ("/version", json!("1")),
        ("/placement", json!("pile")),
        ("/placement", json!("stack")),
        ("/all_round", json!("yes")),
        ("/blend", json!("cubic")),
        ("/no_equal_neighbours", json!(1)),
        ("/colour", json!("red")),
        ("/piece", json!(117_656)),
        ("/piece", json!("0")),
        ("/piece", json!("07")),
        ("/piece", json!("")),
        ("/piece", json!("9".repeat(1001))),
        ("/stations", json!({})),
        ("/stations", json!([{"at": 0}])),
        ("/stations", json!(many)),
        ("/stations/1", json!({})),
        ("/stations/1", json!(90)),
        ("/stations/1/at", json!("90")),
        ("/stations/2/at", json!(721)),
        ("/stations/0/scale", json!(0)),
        ("/stations/0/scale", json!(1001)),
        ("/stations/0/right", json!(100_001)),
        ("/stations/0/up", json!(-100_001)),
        ("/stations/0/turn", json!(361)),
        ("/stations/0/colour", json!("red")),
        ("/stations/0/profiles", json!([])),
        ("/stations/0/profiles", json!([0])),
        ("/stations/0/profiles", json!([1.5])),
        ("/stations/0/profiles", json!([257])),
        ("/stations/0/profiles", json!("1")),
        ("/stations/0/profiles", json!(null)),
    ];
    for (pointer, value) in broken {
        let file = with(pointer, value);
        assert!(
            !schema.is_valid(&file),
            "the schema lets {pointer} pass: {file}"
        );
        assert!(!can_be_used(&file), "{pointer} can be used: {file}");
    }
}

/// Every series file among the demo families passes the schema and is laid out as
/// this crate writes it.
#[test]
fn demo_series_pass_the_schema() {
    let schema = schema();
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo-curves");
    let mut count = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if !path.to_string_lossy().ends_with(".series.json") {
            continue;
        }
        count += 1;
        let text = std::fs::read_to_string(&path).unwrap();
        let file: Value = serde_json::from_str(&text).unwrap();
        assert!(schema.is_valid(&file), "{}", path.display());
        assert!(can_be_used(&file), "{}", path.display());
        assert_eq!(write(&read(&text).unwrap()), text, "{}", path.display());
    }
    assert!(0 < count, "no demo series found");
}
