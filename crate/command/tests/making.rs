//! The promises of the order `make`: the manifest names what was written, shares
//! make the whole, checks keep to closed forms, and what cannot be made is
//! explained. What happens when a run is disturbed stands in disturbed_run.rs.

mod common;

use common::folder::{RIMS, all_named_is_whole, files, lines, make, started, text};
use common::loftkin;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

#[test]
fn a_run_writes_what_its_manifest_names() {
    let folder = TempDir::new().unwrap();
    let out = folder.path().join("run");
    let formats = [
        "--pieces",
        "1-5,9,20-21",
        "--format",
        "stl,step,3mf,gltf,svg-profiles,svg-trim,svg-flat",
        "--gauge",
        "1.5",
        "--density",
        "2.7",
    ];
    let run = make(&out, &formats);
    assert_eq!(run.code, 0, "{}{}", run.out, run.err);
    assert_eq!(all_named_is_whole(&out, "manifest.csv", 7), 8);
    let numbers: Vec<String> = lines(&out, "manifest.csv")
        .iter()
        .map(|line| line[0].clone())
        .collect();
    assert_eq!(numbers, ["1", "2", "3", "4", "5", "9", "20", "21"]);
    for line in lines(&out, "manifest.csv") {
        let value = |column: usize| line[column].parse::<f64>().unwrap();
        // Area, volume, both masses, capacity; the volume is worked out in two ways.
        assert!(
            [2, 3, 8, 9, 10].iter().all(|&column| 0.0 < value(column)),
            "{line:?}"
        );
        assert!(value(4) < 1e-6, "{line:?}");
        // Forming thins the sheet, whose volume is kept.
        assert!(value(8) < value(9), "{line:?}");
        let drawing = fs::read_to_string(out.join(&line[23])).unwrap();
        for (station, profile) in line[1].split(' ').enumerate() {
            let at = [0, 60, 140, 220][station];
            let told = format!("Station {} at {at} mm: profile {profile}", station + 1);
            assert!(drawing.contains(&told), "{told} is not in {}", line[23]);
        }
    }
    // Once more: nothing changes.
    let before = files(&out);
    let again = make(&out, &formats);
    assert_eq!(again.code, 0, "{}", again.err);
    assert!(again.out.contains("8 were there already"), "{}", again.out);
    assert_eq!(files(&out), before);
}

/// One after the other or all at once into one folder, or each into its own.
#[test]
fn shares_make_the_whole() {
    let folder = TempDir::new().unwrap();
    let place = |name: &str| folder.path().join(name);
    let whole = place("whole");
    let more = ["--pieces", "1-50", "--format", "stl"];
    assert_eq!(make(&whole, &more).code, 0);
    let shards = ["2/3", "1/3", "3/3"];
    let share = |shard| [&more[..], &["--shard", shard]].concat();
    for shard in shards {
        let run = make(&place("in-turn"), &share(shard));
        assert_eq!(run.code, 0, "{}", run.err);
        let own = format!("apart-{}", &shard[..1]);
        assert_eq!(make(&place(&own), &share(shard)).code, 0);
    }
    let at_once = shards.map(|shard| started(&place("at-once"), &share(shard)));
    for mut child in at_once {
        assert_eq!(child.wait().unwrap().code(), Some(0));
    }
    let pieces = |folder: &Path| -> BTreeMap<PathBuf, Vec<u8>> {
        let files = files(folder).into_iter();
        files
            .filter(|(name, _)| name.extension().is_some_and(|ending| ending == "stl"))
            .collect()
    };
    for parted in [
        ["in-turn"; 3],
        ["at-once"; 3],
        ["apart-1", "apart-2", "apart-3"],
    ] {
        let (mut numbers, mut found) = (Vec::new(), BTreeMap::new());
        for (index, folder) in parted.map(place).iter().enumerate() {
            let name = format!("manifest-{}-of-3.csv", index + 1);
            all_named_is_whole(folder, &name, 1);
            numbers.extend(lines(folder, &name));
            found.extend(pieces(folder));
        }
        numbers.sort_by_key(|line| line[0].parse::<u32>().unwrap());
        assert_eq!(numbers, lines(&whole, "manifest.csv"), "{parted:?}");
        assert!(found == pieces(&whole), "{parted:?}");
    }
}

#[test]
fn a_choice_is_the_same_for_one_seed() {
    let folder = TempDir::new().unwrap();
    let numbers = |name: &str, seed: &str| {
        let out = folder.path().join(name);
        assert_eq!(make(&out, &["--choose", "20", "--seed", seed]).code, 0);
        lines(&out, "manifest.csv")
    };
    let one = numbers("one", "5");
    assert_eq!(one.len(), 20);
    assert_eq!(one, numbers("two", "5"));
    assert_ne!(one, numbers("three", "6"));
}

#[test]
fn what_cannot_be_made_is_explained() {
    let folder = TempDir::new().unwrap();
    let out = folder.path().join("run");
    let cases: [(&[&str], &str); 15] = [
        (&["--pieces", "0-3"], "there is no piece 0"),
        (&["--pieces", "x"], "names no pieces"),
        (&["--pieces", "1-99999999"], "no piece 99999999"),
        (&["--shard", "4/3"], "as 3/8"),
        (&["--all-round"], "only a ring"),
        (&["--scales", "1,2"], "4 stations"),
        (&["--allow", "9:1"], "no station 9"),
        (&["--allow", "1:99"], "profile 99"),
        (&["--gauge=-1", "--density", "1"], "above 0"),
        (&["--bend-gauges", "2"], "--gauge"),
        (
            &["--least-draft", "1", "--draw", "0,0,0"],
            "direction of draw",
        ),
        (&["--blend", "straight"], "possible values"),
        (&["--halves", "two"], "--least-draft"),
        (&["--least-draft", "1", "--most-band", "2"], "--halves two"),
        (
            &["--least-draft", "1", "--halves", "two", "--most-band=-2"],
            "--most-band must be above 0",
        ),
    ];
    for (more, part) in cases {
        let run = make(&out, more);
        assert_eq!(run.code, 2, "{more:?}: {}", run.err);
        assert!(run.err.contains(part), "{part} is missing in: {}", run.err);
    }
    let few = loftkin(&["make", RIMS, "-o", text(&out), "--at", "5"], "");
    assert!(
        few.code == 2 && few.err.contains("give 2 to 24"),
        "{}",
        few.err
    );
    assert!(!out.exists());
}

/// A family file of round profiles of so many nodes.
fn rounds(folder: &TempDir, count: u32, radii: &[f64]) -> PathBuf {
    let turn = std::f64::consts::TAU / f64::from(count);
    let on_grid = |value: f64| (value * 100.0).round() / 100.0;
    let round = |radius: &f64| -> Vec<[f64; 2]> {
        let angles = (0..count).map(|k| turn * f64::from(k));
        angles
            .map(|a| [on_grid(radius * a.cos()), on_grid(radius * a.sin())])
            .collect()
    };
    let profiles = radii
        .iter()
        .map(|radius| serde_json::json!({"closed": true, "nodes": round(radius)}));
    let family = serde_json::json!({"format": "loftkin-family", "version": 1, "unit": "mm", "grid": 0.01, "settings": {},
        "profiles": profiles.collect::<Vec<_>>()});
    let path = folder.path().join("rounds.json");
    fs::write(&path, family.to_string()).unwrap();
    path
}

/// A round that narrows from 60 to 40 mm of radius over 100 mm has a draft of
/// atan(20 / 100) = 11.31 degrees all round (to what a spline of 16 nodes is from
/// a circle), and no draft at all upside down.
#[test]
fn the_draft_of_a_cone_is_that_of_its_slope() {
    let folder = TempDir::new().unwrap();
    let path = rounds(&folder, 16, &[60.0, 40.0]);
    let draft = |name: &str, allow: &str, least: &str| {
        let out = folder.path().join(name);
        let order = [
            "make",
            text(&path),
            "-o",
            text(&out),
            "--at",
            "0,100",
            "--allow",
            allow,
            "--least-draft",
            least,
        ];
        let run = loftkin(&order, "");
        let line = lines(&out, "manifest.csv")[0].clone();
        let value = |column: usize| line[column].parse::<f64>().unwrap_or(f64::NAN);
        let skin = value(2);
        let undercut = [11, 12, 14].map(value);
        (
            run,
            value(8),
            [line[9].clone(), line[10].clone()],
            undercut,
            skin,
        )
    };
    // A limit just below the draft is proved, one just above it broken.
    let exact = (20.0_f64 / 100.0).atan().to_degrees();
    let (run, value, passes, undercut, _) = draft("narrowing", "1:1,2:2", "11.2");
    assert_eq!(
        (run.code, passes),
        (0, ["yes", "proved"].map(str::to_owned)),
        "{}{}",
        run.out,
        run.err
    );
    assert!((value - exact).abs() < 0.05, "{value}");
    assert_eq!(undercut, [0.0, 0.0, 0.0]);
    for part in [
        "1 pass (1 proved), 0 do not",
        "bounded to 0.02 degrees",
        "data sheet",
    ] {
        assert!(run.out.contains(part), "{part} is missing in: {}", run.out);
    }
    assert!(!run.out.contains("undercut"), "{}", run.out);
    let (run, _, passes, _, _) = draft("steep", "1:1,2:2", "11.4");
    assert_eq!(
        (run.code, passes),
        (1, ["no", "checked"].map(str::to_owned))
    );
    // Upside down all of the skin is one undercut, without a line to part along.
    let (run, value, passes, undercut, skin) = draft("widening", "1:2,2:1", "2");
    assert_eq!(
        (run.code, passes),
        (1, ["no", "checked"].map(str::to_owned)),
        "{}{}",
        run.out,
        run.err
    );
    assert!((value + exact).abs() < 0.05, "{value}");
    assert_eq!((undercut[0], undercut[2]), (1.0, 0.0));
    assert!(
        (1.0..1.02).contains(&(undercut[1] / skin)),
        "{undercut:?} {skin}"
    );
    assert!(run.out.contains("1 piece has an undercut"), "{}", run.out);
}

/// A cylinder of 500 mm radius on its side comes out of two halves: its draft is below
/// 2 degrees in a band of 500 mm times 2 degrees in radians beside either ruling at
/// which they part.
#[test]
fn the_band_of_two_halves_of_a_cylinder_is_its_radius_times_the_limit() {
    let folder = TempDir::new().unwrap();
    let path = rounds(&folder, 60, &[500.0]);
    let out = |name: &str| folder.path().join(name);
    let run = |name: &str, more: &[&str]| {
        let out = out(name);
        let order = [
            "make",
            text(&path),
            "-o",
            text(&out),
            "--at",
            "0,100",
            "--least-draft",
            "2",
            "--draw",
            "0,1,0",
        ];
        loftkin(&[&order[..], more].concat(), "")
    };
    let value = |name: &str, column: &str| {
        let manifest = fs::read_to_string(out(name).join("manifest.csv")).unwrap();
        let header = manifest.lines().next().unwrap().split(',');
        let place = header.into_iter().position(|name| name == column).unwrap();
        lines(&out(name), "manifest.csv")[0][place].clone()
    };
    let exact = 500.0 * 2.0_f64.to_radians();
    let bare = run("bare", &["--halves", "two"]);
    assert_eq!(bare.code, 1, "{}{}", bare.out, bare.err);
    let number = |column: &str| value("bare", column).parse::<f64>().unwrap();
    assert!((number("band_mm") / exact - 1.0).abs() < 2e-3);
    assert!((number("band_mm")..1.15 * exact).contains(&number("band_proved_mm")));
    let area = 4.0 * 100.0 * exact;
    assert!((area..1.2 * area).contains(&number("band_area_proved_mm2")));
    assert_eq!(value("bare", "mould_halves"), "two");
    assert_eq!(
        (value("bare", "draft_passes"), value("bare", "draft_basis")),
        ("no".to_owned(), "checked".to_owned())
    );
    assert_eq!(value("bare", "parting_lines"), "2");
    let told = bare.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in [
        "in two halves: 0 pass (0 proved), 1 do not",
        "below 2 degrees up to 17.4",
        "along the skin, on piece 1, widest at 4",
        "no band is accepted",
        "Proved of 1 of the 1 piece with a band",
        "parting land (common practice)",
    ] {
        assert!(
            told.to_lowercase().contains(&part.to_lowercase()),
            "{part} is missing in: {told}"
        );
    }
    assert!(!told.contains("undercut"), "{told}");
    // A band that is accepted: below what was seen, and above what is proved.
    let narrow = run("narrow", &["--halves", "two", "--most-band", "10"]);
    assert_eq!(
        (narrow.code, value("narrow", "draft_basis")),
        (1, "sampled".to_owned())
    );
    let wide = run("wide", &["--halves", "two", "--most-band", "25"]);
    assert_eq!(
        (wide.code, value("wide", "draft_basis")),
        (0, "proved".to_owned()),
        "{}",
        wide.out
    );
    assert!(
        wide.out.contains("a band of 25 mm is accepted"),
        "{}",
        wide.out
    );
    // In one part half of the skin is undercut: another run, another description.
    let one = run("bare", &[]);
    assert_eq!(one.code, 2);
    assert!(
        one.err.contains("another run (checks differ)"),
        "{}",
        one.err
    );
    let described = fs::read_to_string(out("bare").join("run.json")).unwrap();
    assert!(described.contains("\"halves\": \"two\""), "{described}");
    let one = run("one", &[]);
    assert_eq!(
        (one.code, value("one", "undercut_regions")),
        (1, "1".to_owned())
    );
    // The report says the same.
    let page = loftkin(&["report", text(&path), "--run", text(&out("wide"))], "");
    for part in [
        "Draft to the direction of draw, in two halves",
        "a band of 25 mm is accepted",
        "parting land (common practice)",
        "band proved",
    ] {
        assert!(page.out.contains(part), "{part} is missing in the report");
    }
}

/// The tail of a wind vane is 1.06 mm thick where it is trimmed: a sheet of 3 mm about
/// the drawn skin has no room there, though its bends would leave enough.
#[test]
fn a_thin_tail_leaves_no_room() {
    let folder = TempDir::new().unwrap();
    let out = folder.path().join("run");
    let order = [
        "make",
        "wind-vanes.json",
        "-o",
        text(&out),
        "--at",
        "0,300",
        "--gauge",
        "3",
        "--density",
        "4.51",
        "--room",
        "--pieces",
        "1-2",
    ];
    let run = loftkin(&order, "");
    assert_eq!(run.code, 1, "{}{}", run.out, run.err);
    let manifest = fs::read_to_string(out.join("manifest.csv")).unwrap();
    let names: Vec<&str> = manifest.lines().next().unwrap().split(',').collect();
    let place = |name: &str| names.iter().position(|other| *other == name).unwrap();
    for line in lines(&out, "manifest.csv") {
        let number = |name: &str| line[place(name)].parse::<f64>().unwrap();
        assert_eq!(line[place("room_passes")], "no", "{line:?}");
        assert_eq!(line[place("room_basis")], "checked", "{line:?}");
        assert!(number("room_apart_mm") < 1.5, "{line:?}");
        assert!(1.0 < number("room_ratio"), "{line:?}");
    }
    let described = fs::read_to_string(out.join("run.json")).unwrap();
    for part in [
        "\"room_ratio\": \"in hollows bounded to 1 %",
        "\"mass_flat_gauge_kg\": \"worked out: as if",
    ] {
        assert!(described.contains(part), "{part} is missing: {described}");
    }
    let page = loftkin(&["report", "wind-vanes.json", "--run", text(&out)], "");
    for part in [
        "mass formed",
        "mass flat gauge",
        "between walls seen at sampled",
    ] {
        assert!(page.out.contains(part), "{part} is missing in the report");
    }
}

#[test]
fn a_file_too_fine_to_make_is_told_and_the_rest_is_made() {
    let folder = TempDir::new().unwrap();
    let out = folder.path().join("run");
    // Rims as wide as a house, within a thousandth: beyond what an STL may hold.
    let scales = ["--scales", "900,900,900,900", "--tolerance", "0.001"];
    let more = ["--pieces", "2-3", "--format", "stl,step"];
    let mut order = vec![
        "make",
        RIMS,
        "-o",
        text(&out),
        "--at",
        "0,60000,80000,90000",
    ];
    order.extend(scales);
    order.extend(more);
    let run = loftkin(&order, "");
    assert_eq!(run.code, 1, "{}{}", run.out, run.err);
    let told = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("coarser chordal tolerance"), "{told}");
    assert_eq!(lines(&out, "manifest.csv").len(), 2);
    assert!(out.join("00000/piece-2.step").exists() && !out.join("00000/piece-2.stl").exists());
}

/// What is only stated must not be taken for checked.
#[test]
fn an_option_that_does_nothing_says_so() {
    let folder = TempDir::new().unwrap();
    let made = |name: &str, more: &[&str]| {
        let order = [&["--pieces", "1-2"], more].concat();
        let run = make(&folder.path().join(name), &order);
        assert_eq!(run.code, 0, "{}", run.err);
        run.err
    };
    let idle: [(&[&str], &str); 4] = [
        (&["--gauge", "1.2"], "--gauge alone does nothing"),
        (&["--flow-stress", "8"], "--flow-stress alone does nothing"),
        (
            &["--flow-stress", "8", "--gauge", "1.2", "--density", "4.5"],
            "--flow-stress alone does nothing",
        ),
        (&["--draw", "-1,0,0"], "--draw alone does nothing"),
    ];
    for (index, (more, said)) in idle.into_iter().enumerate() {
        let err = made(&format!("idle-{index}"), more);
        assert_eq!(err.matches("does nothing").count(), 1, "{err}");
        assert!(err.contains(said), "{err}");
    }
    for (index, more) in [&["--gauge", "1.2", "--density", "4.5"][..], &[]]
        .into_iter()
        .enumerate()
    {
        let err = made(&format!("used-{index}"), more);
        assert!(!err.contains("does nothing"), "{err}");
    }
}

/// Walls that come near each other: a coarse tolerance costs triangles there, no file.
#[test]
fn no_mesh_is_lost_at_a_coarse_tolerance() {
    let folder = TempDir::new().unwrap();
    let series = "hoods-from-rims.series.json";
    for tolerance in ["2", "20"] {
        let out = folder.path().join(tolerance);
        let order = ["make", RIMS, "--series", series, "-o", text(&out)];
        let more = ["--pieces", "1-20,155,291", "--format", "stl", "--tolerance"];
        let run = loftkin(&[&order[..], &more, &[tolerance]].concat(), "");
        assert_eq!(run.code, 0, "{}{}", run.out, run.err);
        assert_eq!(all_named_is_whole(&out, "manifest.csv", 1), 22);
    }
}
