//! Sharp edges count in the making checks of the order `make`: they are listed, and
//! nothing that goes by a radius is kept over them unless a fillet is asked for.

mod common;

use common::folder::{RIMS, lines, text};
use common::{Run, loftkin};
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// All that a limit can be set for but draft and scallop.
const LIMITS: [&str; 11] = [
    "--gauge",
    "2",
    "--cutter",
    "25",
    "--bend-gauges",
    "5",
    "--flow-stress",
    "8",
    "--most-pressure",
    "0.7",
    "--room",
];

fn make(family: &str, out: &Path, more: &[&str]) -> Run {
    loftkin(&[&["make", family, "-o", text(out)], more].concat(), "")
}

/// The value of `column` in the only line.
fn value(out: &Path, column: &str) -> String {
    let manifest = fs::read_to_string(out.join("manifest.csv")).unwrap();
    let mut header = manifest.lines().next().unwrap().split(',');
    let place = header.position(|name| name == column).unwrap();
    lines(out, "manifest.csv")[0][place].clone()
}

fn figure(out: &Path, column: &str) -> f64 {
    value(out, column).parse().unwrap()
}

/// A round rim drawn in to .3 of itself halfway up and out again: its walls lean by
/// atan(.7 · 150 / 50) = 64.54 degrees, and meet at twice that. A ball of 25 mm stays
/// 25 (1 / cos 64.54° - 1) off the bottom.
#[test]
fn a_waist_is_a_valley_that_nothing_passes() {
    let folder = TempDir::new().unwrap();
    let out = |name: &str| folder.path().join(name);
    let waist = [
        "--at", "0,50,100", "--scales", "1,0.3,1", "--allow", "1:1", "--allow", "2:1", "--allow",
        "3:1",
    ];
    let order = |name: &str, more: &[&str]| {
        let all = [&waist[..], &LIMITS, more].concat();
        make(RIMS, &out(name), &all)
    };
    let run = order("bare", &[]);
    assert_eq!(run.code, 1, "{}{}", run.out, run.err);
    let bare = out("bare");
    for check in ["cutter_radius", "bend_radius", "pressure", "room"] {
        let kept = value(&bare, &format!("{check}_passes"));
        let basis = value(&bare, &format!("{check}_basis"));
        assert_eq!(
            (kept.as_str(), basis.as_str()),
            ("no", "checked"),
            "{check}"
        );
    }
    // The spline through eight nodes of a circle is nowhere a hundredth off it.
    let turn = 2.0 * (0.7_f64 * 150.0 / 50.0).atan().to_degrees();
    assert!(
        (figure(&bare, "valley_turn_deg") - turn).abs() < 0.3,
        "{turn}"
    );
    let left = 25.0 * (1.0 / (turn / 2.0).to_radians().cos() - 1.0);
    assert!((figure(&bare, "valley_left_mm") / left - 1.0).abs() < 0.02);
    let round = std::f64::consts::TAU * 45.0;
    assert!((figure(&bare, "valley_length_mm") / round - 1.0).abs() < 0.05);
    assert_eq!(
        (value(&bare, "valleys"), value(&bare, "ridges")),
        ("1".into(), "0".into())
    );
    assert!(value(&bare, "sharpest_edges").starts_with("valley at station 2 turns 12"));
    assert_eq!(
        (value(&bare, "mould"), value(&bare, "sheet")),
        ("male".into(), "middle".into())
    );
    assert_eq!(value(&bare, "fillet_assumed_mm"), "0");
    let told = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in [
        "Sharp edges stand on 1 of 1 piece",
        "the sharpest valley turns by up to 12",
        "No fillet is assumed",
        "The mould is male",
    ] {
        assert!(told.contains(part), "{part} is missing in: {told}");
    }
    // A fillet of 25 mm begins 25 tan 64.5° = 52.5 mm from the edge; walls are 116 mm.
    let run = order("filleted", &["--fillet", "25"]);
    let filleted = out("filleted");
    assert_eq!(value(&filleted, "fillet_fits"), "yes");
    for check in ["cutter_radius", "bend_radius", "room"] {
        assert_eq!(
            value(&filleted, &format!("{check}_passes")),
            "yes",
            "{check}"
        );
    }
    // 2 σ t / r = 2 · 8 · 2 / 25 MPa.
    assert_eq!(
        (value(&filleted, "pressure_mpa"), run.code),
        ("1.2800".into(), 1)
    );
    let told = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        told.contains("A fillet of 25 mm radius is assumed")
            && told.contains("the files have the sharp edge"),
        "{told}"
    );
    let described = fs::read_to_string(filleted.join("run.json")).unwrap();
    for part in [
        "\"fillet_assumed\": 25.0",
        "\"mould\": \"male\"",
        "\"sheet\": \"middle\"",
    ] {
        assert!(described.contains(part), "{part} is missing in {described}");
    }
    let page = loftkin(&["report", RIMS, "--run", text(&filleted)], "");
    for part in [
        "A fillet of 25 mm radius is assumed",
        "The mould is male",
        "valley turn",
    ] {
        assert!(page.out.contains(part), "{part} is missing in the report");
    }
    // One of 60 mm begins 126 mm from it, beyond the rim.
    let run = order("wide", &["--fillet", "60"]);
    assert_eq!(run.code, 1);
    assert_eq!(value(&out("wide"), "fillet_fits"), "no");
    assert_eq!(value(&out("wide"), "bend_radius_passes"), "no");
    assert!(run.out.contains("does not fit"), "{}", run.out);
    // What is left may be accepted, of the cutter alone.
    let most = format!("{}", left.ceil() + 1.0);
    order("accepted", &["--most-left", &most]);
    assert_eq!(value(&out("accepted"), "cutter_radius_passes"), "yes");
    assert_eq!(value(&out("accepted"), "bend_radius_passes"), "no");
    // From inside the waist is a ridge, and the rim's walls have hollows of their own.
    order("female", &["--mould", "female", "--sheet", "outside"]);
    let female = out("female");
    assert_eq!(
        (value(&female, "valleys"), value(&female, "ridges")),
        ("0".into(), "1".into())
    );
    assert_eq!(
        (value(&female, "mould"), value(&female, "sheet")),
        ("female".into(), "outside".into())
    );
}

/// A family file of one closed profile.
fn family(folder: &TempDir, profile: &serde_json::Value) -> PathBuf {
    let family = serde_json::json!({"format": "loftkin-family", "version": 1, "unit": "mm", "grid": 0.01, "settings": {},
        "profiles": [profile]});
    let path = folder.path().join("family.json");
    fs::write(&path, family.to_string()).unwrap();
    path
}

/// A box of 100 mm with right angles, 60 high: neither bent nor pressed, though all of
/// its faces are flat; with a fillet of 25 mm it is, by 24 mm and .64 MPa.
#[test]
fn a_box_is_neither_bent_nor_pressed() {
    let folder = TempDir::new().unwrap();
    let square = serde_json::json!({"closed": true, "nodes": [
        [50, 50, "corner"], [-50, 50, "corner"], [-50, -50, "corner"], [50, -50, "corner"]]});
    let path = family(&folder, &square);
    let order = |name: &str, more: &[&str]| {
        let out = folder.path().join(name);
        let own = [
            "--at",
            "0,60",
            "--gauge",
            "1",
            "--bend-gauges",
            "2",
            "--flow-stress",
            "8",
            "--most-pressure",
            "0.7",
        ];
        let run = make(text(&path), &out, &[&own[..], more].concat());
        (run, out)
    };
    let (run, out) = order("bare", &[]);
    assert_eq!(run.code, 1, "{}", run.out);
    let kept = |out: &Path| ["bend_radius_passes", "pressure_passes"].map(|name| value(out, name));
    assert_eq!(kept(&out), ["no", "no"]);
    assert_eq!(
        (
            value(&out, "ridges"),
            figure(&out, "ridge_turn_deg").round()
        ),
        ("4".into(), 90.0)
    );
    assert_eq!(figure(&out, "ridge_length_mm").round(), 240.0);
    let (run, out) = order("filleted", &["--fillet", "25", "--sheet", "inside"]);
    assert_eq!(
        (run.code, kept(&out)),
        (0, ["yes", "yes"].map(str::to_owned)),
        "{}",
        run.out
    );
    assert_eq!(
        (value(&out, "bend_radius_mm"), value(&out, "pressure_mpa")),
        ("24.0000".into(), "0.6400".into())
    );
    // A sheet outside has all of the fillet: the ridge is hollow inside only.
    let (_, out) = order("outside", &["--fillet", "25", "--sheet", "outside"]);
    assert_eq!(value(&out, "bend_radius_mm"), "25.0000");
}

/// A cone from 60 to 40 mm of radius over 100 mm has a draft of 11.31 degrees off a male
/// mould that it is drawn up from, and as much undercut in a female one; and it is
/// hollow seen from inside only, most at its narrow end: 40 / cos(11.31°).
#[test]
fn a_cone_by_the_side_of_its_mould() {
    let folder = TempDir::new().unwrap();
    let nodes: Vec<[f64; 2]> = (0..60)
        .map(|k| f64::from(k) * std::f64::consts::TAU / 60.0)
        .map(|a| [a.cos(), a.sin()].map(|part| (6000.0 * part).round() / 100.0))
        .collect();
    let path = family(
        &folder,
        &serde_json::json!({"closed": true, "nodes": nodes}),
    );
    let lean = 0.2_f64.atan();
    for (mould, sign) in [("male", 1.0), ("female", -1.0)] {
        let out = folder.path().join(mould);
        let scales = format!("1,{}", 40.0 / 60.0);
        let run = make(
            text(&path),
            &out,
            &[
                "--at",
                "0,100",
                "--scales",
                &scales,
                "--mould",
                mould,
                "--least-draft",
                "2",
                "--cutter",
                "3",
            ],
        );
        assert_eq!(
            run.code,
            if sign > 0.0 { 0 } else { 1 },
            "{}{}",
            run.out,
            run.err
        );
        let draft = figure(&out, "draft_deg");
        assert!((draft - sign * lean.to_degrees()).abs() < 0.1, "{draft}");
        let radius = value(&out, "cutter_radius_mm");
        if sign > 0.0 {
            assert_eq!(radius, "");
        } else {
            let exact = 40.0 / lean.cos();
            assert!(
                (radius.parse::<f64>().unwrap() / exact - 1.0).abs() < 0.03,
                "{radius}"
            );
            assert!(run.out.contains("out of a female mould"), "{}", run.out);
        }
    }
}
