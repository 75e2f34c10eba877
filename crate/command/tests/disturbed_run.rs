//! The promises of the order `make` when a run is disturbed: what the manifest
//! names is whole whatever happens, and the run goes on where it was stopped.

mod common;

use common::demo_folder;
use common::folder::{
    RIMS, all_named_is_whole, arguments, files, lines, make, started, text, unfinished,
};
use std::fs;
#[cfg(target_os = "linux")]
use std::path::Path;
use std::process::Command;
use std::time::Duration;
use tempfile::TempDir;

/// Killed at moments of chance and given again until it is done, the folder is
/// the same, byte for byte, as that of a run without a kill.
fn goes_on_after_kills(more: &[&str], formats: usize) {
    let folder = TempDir::new().unwrap();
    let (out, undisturbed) = (folder.path().join("killed"), folder.path().join("whole"));
    // Waits by chance, the same each time: multiples of an irrational number.
    let mut kills = 0;
    for round in 1..16 {
        let mut child = started(&out, more);
        let share = f64::from(round) * 0.618_033_988_749_894_9 % 1.0;
        // Short at first, so that a quick machine is caught at work too.
        let longest = 30.0 * f64::from(round);
        std::thread::sleep(Duration::from_millis(5 + (share * longest) as u64));
        // Without a moment to tidy up (SIGKILL).
        child.kill().unwrap();
        let status = child.wait().unwrap();
        all_named_is_whole(&out, "manifest.csv", formats);
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
    let run = make(&out, more);
    assert_eq!(run.code, 0, "{}", run.err);
    assert_eq!(make(&undisturbed, more).code, 0);
    assert_eq!(unfinished(&out), 0);
    assert!(files(&out) == files(&undisturbed), "the folders differ");
}

#[test]
fn killed_at_any_moment_it_goes_on() {
    goes_on_after_kills(&["--pieces", "1-500", "--format", "stl,step"], 2);
}

/// Without files nearly all that is written is the manifest.
#[test]
fn killed_while_the_manifest_grows_it_goes_on() {
    goes_on_after_kills(&["--pieces", "1-3000"], 0);
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
fn another_run_is_not_mixed_in() {
    let folder = TempDir::new().unwrap();
    let out = folder.path().join("run");
    assert_eq!(make(&out, &["--pieces", "1-3", "--format", "stl"]).code, 0);
    let before = files(&out);
    let usual = ["--pieces", "1-3", "--format", "stl"];
    let cases: [(&[&str], &str); 7] = [
        // Fewer, others, or some by chance.
        (&["--pieces", "1-2", "--format", "stl"], "(pieces differ;"),
        (&["--pieces", "2-5", "--format", "stl"], "(pieces differ;"),
        (&["--choose", "9", "--format", "stl"], "(pieces differ;"),
        (&["--pieces", "1-3", "--format", "step"], "(files differ)"),
        (
            &[&usual[..], &["--blend", "eased"]].concat(),
            "(blend differ)",
        ),
        (
            &[&usual[..], &["--scales", "1,1,1,0.5"]].concat(),
            "(stations differ)",
        ),
        // Shares of two partings would make the same pieces twice.
        (
            &[&usual[..], &["--shard", "1/2"]].concat(),
            "(shares differ)",
        ),
    ];
    for (other, differ) in cases {
        let run = make(&out, other);
        assert_eq!(run.code, 2, "{}", run.err);
        assert!(run.err.contains("another run"), "{}", run.err);
        assert!(run.err.contains(differ), "{differ}: {}", run.err);
        // Of a run that is not this one nothing is told.
        assert_eq!(run.out, "");
    }
    assert_eq!(files(&out), before);
}

/// More pieces of the same run: those that are there keep their lines and files, and
/// a run that grows at its end is the very one that was asked for at once.
#[test]
fn a_selection_that_grows_goes_on_in_the_same_folder() {
    let folder = TempDir::new().unwrap();
    let (out, whole) = (folder.path().join("grown"), folder.path().join("whole"));
    let asked = |numbers| ["--pieces", numbers, "--format", "stl"];
    assert_eq!(make(&out, &asked("5-10")).code, 0);
    let before = files(&out);
    let run = make(&out, &asked("1-12"));
    assert_eq!(run.code, 0, "{}", run.err);
    let told = "6 were there already and are unchanged, 0 were made again, 6 are new";
    assert!(run.out.contains(told), "{}", run.out);
    assert_eq!(all_named_is_whole(&out, "manifest.csv", 1), 12);
    let numbers = |out| -> Vec<u32> {
        let lines = lines(out, "manifest.csv");
        lines.iter().map(|line| line[0].parse().unwrap()).collect()
    };
    assert_eq!(numbers(&out), [5, 6, 7, 8, 9, 10, 1, 2, 3, 4, 11, 12]);
    let after = files(&out);
    let kept = before
        .iter()
        .filter(|(name, _)| name.extension().is_some_and(|ending| ending == "stl"));
    for (name, bytes) in kept {
        assert!(after[name] == *bytes, "{name:?}");
    }
    // Given again, and in other words, it is the same run.
    for numbers in ["1-12", "1-6,7-12"] {
        let run = make(&out, &asked(numbers));
        assert!(
            run.out.contains("12 were there already"),
            "{}{}",
            run.out,
            run.err
        );
        assert!(files(&out) == after);
    }
    let refused = make(&out, &asked("1-11"));
    assert_eq!(refused.code, 2, "{}", refused.out);
    assert!(refused.err.contains("a run can grow"), "{}", refused.err);
    // In shares, one of which has grown before the other.
    let at_end = folder.path().join("at-end");
    let share = |numbers, shard| [&asked(numbers)[..], &["--shard", shard]].concat();
    for (numbers, shard) in [
        ("1-5", "1/2"),
        ("1-5", "2/2"),
        ("1-12", "2/2"),
        ("1-12", "1/2"),
    ] {
        let run = make(&at_end, &share(numbers, shard));
        assert_eq!(run.code, 0, "{}", run.err);
    }
    for shard in ["1/2", "2/2"] {
        assert_eq!(make(&whole, &share("1-12", shard)).code, 0);
    }
    assert!(files(&at_end) == files(&whole));
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
        told.contains("code 3") && !told.contains("whole"),
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

/// One line is damaged: its piece alone is made again, and not even the files of the
/// others are touched.
#[test]
fn one_bad_line_remakes_its_piece_alone() {
    let folder = TempDir::new().unwrap();
    let out = folder.path().join("run");
    let more = ["--pieces", "1-200", "--format", "stl"];
    assert_eq!(make(&out, &more).code, 0);
    let before = files(&out);
    let path = out.join("manifest.csv");
    let whole = fs::read(&path).unwrap();
    let starts: Vec<usize> = (0..whole.len()).filter(|&at| whole[at] == b'\n').collect();
    let written = |number: u32| {
        let file = out.join(format!("00000/piece-{number}.stl"));
        fs::metadata(file).unwrap().modified().unwrap()
    };
    let changed = |at: usize, to: u8| {
        let mut text = whole.clone();
        text[at] = to;
        text
    };
    // A digit, a byte that is no letter, a line end too many, and one too few.
    let third = starts[2] + 8;
    for text in [
        changed(third, b'x'),
        changed(third, 0xff),
        changed(third, b'\n'),
        [&whole[..starts[2]], &whole[starts[3]..]].concat(),
    ] {
        fs::write(&path, &text).unwrap();
        let times: Vec<_> = (1..=200).map(written).collect();
        std::thread::sleep(Duration::from_millis(20));
        let run = make(&out, &more);
        assert_eq!(run.code, 0, "{}", run.err);
        let told = "199 were there already and are unchanged, 1 were made again, 0 are new";
        assert!(run.out.contains(told), "{}", run.out);
        assert!(files(&out) == before);
        let again = (1..=200).filter(|&number| written(number) != times[number as usize - 1]);
        assert_eq!(again.collect::<Vec<_>>(), [3]);
    }
}

/// Somebody sorted the manifest, or took lines out of it or put them in twice: the
/// manifest comes out as it was, no piece is left out and none told twice.
#[test]
fn a_manifest_that_was_edited_is_made_right_again() {
    let folder = TempDir::new().unwrap();
    let out = folder.path().join("run");
    let more = ["--pieces", "1-9", "--format", "stl"];
    assert_eq!(make(&out, &more).code, 0);
    let before = files(&out);
    let path = out.join("manifest.csv");
    let whole = fs::read_to_string(&path).unwrap();
    let lines: Vec<&str> = whole.lines().collect();
    let sorted = |mut lines: Vec<&str>| {
        lines[1..].reverse();
        lines.join("\n") + "\n"
    };
    let edited = [
        [&lines[..4], &lines[5..]].concat().join("\n") + "\n",
        sorted(lines.clone()),
        whole.clone() + &lines[7..].join("\n") + "\n",
        whole.replacen("1,1 1 1 1,", "1,1 1 1 2,", 1),
    ];
    for text in edited {
        assert_ne!(text, whole);
        fs::write(&path, &text).unwrap();
        let run = make(&out, &more);
        assert_eq!(run.code, 0, "{}", run.err);
        assert!(run.out.contains("9 of the 9"), "{}", run.out);
        assert!(files(&out) == before, "after {text}");
    }
    // As an editor may save it: not ours to write over.
    let other_ends = whole.replace('\n', "\r\n");
    fs::write(&path, &other_ends).unwrap();
    let run = make(&out, &more);
    assert_eq!((run.code, run.out.as_str()), (2, ""), "{}", run.err);
    assert!(run.err.contains("move it away"), "{}", run.err);
    assert_eq!(fs::read_to_string(&path).unwrap(), other_ends);
}

/// What is written into a folder that was removed goes nowhere: it is not to be
/// told as made.
#[cfg(unix)]
#[test]
fn a_folder_removed_while_running_is_missed() {
    let folder = TempDir::new().unwrap();
    let out = folder.path().join("run");
    let mut child = started(&out, &["--pieces", "1-4000"]);
    while lines(&out, "manifest.csv").is_empty() {
        std::thread::sleep(Duration::from_millis(2));
        assert!(child.try_wait().unwrap().is_none(), "ended by itself");
    }
    fs::remove_dir_all(&out).unwrap();
    assert_eq!(child.wait().unwrap().code(), Some(3));
    assert!(!out.exists());
}

#[test]
fn a_file_in_place_of_the_folder_is_refused() {
    let folder = TempDir::new().unwrap();
    let out = folder.path().join("run");
    fs::write(&out, "mine").unwrap();
    let run = make(&out, &["--pieces", "1-3"]);
    assert_eq!((run.code, run.out.as_str()), (2, ""), "{}", run.err);
    assert!(run.err.contains("not a folder"), "{}", run.err);
    assert_eq!(fs::read_to_string(&out).unwrap(), "mine");
}

/// Two of the same order at once: one makes the pieces, the other is refused, and
/// says nothing of pieces that it did not make.
#[test]
fn two_of_one_order_do_not_disturb_each_other() {
    let folder = TempDir::new().unwrap();
    let (out, alone) = (folder.path().join("two"), folder.path().join("alone"));
    let more = ["--pieces", "1-300", "--format", "stl"];
    let mut children = [started(&out, &more), started(&out, &more)];
    let mut codes = children
        .each_mut()
        .map(|child| child.wait().unwrap().code());
    codes.sort_unstable();
    // The later one may also find all made.
    assert!(
        [[Some(0), Some(2)], [Some(0), Some(0)]].contains(&codes),
        "{codes:?}"
    );
    assert_eq!(make(&alone, &more).code, 0);
    assert!(files(&out) == files(&alone));
}

/// As when standard output goes to a file on a full disk.
#[cfg(target_os = "linux")]
#[test]
fn output_that_cannot_be_written_is_told() {
    for order in [&["report", RIMS][..], &["link", RIMS], &["check", RIMS]] {
        let full = fs::OpenOptions::new()
            .write(true)
            .open("/dev/full")
            .unwrap();
        let output = Command::new(env!("CARGO_BIN_EXE_loftkin"))
            .args(order)
            .current_dir(demo_folder())
            .stdout(full)
            .output()
            .unwrap();
        let errors = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{order:?}: {errors}");
        assert!(errors.contains("standard output"), "{order:?}: {errors}");
    }
}
