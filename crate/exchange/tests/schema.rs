//! The published schema, the reader and the writer agree on the family file.
//!
//! The schema is held against JSON Schema draft 2020-12 by a library of that
//! standard; what it refuses the reader refuses or notes, and the other way.

use jsonschema::Validator;
use loftkin_exchange::family_json::{read, write};
use serde_json::{Value, json};

fn schema() -> Validator {
    let text = include_str!("../family.schema.json");
    let schema: Value = serde_json::from_str(text).unwrap();
    assert!(jsonschema::draft202012::meta::is_valid(&schema));
    jsonschema::draft202012::new(&schema).unwrap()
}

fn sound() -> Value {
    json!({
        "format": "loftkin-family", "version": 1, "name": "Hoods", "unit": "mm", "grid": 0.01,
        "settings": {"pacing": "node", "placement": "ring", "twist_limit": 45.5, "crease_limit": 3},
        "profiles": [
            {"name": "Quay", "closed": true, "nodes": [[10, 0], [20.01, 0, "corner"], [12, 9]]},
            {"name": "Mole", "closed": true, "path": {"start": [10, 0], "spans": [
                {"line": [20, 0]}, {"cubic": [[25, 5], [15, 8], [10, 0]]}]}}
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

#[test]
fn a_sound_file_passes_and_so_does_what_is_written() {
    let schema = schema();
    assert!(schema.is_valid(&sound()));
    let import = read(&sound().to_string()).unwrap();
    assert!(import.notes.is_empty(), "{:?}", import.notes);
    let written: Value = serde_json::from_str(&write(&import.family)).unwrap();
    assert!(schema.is_valid(&written), "{written}");
    assert_eq!(read(&written.to_string()), Ok(import));
}

#[test]
fn what_the_schema_refuses_the_reader_refuses_or_notes() {
    let schema = schema();
    let many: Vec<Value> = (0..201).map(|x| json!([x, 0])).collect();
    let broken = [
        ("/format", json!("other")),
        ("/version", json!(2)),
        ("/version", json!("1")),
        ("/unit", json!("inch")),
        ("/grid", json!(0.1)),
        ("/colour", json!("red")),
        ("/settings/pacing", json!("speed")),
        ("/settings/placement", json!("pile")),
        ("/settings/twist_limit", json!(180)),
        ("/settings/twist_limit", json!(0)),
        ("/settings/crease_limit", json!(90.1)),
        ("/settings/limit", json!(1)),
        ("/profiles", json!({})),
        ("/profiles/0/colour", json!("red")),
        ("/profiles/0/name", json!("x".repeat(81))),
        ("/profiles/0/closed", json!("yes")),
        ("/profiles/0/closed", json!(false)),
        ("/profiles/0/nodes", json!([[0, 0], [1, 1]])),
        ("/profiles/0/nodes", json!(many)),
        ("/profiles/0/nodes", json!([[0, 0], [1, 1], [2]])),
        ("/profiles/0/nodes/1", json!([1, 2, "sharp"])),
        ("/profiles/0/nodes/1", json!([1, 2, "corner", 3])),
        ("/profiles/0/nodes/1/0", json!("20")),
        ("/profiles/0/nodes/1/0", json!(100_001)),
        (
            "/profiles/0/path",
            json!({"start": [0, 0], "spans": [{"line": [1, 1]}]}),
        ),
        ("/profiles/1/path", json!(null)),
        ("/profiles/1/path/spans", json!([])),
        ("/profiles/1/path/spans/0", json!({"arc": [1, 1]})),
        ("/profiles/1/path/spans/0", json!({"line": [1, 1, 1]})),
        ("/profiles/1/path/spans/1/cubic", json!([[1, 1], [10, 0]])),
    ];
    for (pointer, value) in broken {
        let file = with(pointer, value);
        assert!(
            !schema.is_valid(&file),
            "the schema lets {pointer} pass: {file}"
        );
        match read(&file.to_string()) {
            Err(error) => assert!(!error.to_string().is_empty()),
            Ok(import) => assert!(
                !import.notes.is_empty(),
                "{pointer} passed unnoticed: {file}"
            ),
        }
    }
}

/// Every family file among the demo families passes the schema and is laid out
/// as this crate writes it.
#[test]
fn demo_families_pass_the_schema() {
    let schema = schema();
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo-curves");
    let mut count = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().and_then(|name| name.to_str()).unwrap();
        let is_family =
            name.ends_with(".json") && !name.ends_with(".series.json") && name != "expected.json";
        if !is_family {
            continue;
        }
        count += 1;
        let text = std::fs::read_to_string(&path).unwrap();
        let file: Value = serde_json::from_str(&text).unwrap();
        let problems: Vec<String> = schema.iter_errors(&file).map(|e| e.to_string()).collect();
        assert!(problems.is_empty(), "{}: {problems:?}", path.display());
        let import = read(&text).unwrap();
        assert!(
            import.notes.is_empty(),
            "{}: {:?}",
            path.display(),
            import.notes
        );
        assert!(
            write(&import.family) == text,
            "{}: not as `loftkin write` lays it out",
            path.display()
        );
    }
    assert!(5 <= count, "only {count} family files found in {folder}");
}
