//! Proof files against an independent checker: `tests/certificate/check_proof.py` verifies them in exact rational
//! arithmetic (Python's own `fractions`), and refuses every one that was tampered with.

use loftkin_exchange::proof_file;
use loftkin_kernel::family::{Family, Pacing, Settings, TenthsOfDegree};
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Node, Outline, PathSpan, Profile};
use loftkin_kernel::table::Table;
use serde_json::{Value, json};
use std::io::Write;
use std::process::{Command, Output, Stdio};

const CHECKER: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/../../tests/certificate/check_proof.py"
);

/// Runs the checker over `document`, handed in by a pipe.
fn checked(document: &Value) -> Output {
    let mut checker = Command::new("python3")
        .args([CHECKER, "/dev/stdin"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("python3 runs the checker");
    let text = document.to_string();
    let mut pipe = checker.stdin.take().expect("a pipe");
    pipe.write_all(text.as_bytes()).expect("the checker reads");
    drop(pipe);
    checker.wait_with_output().expect("the checker ends")
}

fn assert_proved(document: &Value, claims: usize) {
    let output = checked(document);
    let said = String::from_utf8_lossy(&output.stdout);
    let complaint = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{complaint}");
    assert_eq!(said.matches("proved:").count(), claims, "{said}");
}

fn assert_refused(document: &Value, why: &str) {
    let output = checked(document);
    let complaint = String::from_utf8_lossy(&output.stderr);
    assert!(!output.status.success(), "it should refuse: {why}");
    assert!(complaint.contains(why), "{complaint} should say: {why}");
}

fn proof(profiles: Vec<Profile>) -> Value {
    paced(profiles, Pacing::Parameter)
}

fn paced(profiles: Vec<Profile>, pacing: Pacing) -> Value {
    let table = Table::new(Family {
        name: "proof".to_owned(),
        settings: Settings {
            pacing,
            twist_limit: TenthsOfDegree(1799),
            ..Settings::default()
        },
        profiles,
    })
    .expect("a family");
    serde_json::from_str(&proof_file::write(&table).text).expect("JSON")
}

fn hoods() -> Vec<Profile> {
    let hood = |rise: i32, lean: i32| {
        Profile::open(vec![
            Node::smooth(0, 0),
            Node::smooth(2500 + lean, rise),
            Node::corner(4200 + lean, rise + 900),
            Node::smooth(7000, rise / 2),
            Node::smooth(9000, -400),
        ])
    };
    vec![hood(3000, 0), hood(4200, 400), hood(3600, -500)]
}

fn square(half: i32, turn: f64) -> Profile {
    let corner = |k: u32| {
        let angle = (turn + 90.0 * f64::from(k)).to_radians();
        let at = |value: f64| (f64::from(half) * value).round() as i32;
        Node::corner(at(angle.cos()), at(angle.sin()))
    };
    Profile::closed((0..4).map(corner).collect())
}

fn round(radius: i32, turn: f64) -> Profile {
    let node = |k: u32| {
        let angle = (turn + 30.0 * f64::from(k)).to_radians();
        let at = |value: f64| (f64::from(radius) * value).round() as i32;
        Node::smooth(at(angle.cos()), at(angle.sin()))
    };
    Profile::closed((0..12).map(node).collect())
}

#[test]
fn a_family_proved_for_any_blend_is_one_claim() {
    assert_proved(&proof(hoods()), 1);
}

#[test]
fn turned_circles_are_proved_exactly() {
    assert_proved(&proof(vec![round(5000, 0.0), round(6000, 100.0)]), 1);
}

#[test]
fn corners_turned_far_are_proved_by_their_charts() {
    let document = proof(vec![square(5000, 10.0), square(6000, 140.0)]);
    assert!(document.to_string().contains("charts"));
    assert_proved(&document, 1);
}

/// Hoods that end without a handle, one of which also leaves a corner without one;
/// their corners look apart so far that no half-plane holds both.
#[test]
fn ends_without_handles_are_proved() {
    let at = |x: i32, y: i32| GridPoint::new(x, y);
    let hood = |corner: GridPoint, first: GridPoint, second: GridPoint| Profile {
        name: String::new(),
        closed: false,
        outline: Outline::Path {
            start: at(0, 0),
            spans: vec![
                PathSpan::Line { to: corner },
                PathSpan::Cubic {
                    first,
                    second,
                    to: at(5000, 3000),
                },
                PathSpan::Cubic {
                    first: at(6500, 4050),
                    second: at(9000, 0),
                    to: at(9000, 0),
                },
            ],
        },
    };
    let upright = hood(at(0, 4000), at(0, 4000), at(2000, 900));
    let leaning = hood(at(-3000, 3000), at(-2500, 2860), at(-500, 2300));
    let document = paced(vec![upright, leaning], Pacing::Node);
    assert!(document.to_string().contains("charts"));
    assert_proved(&document, 1);
}

#[test]
fn a_family_that_fails_three_is_proved_by_pairs() {
    let thirds = [0.0, 120.0, 240.0].map(|turn| round(5000, turn));
    assert_proved(&proof(thirds.to_vec()), 3);
}

/// The first node below `value` that holds parts, and how to reach the parts.
fn first_parts(value: &mut Value) -> Option<&mut Vec<Value>> {
    let node = value.as_object_mut()?;
    let name = ["parts", "charts", "x", "y"]
        .into_iter()
        .find(|name| node.contains_key(*name))?;
    node.get_mut(name)?.as_array_mut()
}

fn first_direction(value: &mut Value) -> Option<&mut Value> {
    if value
        .as_array()
        .is_some_and(|pair| pair.iter().all(Value::is_number))
    {
        return Some(value);
    }
    match value {
        Value::Array(values) => values.iter_mut().find_map(first_direction),
        Value::Object(members) => {
            let below = members.iter_mut().filter(|(name, _)| *name != "at");
            below.map(|(_, value)| value).find_map(first_direction)
        }
        _ => None,
    }
}

#[test]
fn a_box_left_out_is_refused() {
    let mut document = proof(vec![square(5000, 10.0), square(6000, 140.0)]);
    let roots = document["claims"][0]["roots"].as_array_mut().unwrap();
    first_parts(&mut roots[0])
        .expect("a root that is cut")
        .pop();
    assert_refused(&document, "part is missing");
    let mut document = proof(vec![round(5000, 0.0), round(6000, 20.0)]);
    document["claims"][0]["roots"].as_array_mut().unwrap().pop();
    assert_refused(&document, "a root is missing");
}

#[test]
fn a_direction_turned_is_refused() {
    let mut document = proof(hoods());
    let direction = first_direction(&mut document["claims"][0]["roots"]).expect("a box");
    let (x, y) = (
        direction[0].as_f64().unwrap(),
        direction[1].as_f64().unwrap(),
    );
    *direction = json!([-x, -y]);
    assert_refused(&document, "refused");
}

#[test]
fn a_curve_changed_is_refused() {
    let mut document = proof(hoods());
    let point = &mut document["curves"][1]["points"][4];
    let x = point[0].as_f64().unwrap();
    point[0] = json!(x.next_up());
    assert_refused(&document, "sealed");
}

#[test]
fn a_cut_outside_its_stretch_is_refused() {
    let mut document = proof(vec![square(5000, 10.0), square(6000, 140.0)]);
    document["claims"][0]["roots"][0]["at"] = json!([0.75]);
    assert_refused(&document, "outside itself");
}
