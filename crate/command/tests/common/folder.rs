//! Folders of runs in tests: orders to make them, and what is found in them.
//!
//! Files and checksums are checked here on their own (sha2 and crc32fast over
//! what is on the disk), not by the code under test.
#![allow(dead_code)]

use super::{Run, demo_folder, loftkin};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

/// A family of closed rims, all pairs of which agree.
pub const RIMS: &str = "rims-that-agree.json";
/// Four stations, coarse meshes: small files, quickly made.
pub const STATIONS: [&str; 4] = ["--at", "0,60,140,220", "--tolerance", "2"];

pub fn text(path: &Path) -> &str {
    path.to_str().unwrap()
}

pub fn arguments<'a>(out: &'a Path, more: &[&'a str]) -> Vec<&'a str> {
    [&["make", RIMS, "-o", text(out)], &STATIONS[..], more].concat()
}

pub fn make(out: &Path, more: &[&str]) -> Run {
    loftkin(&arguments(out, more), "")
}

pub fn started(out: &Path, more: &[&str]) -> Child {
    Command::new(env!("CARGO_BIN_EXE_loftkin"))
        .args(arguments(out, more))
        .current_dir(demo_folder())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap()
}

/// All files below `folder` with their bytes, by their path.
pub fn files(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
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
pub fn lines(folder: &Path, name: &str) -> Vec<Vec<String>> {
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
pub fn all_named_is_whole(folder: &Path, name: &str, formats: usize) -> usize {
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

pub fn unfinished(folder: &Path) -> usize {
    let files = files(folder);
    files
        .keys()
        .filter(|name| name.extension().is_some_and(|ending| ending == "part"))
        .count()
}
