//! What a manifest keeps wherever it is cut, moved or damaged.

use super::*;

fn columns() -> Vec<String> {
    ["piece", "stl_file", "stl_bytes", "stl_sha256"]
        .map(str::to_owned)
        .to_vec()
}

/// A run of five pieces, from 1.
struct Five;

impl Order for Five {
    fn number_at(&self, place: u64) -> Option<String> {
        (place < 5).then(|| (place + 1).to_string())
    }

    fn place_of(&self, number: &str) -> Option<u64> {
        let place = number.parse::<u64>().ok()?.checked_sub(1)?;
        (place < 5).then_some(place)
    }
}

#[test]
fn wherever_it_is_cut_only_whole_lines_are_kept() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("manifest.csv");
    let (mut manifest, found) = Manifest::open(&path, &columns(), &Five).unwrap();
    assert_eq!(found, Found::in_order(0));
    let added = ["1,a.stl,5,aa", "2,b.stl,6,bb"].map(str::to_owned);
    manifest.add(added.iter().map(String::as_str)).unwrap();
    drop(manifest);
    let whole = fs::read(&path).unwrap();
    let ends: Vec<usize> = (0..whole.len()).filter(|&at| whole[at] == b'\n').collect();
    for cut in 0..=whole.len() {
        fs::write(&path, &whole[..cut]).unwrap();
        let (mut manifest, found) = Manifest::open(&path, &columns(), &Five).unwrap();
        let left = ends.iter().filter(|&&end| end < cut).count();
        let expected = Found::in_order(left.saturating_sub(1) as u64);
        assert_eq!(found, expected, "cut at {cut}");
        let left = added[found.count as usize..].iter().map(String::as_str);
        manifest.add(left).unwrap();
        drop(manifest);
        assert_eq!(fs::read(&path).unwrap(), whole, "cut at {cut}");
    }
    let kept: Vec<String> = lines(&path).unwrap().map(|line| line.unwrap()).collect();
    assert_eq!(kept, added);
    assert_eq!(entries(&kept[1], 1)[0].name, "b.stl");
}

/// The number at each place found; 0 where there is none.
fn kept(path: &Path) -> (bool, Vec<u64>) {
    let (_, found) = Manifest::open(path, &columns(), &Five).unwrap();
    let mut lines = found.lines(path).unwrap();
    let next = |_| lines.next_line().unwrap();
    let numbers = (0..found.count).map(next).map(|line| {
        let line = line.unwrap_or_default();
        number_of(line.as_bytes()).unwrap().parse().unwrap_or(0)
    });
    (found.is_disturbed(), numbers.collect())
}

#[test]
fn lines_are_kept_wherever_they_were_moved() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("manifest.csv");
    let found = |places: &[&str]| {
        let header = format!("{},line_crc32", columns().join(","));
        fs::write(&path, [&[&header[..]], places].concat().join("\n") + "\n").unwrap();
        kept(&path)
    };
    let lines = [1, 2, 3, 4, 5, 6].map(|piece| sealed(&format!("{piece},,,")));
    let [one, two, three, four, five, six] = lines.each_ref().map(String::as_str);
    let whole = (false, vec![1, 2, 3, 4, 5]);
    assert_eq!(found(&[one, two, three, four, five]), whole);
    assert_eq!(found(&[one, two, four, five]), (true, vec![1, 2, 0, 4, 5]));
    assert_eq!(found(&[five, four, one]), (true, vec![1, 0, 0, 4, 5]));
    assert_eq!(found(&[one, one, three]), (true, vec![1, 0, 3]));
    // Behind the last place there is nothing to keep.
    assert_eq!(found(&[one, two, three, four, five, two, six]), whole);
    for bad in ["", "2,,,", "2,,,,00000000", "\u{e9}"] {
        assert_eq!(found(&[one, bad, three]), (true, vec![1, 0, 3]), "{bad}");
    }
}

#[test]
fn one_written_anew_takes_the_place_of_the_old_one() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("manifest.csv");
    let (mut manifest, _) = Manifest::open(&path, &columns(), &Five).unwrap();
    manifest.add(["3,,,", "1,,,"].into_iter()).unwrap();
    let mut anew = Anew::begin(&manifest, ".mark-").unwrap();
    anew.add(["1,,,", "2,,,", "3,,,"].into_iter()).unwrap();
    anew.end(&mut manifest).unwrap();
    manifest.add(["4,,,"].into_iter()).unwrap();
    let refused = Manifest::open(&path, &columns(), &Five).err().unwrap();
    assert!(matches!(refused, Failure::Busy { .. }), "{refused}");
    drop(manifest);
    assert_eq!(kept(&path), (false, vec![1, 2, 3, 4]));
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
}

#[test]
fn a_manifest_that_was_removed_is_missed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("manifest.csv");
    let (mut manifest, _) = Manifest::open(&path, &columns(), &Five).unwrap();
    fs::remove_file(&path).unwrap();
    let missed = manifest.add(["1,,,"].into_iter()).unwrap_err();
    assert!(matches!(missed, Failure::Gone { .. }), "{missed}");
}

#[test]
fn what_is_not_ours_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("manifest.csv");
    for foreign in ["something else", "a,b\n1,2\n"] {
        fs::write(&path, foreign).unwrap();
        let refused = Manifest::open(&path, &columns(), &Five).err().unwrap();
        assert!(
            matches!(refused, Failure::OtherManifest { .. }),
            "{refused}"
        );
        assert_eq!(fs::read_to_string(&path).unwrap(), foreign);
    }
}

#[test]
fn two_cannot_work_on_one() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("manifest.csv");
    let _held = Manifest::open(&path, &columns(), &Five).unwrap();
    let refused = Manifest::open(&path, &columns(), &Five).err().unwrap();
    assert!(matches!(refused, Failure::Busy { .. }), "{refused}");
}
