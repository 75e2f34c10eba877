//! Proof files against an independent checker: `tests/certificate/check_proof.py` verifies them in exact rational
//! arithmetic (Python's own `fractions`), and refuses every one that was tampered with.

use loftkin_exchange::{family_json, proof_file};
use loftkin_kernel::family::{Family, Pacing, Settings, TenthsOfDegree};
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Node, Outline, PathSpan, Profile};
use loftkin_kernel::table::Table;
use serde_json::{Value, json};
use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};

const CHECKER: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/../../tests/certificate/check_proof.py"
);

/// Runs the checker over `document`.
fn checked(document: &Value) -> Output {
    checked_text(&document.to_string(), None)
}

/// Runs the checker over the proof file `text`, handed in by a pipe, and against the family file at `family`.
fn checked_text(text: &str, family: Option<&Path>) -> Output {
    let mut checker = Command::new("python3")
        .args([CHECKER, "/dev/stdin"])
        .args(family)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("python3 runs the checker");
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

/// A corner without a handle on either side, in one of the curves or in both, beside a plain one.
#[test]
fn corners_without_handles_on_both_sides_are_proved() {
    let at = |x: i32, y: i32| GridPoint::new(x, y);
    let hood = |lean: i32, before: GridPoint, after: GridPoint| Profile {
        name: String::new(),
        closed: false,
        outline: Outline::Path {
            start: at(0, 0),
            spans: vec![
                PathSpan::Cubic {
                    first: at(lean, 1500),
                    second: before,
                    to: at(lean, 4000),
                },
                PathSpan::Cubic {
                    first: after,
                    second: at(1900, 1000),
                    to: at(3000, 600),
                },
            ],
        },
    };
    let bare = |lean: i32| hood(lean, at(lean, 4000), at(lean, 4000));
    let handled = |lean: i32| hood(lean, at(lean, 2900), at(lean + 400, 2900));
    for profiles in [
        vec![bare(-3000)],
        vec![bare(0), bare(-3000)],
        vec![bare(0), handled(-3000)],
        vec![bare(0), bare(-3000), handled(300)],
    ] {
        let document = paced(profiles, Pacing::Node);
        assert!(document.to_string().contains("charts"));
        assert_proved(&document, 1);
    }
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
    assert_refused(&document, "does not run forward");
}

/// What the file says of the family must be what its curves are.
#[test]
fn a_curve_of_another_family_is_refused() {
    let whole = proof(hoods());
    let changed = |place: &str, change: fn(f64) -> f64| {
        let mut document = whole.clone();
        let number = document.pointer_mut(place).expect("a number");
        *number = json!(change(number.as_f64().unwrap()));
        document
    };
    let joint = changed("/curves/1/points/3/0", f64::next_up);
    assert_refused(&joint, "a joint is not where its profile has it");
    let handle = changed("/curves/1/points/4/0", |x| x + 1e-4);
    assert_refused(&handle, "a handle is not that of the spline");
    let paced = changed("/curves/1/breaks/2", |u| u + 1e-9);
    assert_refused(&paced, "not paced as the family says");
    let node = changed("/family/profiles/1/nodes/2/0", |x| x + 0.01);
    assert_refused(&node, "a joint is not where");

    let mut document = whole.clone();
    document["family"]["settings"]["pacing"] = json!("node");
    assert_refused(&document, "not paced as the family says");
    document["family"]["settings"]["pacing"] = json!("even");
    assert_refused(&document, "the pacing is");
    let mut document = whole.clone();
    document["family"]["profiles"][1]["nodes"][2] = json!([46.0, 51.0]);
    assert_refused(&document, "a handle is not that of the spline");
    let mut document = whole.clone();
    document["family"]["profiles"]
        .as_array_mut()
        .unwrap()
        .swap(0, 1);
    assert_refused(&document, "a joint is not where");
    let mut document = whole;
    document["curves"].as_array_mut().unwrap().pop();
    assert_refused(&document, "a profile has no curve");
}

#[test]
fn a_path_of_another_family_is_refused() {
    let at = |x: i32, y: i32| GridPoint::new(x, y);
    let hood = |lean: i32| Profile {
        name: String::new(),
        closed: false,
        outline: Outline::Path {
            start: at(0, 0),
            spans: vec![
                PathSpan::Line { to: at(lean, 4000) },
                PathSpan::Cubic {
                    first: at(500 + lean, 6000),
                    second: at(3000, 7000),
                    to: at(5000, 6500),
                },
            ],
        },
    };
    let whole = proof(vec![hood(0), hood(-700)]);
    assert_proved(&whole, 1);
    let mut document = whole.clone();
    document["family"]["profiles"][0]["path"]["spans"][1]["cubic"][1] = json!([30.01, 70]);
    assert_refused(&document, "a handle is not where its profile has it");
    // The same two ends by another way: a line is paced evenly, a cubic as its handles say.
    let mut document = whole;
    document["family"]["profiles"][0]["path"]["spans"][0] =
        json!({"cubic": [[0, 10], [0, 30], [0, 40]]});
    assert_refused(&document, "a handle is not where its profile has it");
}

#[test]
fn a_claim_that_names_no_curves_of_the_family_is_refused() {
    let whole = proof(hoods());
    let claiming = |curves: Value| {
        let mut document = whole.clone();
        document["claims"][0]["curves"] = curves;
        document
    };
    assert_refused(&claiming(json!([])), "names no curve");
    assert_refused(&claiming(json!([0, -1])), "not there");
    assert_refused(&claiming(json!([0, 3])), "not there");
    assert_refused(&claiming(json!([0, 1.0])), "not there");
    assert_refused(&claiming(json!([false, true])), "not there");
    assert_refused(&claiming(json!(["0", "1"])), "not there");
    assert_refused(&claiming(json!([1, 1])), "twice");
    let mut document = whole.clone();
    document["claims"] = json!([]);
    assert_refused(&document, "claims nothing");
    let mut document = whole.clone();
    document["claims"][0]["holds"] = json!(true);
    assert_refused(&document, "fields other than");
    let mut document = whole.clone();
    document["version"] = json!(1);
    assert_refused(&document, "version 2");
    let text = whole.to_string();
    let twice = text.replacen("\"version\":2", "\"version\":2,\"version\":2", 1);
    assert!(twice.len() > text.len());
    let output = checked_text(&twice, None);
    let complaint = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(complaint.contains("twice in one record"), "{complaint}");
}

/// A family file beside the proof must be the very family: its names, order, settings and nodes.
#[test]
fn a_proof_is_about_the_family_that_is_given() {
    let table = |change: fn(&mut Family)| {
        let mut family = Family {
            name: "Quay".to_owned(),
            profiles: hoods(),
            ..Family::default()
        };
        family.profiles[0].name = "Bell".to_owned();
        change(&mut family);
        Table::new(family).expect("a family")
    };
    let text = proof_file::write(&table(|_| ())).text;
    let against = |change: fn(&mut Family)| {
        let file = tempfile::NamedTempFile::new().expect("a file");
        std::fs::write(file.path(), family_json::write(table(change).family())).expect("written");
        let output = checked_text(&text, Some(file.path()));
        let said = [output.stdout, output.stderr].concat();
        (
            output.status.success(),
            String::from_utf8(said).expect("text"),
        )
    };
    let (holds, said) = against(|_| ());
    assert!(
        holds && said.contains("\"Quay\"") && said.contains("1 \"Bell\""),
        "{said}"
    );
    let others: [fn(&mut Family); 5] = [
        |family| family.name.push('s'),
        |family| family.profiles[0].name.push('s'),
        |family| family.profiles.swap(1, 2),
        |family| family.settings.twist_limit = TenthsOfDegree(450),
        |family| family.profiles.truncate(2),
    ];
    for other in others {
        let (holds, said) = against(other);
        assert!(!holds && said.contains("another family"), "{said}");
    }
}

#[test]
fn a_cut_outside_its_stretch_is_refused() {
    let mut document = proof(vec![square(5000, 10.0), square(6000, 140.0)]);
    document["claims"][0]["roots"][0]["at"] = json!([0.75]);
    assert_refused(&document, "outside itself");
}
