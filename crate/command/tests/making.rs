//! The promises of the order `make`: what the manifest names is whole whatever
//! happens, a run goes on where it was stopped, and shares make the whole.
//!
//! Files and checksums are checked here on their own (sha2 and crc32fast over
//! what is on the disk), not by the code under test.

mod common;

use common::{demo_folder, loftkin};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;
use tempfile::TempDir;

/// A family of closed rims, all pairs of which agree.
const RIMS: &str = "rims-that-agree.json";
/// Four stations, coarse meshes: small files, quickly made.
const STATIONS: [&str; 4] = ["--at", "0,60,140,220", "--tolerance", "2"];

fn text(path: &Path) -> &str {
    path.to_str().unwrap()
}

fn arguments<'a>(out: &'a Path, more: &[&'a str]) -> Vec<&'a str> {
    [&["make", RIMS, "-o", text(out)], &STATIONS[..], more].concat()
}

fn make(out: &Path, more: &[&str]) -> common::Run {
    loftkin(&arguments(out, more), "")
}

fn started(out: &Path, more: &[&str]) -> Child {
    Command::new(env!("CARGO_BIN_EXE_loftkin"))
        .args(arguments(out, more))
        .current_dir(demo_folder())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap()
}

/// All files below `folder` with their bytes, by their path.
fn files(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut open = vec![folder.to_owned()];
    while let Some(next) = open.pop() {
        for entry in fs::read_dir(&next).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                open.push(path);
            } else {
                let name = path.strip_prefix(folder).unwrap().to_owned();
                found.insert(name, fs::read(&path).unwrap());
            }
        }
    }
    found
}

/// The whole lines of a manifest, header left out, as columns.
fn lines(folder: &Path, name: &str) -> Vec<Vec<String>> {
    let manifest = fs::read(folder.join(name)).unwrap_or_default();
    let whole = manifest.split_inclusive(|&byte| byte == b'\n');
    let whole = whole.filter(|line| line.ends_with(b"\n")).skip(1);
    let columns = whole.map(|line| {
        let line = std::str::from_utf8(line).unwrap().trim_end();
        let (before, sum) = line.rsplit_once(',').unwrap();
        assert_eq!(sum, format!("{:08x}", crc32fast::hash(before.as_bytes())));
        before.split(',').map(str::to_owned).collect()
    });
    columns.collect()
}

/// Every file that a line names is there, as long as it says and with its sum;
/// the last `formats` groups of three columns.
fn all_named_is_whole(folder: &Path, name: &str, formats: usize) -> usize {
    let lines = lines(folder, name);
    for line in &lines {
        for entry in line[line.len() - 3 * formats..].chunks(3) {
            let bytes = fs::read(folder.join(&entry[0])).unwrap();
            assert_eq!(entry[1], bytes.len().to_string(), "{entry:?}");
            let sum: String = Sha256::digest(&bytes)
                .iter()
                .map(|byte| format!("{byte:02x}"))
                .collect();
            assert_eq!(entry[2], sum, "{}", entry[0]);
        }
    }
    lines.len()
}

fn unfinished(folder: &Path) -> usize {
    let files = files(folder);
    files
        .keys()
        .filter(|name| name.extension().is_some_and(|ending| ending == "part"))
        .count()
}

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
        // Area, volume, mass, capacity; the volume is worked out in two ways.
        assert!(
            [2, 3, 8, 9].iter().all(|&column| 0.0 < value(column)),
            "{line:?}"
        );
        assert!(value(4) < 1e-6, "{line:?}");
        let drawing = fs::read_to_string(out.join(&line[22])).unwrap();
        for (station, profile) in line[1].split(' ').enumerate() {
            let at = [0, 60, 140, 220][station];
            let told = format!("Station {} at {at} mm: profile {profile}", station + 1);
            assert!(drawing.contains(&told), "{told} is not in {}", line[22]);
        }
    }
    // Once more: nothing changes.
    let before = files(&out);
    let again = make(&out, &formats);
    assert_eq!(again.code, 0, "{}", again.err);
    assert!(again.out.contains("8 were there already"), "{}", again.out);
    assert_eq!(files(&out), before);
}

/// Killed at moments of chance and given again until it is done, the folder is
/// the same, byte for byte, as that of a run without a kill.
#[test]
fn killed_at_any_moment_it_goes_on() {
    let folder = TempDir::new().unwrap();
    let (out, undisturbed) = (folder.path().join("killed"), folder.path().join("whole"));
    let more = ["--pieces", "1-500", "--format", "stl,step"];
    // Waits by chance, the same each time: multiples of an irrational number.
    let mut kills = 0;
    for round in 1..16 {
        let mut child = started(&out, &more);
        let share = f64::from(round) * 0.618_033_988_749_894_9 % 1.0;
        // Short at first, so that a quick machine is caught at work too.
        let longest = 30.0 * f64::from(round);
        std::thread::sleep(Duration::from_millis(5 + (share * longest) as u64));
        // Without a moment to tidy up (SIGKILL).
        child.kill().unwrap();
        let status = child.wait().unwrap();
        all_named_is_whole(&out, "manifest.csv", 2);
        if status.success() {
            break;
        }
        kills += 1;
    }
    println!(
        "killed {kills} times, {} pieces then whole",
        lines(&out, "manifest.csv").len()
    );
    assert!(0 < kills);
    let run = make(&out, &more);
    assert_eq!(run.code, 0, "{}", run.err);
    assert_eq!(make(&undisturbed, &more).code, 0);
    assert_eq!(unfinished(&out), 0);
    assert!(files(&out) == files(&undisturbed), "the folders differ");
}

#[test]
fn what_a_kill_left_beside_the_description_is_removed() {
    let folder = TempDir::new().unwrap();
    let out = folder.path().join("run");
    fs::create_dir_all(out.join("00000")).unwrap();
    // The name under which a description is written, before it has its own.
    for name in [".loftkin-1-of-1-Ab3.part", "00000/.loftkin-1-of-1-Zy9.part"] {
        fs::write(out.join(name), "{").unwrap();
    }
    // Another share may still be at work on its own.
    let others = out.join(".loftkin-2-of-2-Cd5.part");
    fs::write(&others, "{").unwrap();
    let run = make(&out, &["--pieces", "1-2", "--format", "stl"]);
    assert_eq!(run.code, 0, "{}", run.err);
    assert_eq!(unfinished(&out), 1);
    assert!(others.is_file());
}

#[test]
fn files_damaged_since_are_made_again() {
    let folder = TempDir::new().unwrap();
    let out = folder.path().join("run");
    let more = ["--pieces", "1-6", "--format", "stl"];
    assert_eq!(make(&out, &more).code, 0);
    let before = files(&out);
    let path = |number: u32| out.join(format!("00000/piece-{number}.stl"));
    fs::remove_file(path(2)).unwrap();
    let mut bytes = fs::read(path(4)).unwrap();
    bytes[200] ^= 1;
    fs::write(path(4), &bytes).unwrap();
    fs::write(path(5), &bytes[..100]).unwrap();
    let run = make(&out, &more);
    assert_eq!(run.code, 0, "{}", run.err);
    assert!(run.out.contains("3 were made again"), "{}", run.out);
    assert_eq!(files(&out), before);
}

#[test]
fn shares_make_the_whole() {
    let folder = TempDir::new().unwrap();
    let (shared, whole) = (folder.path().join("shared"), folder.path().join("whole"));
    let more = ["--pieces", "1-50", "--format", "stl"];
    for shard in ["2/3", "1/3", "3/3"] {
        let run = make(&shared, &[&more[..], &["--shard", shard]].concat());
        assert_eq!(run.code, 0, "{}", run.err);
    }
    assert_eq!(make(&whole, &more).code, 0);
    let mut numbers = Vec::new();
    for share in 1..=3 {
        let name = format!("manifest-{share}-of-3.csv");
        all_named_is_whole(&shared, &name, 1);
        numbers.extend(lines(&shared, &name));
    }
    numbers.sort_by_key(|line| line[0].parse::<u32>().unwrap());
    assert_eq!(numbers, lines(&whole, "manifest.csv"));
    let pieces = |folder: &Path| -> BTreeMap<PathBuf, Vec<u8>> {
        let files = files(folder).into_iter();
        files
            .filter(|(name, _)| name.extension().is_some_and(|ending| ending == "stl"))
            .collect()
    };
    assert!(pieces(&shared) == pieces(&whole));
}

#[test]
fn another_run_is_not_mixed_in() {
    let folder = TempDir::new().unwrap();
    let out = folder.path().join("run");
    assert_eq!(make(&out, &["--pieces", "1-3", "--format", "stl"]).code, 0);
    let before = files(&out);
    for other in [
        &["--pieces", "1-4", "--format", "stl"][..],
        &["--pieces", "1-3", "--format", "step"],
        &["--pieces", "1-3", "--format", "stl", "--blend", "eased"],
    ] {
        let run = make(&out, other);
        assert_eq!(run.code, 2, "{}", run.err);
        assert!(run.err.contains("another run"), "{}", run.err);
    }
    assert_eq!(files(&out), before);
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
    let cases: [(&[&str], &str); 12] = [
        (&["--pieces", "0-3"], "must rise"),
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

/// A round that narrows from 60 to 40 mm of radius over 100 mm has a draft of
/// atan(20 / 100) = 11.31 degrees all round (to what a spline of 16 nodes is from
/// a circle), and no draft at all upside down.
#[test]
fn the_draft_of_a_cone_is_that_of_its_slope() {
    let folder = TempDir::new().unwrap();
    let round = |radius: f64| -> Vec<[f64; 2]> {
        let turn = std::f64::consts::TAU / 16.0;
        let angles = (0..16).map(|k| turn * f64::from(k));
        angles
            .map(|a| {
                [
                    (radius * a.cos() * 100.0).round() / 100.0,
                    (radius * a.sin() * 100.0).round() / 100.0,
                ]
            })
            .collect()
    };
    let family = serde_json::json!({"format": "loftkin-family", "version": 1, "unit": "mm", "grid": 0.01, "settings": {},
        "profiles": [{"closed": true, "nodes": round(60.0)}, {"closed": true, "nodes": round(40.0)}]});
    let path = folder.path().join("cone.json");
    fs::write(&path, family.to_string()).unwrap();
    let draft = |name: &str, allow: &str| {
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
            "2",
        ];
        let run = loftkin(&order, "");
        let line = lines(&out, "manifest.csv")[0].clone();
        (run, line[8].parse::<f64>().unwrap(), line[9].clone())
    };
    let (run, value, passes) = draft("narrowing", "1:1,2:2");
    assert_eq!(
        (run.code, passes.as_str()),
        (0, "yes"),
        "{}{}",
        run.out,
        run.err
    );
    assert!(
        (value - (20.0_f64 / 100.0).atan().to_degrees()).abs() < 0.2,
        "{value}"
    );
    assert!(
        run.out.contains("1 pass, 0 do not") && run.out.contains("data sheet"),
        "{}",
        run.out
    );
    let (run, value, passes) = draft("widening", "1:2,2:1");
    assert_eq!(
        (run.code, passes.as_str()),
        (1, "no"),
        "{}{}",
        run.out,
        run.err
    );
    assert!(value < 0.0, "{value}");
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
    assert!(run.out.contains("coarser chordal tolerance"), "{}", run.out);
    assert_eq!(lines(&out, "manifest.csv").len(), 2);
    assert!(out.join("00000/piece-2.step").exists() && !out.join("00000/piece-2.stl").exists());
}

/// A shell in a world of its own, where a small disk can be had without asking
/// anybody; none where the system does not allow it.
#[cfg(target_os = "linux")]
fn with_small_disk(folder: &Path, options: &str, script: &str) -> Option<std::process::Output> {
    let mount = format!("mount -t tmpfs -o {options} small {}", text(folder));
    let shell = |script: &str| {
        Command::new("unshare")
            .args(["--user", "--map-root-user", "--mount", "sh", "-c", script])
            .current_dir(demo_folder())
            .output()
    };
    if !shell(&mount).is_ok_and(|output| output.status.success()) {
        println!("left out: this system gives no small disk to try on");
        return None;
    }
    Some(shell(&format!("{mount} && {script}")).unwrap())
}

#[cfg(target_os = "linux")]
fn order_of(out: &Path, more: &[&str]) -> String {
    let words = arguments(out, more);
    format!("'{}' {}", env!("CARGO_BIN_EXE_loftkin"), words.join(" "))
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_reported_and_the_run_goes_on_with_more_room() {
    let folder = TempDir::new().unwrap();
    let out = folder.path().join("run");
    let order = order_of(&out, &["--pieces", "1-400", "--format", "stl"]);
    // Full at first; what was made is kept, and more room lets it go on.
    let script = format!(
        "{order}; echo code $?; cat {out}/manifest.csv | wc -l; find {out} -name '*.part' | wc -l; \
         mount -o remount,size=200m {folder} && {order}; echo code $?; cat {out}/manifest.csv | wc -l",
        out = text(&out),
        folder = text(folder.path()),
    );
    let Some(output) = with_small_disk(folder.path(), "size=600k", &script) else {
        return;
    };
    let (told, errors) = (
        String::from_utf8_lossy(&output.stdout),
        String::from_utf8_lossy(&output.stderr),
    );
    assert!(errors.contains("No space left"), "{told}{errors}");
    assert!(errors.contains("to go on"), "{told}{errors}");
    let said: Vec<&str> = told
        .lines()
        .filter(|line| !line.contains(' ') || line.starts_with("code"))
        .collect();
    assert_eq!((said[0], said[2]), ("code 3", "0"), "{told}{errors}");
    let first: usize = said[1].trim().parse().unwrap();
    assert!(1 < first && first < 401, "{told}");
    assert_eq!(said[3..], ["code 0", "401"], "{told}{errors}");
}

#[cfg(target_os = "linux")]
#[test]
fn a_folder_that_may_not_be_written_to_is_reported() {
    let folder = TempDir::new().unwrap();
    let out = folder.path().join("run");
    let order = order_of(&out, &["--pieces", "1-4", "--format", "stl"]);
    let script = format!("{order}; echo code $?");
    let Some(output) = with_small_disk(folder.path(), "ro,size=1m", &script) else {
        return;
    };
    let (told, errors) = (
        String::from_utf8_lossy(&output.stdout),
        String::from_utf8_lossy(&output.stderr),
    );
    assert!(
        told.contains("code 3") && told.contains("0 of the 4"),
        "{told}{errors}"
    );
    assert!(errors.contains("Read-only file system"), "{told}{errors}");
}

/// As on a disk whose quota is used up: no file may grow beyond a limit.
#[cfg(unix)]
#[test]
fn a_refused_write_leaves_nothing_half() {
    let folder = TempDir::new().unwrap();
    let out = folder.path().join("run");
    let words = arguments(&out, &["--pieces", "1-40", "--format", "step"]);
    let script = format!(
        "trap '' XFSZ; ulimit -f 8; exec '{}' {}",
        env!("CARGO_BIN_EXE_loftkin"),
        words.join(" ")
    );
    let output = Command::new("sh")
        .args(["-c", &script])
        .current_dir(demo_folder())
        .output()
        .unwrap();
    let errors = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(3), "{errors}");
    assert!(
        errors.contains("too large") && errors.contains("to go on"),
        "{errors}"
    );
    assert_eq!(unfinished(&out), 0);
    all_named_is_whole(&out, "manifest.csv", 1);
    assert_eq!(
        make(&out, &["--pieces", "1-40", "--format", "step"]).code,
        0
    );
    assert_eq!(all_named_is_whole(&out, "manifest.csv", 1), 40);
}

/// Ctrl-C ends the batch, says how to go on, and leaves nothing unfinished.
#[cfg(unix)]
#[test]
fn an_interrupt_ends_in_good_order() {
    let folder = TempDir::new().unwrap();
    let out = folder.path().join("run");
    let more = ["--pieces", "1-4000", "--format", "stl"];
    let mut child = started(&out, &more);
    while lines(&out, "manifest.csv").is_empty() {
        std::thread::sleep(Duration::from_millis(5));
        assert!(child.try_wait().unwrap().is_none(), "ended by itself");
    }
    let signal = Command::new("kill")
        .args(["-INT", &child.id().to_string()])
        .status();
    assert!(signal.unwrap().success());
    let status = child.wait().unwrap();
    assert!([Some(130), Some(0)].contains(&status.code()), "{status:?}");
    assert_eq!(unfinished(&out), 0);
    all_named_is_whole(&out, "manifest.csv", 1);
}
