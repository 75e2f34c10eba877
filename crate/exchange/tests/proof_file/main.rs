//! Proof files against an independent checker: `tests/certificate/check_proof.py` verifies them in exact rational
//! arithmetic (Python's own `fractions`), and refuses every one that was tampered with.

use loftkin_exchange::proof_file;
use loftkin_kernel::family::{Family, Pacing, Settings, TenthsOfDegree};
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Node, Outline, PathSpan, Profile};
use loftkin_kernel::table::Table;
use serde_json::Value;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};

mod about;
mod forged;

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

/// A narrow slit, open at its left end, turned about its start by degrees.
fn slit(turn: f64) -> Profile {
    let (sine, cosine) = turn.to_radians().sin_cos();
    let corner = |(x, y): (f64, f64)| {
        let at = |value: f64| value.round() as i32;
        Node::corner(at(cosine * x - sine * y), at(sine * x + cosine * y))
    };
    let corners = [(0.0, 0.0), (2626.0, 0.0), (2626.0, 19.0), (0.0, 19.0)];
    Profile::open(corners.map(corner).to_vec())
}

/// A hood whose second span leaves its corner without a handle.
fn bare_after(corner: GridPoint, second: GridPoint) -> Profile {
    let at = |x: i32, y: i32| GridPoint::new(x, y);
    Profile {
        name: String::new(),
        closed: false,
        outline: Outline::Path {
            start: at(0, 0),
            spans: vec![
                PathSpan::Line { to: corner },
                PathSpan::Cubic {
                    first: corner,
                    second,
                    to: at(5000, 3000),
                },
            ],
        },
    }
}

/// The proof of two slits that needs a pencil: one direction a curve.
fn with_pencil() -> Value {
    let turned = (1..18).map(|k| proof(vec![slit(0.0), slit(10.0 * f64::from(k))]));
    let mut documents = turned.filter(|document| document.to_string().contains("pencil"));
    documents.next().expect("slits that need a pencil")
}

/// The proof of two circles turned far, which needs products.
fn with_product() -> Value {
    proof(vec![round(5000, 0.0), round(6000, 175.0)])
}

/// The proof of two corners that both leave without a handle, each with a chart blown up once more.
fn with_corner() -> Value {
    let at = |x: i32, y: i32| GridPoint::new(x, y);
    let upright = bare_after(at(0, 4000), at(2000, 900));
    let leaning = bare_after(at(-3000, 3000), at(-500, 2300));
    paced(vec![upright, leaning], Pacing::Node)
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

/// A corner without a handle on either side, in one of the curves or in both, beside one with handles; turned so
/// far from each other that no half-plane holds them.
#[test]
fn corners_without_handles_on_both_sides_are_proved() {
    let hood = |turn: f64, before: (f64, f64), after: (f64, f64)| {
        let (sine, cosine) = turn.to_radians().sin_cos();
        let at = |(x, y): (f64, f64)| {
            let turned = [cosine * x - sine * y, sine * x + cosine * y];
            GridPoint::new(turned[0].round() as i32, turned[1].round() as i32)
        };
        let span = |first, second, to| PathSpan::Cubic {
            first: at(first),
            second: at(second),
            to: at(to),
        };
        Profile {
            name: String::new(),
            closed: false,
            outline: Outline::Path {
                start: at((0.0, 0.0)),
                spans: vec![
                    span((0.0, 1500.0), before, (0.0, 4000.0)),
                    span(after, (1900.0, 1000.0), (3000.0, 600.0)),
                ],
            },
        }
    };
    let corner = (0.0, 4000.0);
    let bare = |turn: f64| hood(turn, corner, corner);
    let handled = |turn: f64| hood(turn, (0.0, 2900.0), (400.0, 2900.0));
    for profiles in [
        vec![bare(0.0), bare(100.0)],
        vec![bare(0.0), handled(100.0)],
        vec![bare(0.0), bare(50.0), handled(100.0)],
    ] {
        let document = paced(profiles, Pacing::Node);
        assert!(document.to_string().contains("charts"));
        assert_proved(&document, 1);
    }
    assert_proved(&paced(vec![bare(0.0)], Pacing::Node), 1);
}

#[test]
fn a_family_that_fails_three_is_proved_by_pairs() {
    let thirds = [0.0, 120.0, 240.0].map(|turn| round(5000, turn));
    assert_proved(&proof(thirds.to_vec()), 3);
}

/// Each reason stands in a proof that is accepted.
#[test]
fn every_reason_is_proved() {
    for (reason, document) in [
        ("pencil", with_pencil()),
        ("product", with_product()),
        ("corner", with_corner()),
    ] {
        assert!(document.to_string().contains(reason), "{reason}");
        assert_proved(&document, 1);
    }
}

/// Any blend of more than two, cut down to charts.
#[test]
fn any_blend_of_corners_is_one_claim() {
    let squares = [10.0, 60.0, 100.0].map(|turn| square(5000, turn));
    let document = proof(squares.to_vec());
    assert!(document.to_string().contains("charts"));
    assert_proved(&document, 1);
}
