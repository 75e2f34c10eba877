//! What a source brings is taken whole, or refused: open beside closed profiles,
//! more profiles than a family holds, names that are too long.

use loftkin_exchange::any::{ImportError, read};
use loftkin_exchange::family_json;
use loftkin_exchange::import::{Import, Take};
use loftkin_exchange::point_list::Reading;
use loftkin_kernel::family::{FamilyError, MOST_PROFILES};
use loftkin_kernel::profile::LONGEST_NAME;
use std::time::{Duration, Instant};

fn taken(text: &str, take: Option<Take>) -> Result<Import, ImportError> {
    let reading = Reading {
        take,
        ..Reading::default()
    };
    read("", text.as_bytes(), reading)
}

fn drawing(inside: &str) -> String {
    format!("<svg width=\"9mm\" height=\"9mm\" viewBox=\"0 0 9 9\">{inside}</svg>")
}

fn names(import: &Import) -> Vec<&str> {
    let profiles = import.family.profiles.iter();
    profiles.map(|profile| profile.name.as_str()).collect()
}

/// Two open profiles and three closed ones, the last closed one with a span too
/// short for the grid.
fn mixed_drawing() -> String {
    drawing(
        "<path id=\"brim\" d=\"M0 0L9 9\"/><path id=\"rim\" d=\"M0 0L9 0L9 9Z\"/>\
         <path id=\"lips\" d=\"M0 0L5 0L5 5ZM1 1L2 2\"/><path id=\"lid\" d=\"M0 0L7 0L7 0.001L7 7Z\"/>",
    )
}

const MIXED_LIST: &str = "Brim\n0 0\n50 9\n\nRim\n0 0\n50 0\n50 50\n0 0\n\nLip\n1 1\n9 90\n";

#[test]
fn open_and_closed_profiles_are_taken_apart_by_choice() {
    for (text, counts, open, closed) in [
        (
            mixed_drawing(),
            [2, 3],
            ["brim", "lips 2"],
            &["rim", "lips 1", "lid"][..],
        ),
        (MIXED_LIST.to_owned(), [2, 1], ["Brim", "Lip"], &["Rim"]),
    ] {
        let error = taken(&text, None).unwrap_err();
        assert_eq!(error.mixed(), Some(counts));
        let told = format!("{} open, {} closed", counts[0], counts[1]);
        assert!(error.to_string().contains(&told), "{error}");
        let read = |take| {
            let import = taken(&text, Some(take)).unwrap();
            assert!(import.family.validate().is_ok());
            import
        };
        assert_eq!(names(&read(Take::Open)), open);
        assert_eq!(names(&read(Take::Closed)), closed);
        let told: Vec<_> = read(Take::Open)
            .notes
            .iter()
            .map(ToString::to_string)
            .collect();
        assert!(
            told[0].starts_with(&format!("{} closed profile", counts[1])),
            "{told:?}"
        );
    }
    // Notes follow their profiles, and go with those that are left out.
    let about = |take| {
        let import = taken(&mixed_drawing(), Some(take)).unwrap();
        let about = import.notes.iter().filter_map(|note| note.profile);
        about.collect::<Vec<_>>()
    };
    assert!(about(Take::Closed).contains(&2));
    assert!(about(Take::Open).is_empty());
}

#[test]
fn a_choice_that_nothing_meets_is_refused() {
    let text = drawing("<path d=\"M0 0L9 9\"/>");
    assert_eq!(names(&taken(&text, Some(Take::Open)).unwrap()), [""]);
    let error = taken(&text, Some(Take::Closed)).unwrap_err();
    assert!(
        error.to_string().contains("no profile of it is closed"),
        "{error}"
    );
    assert_eq!(error.mixed(), None);
}

/// As a family file with as many is refused.
#[test]
fn more_profiles_than_a_family_holds_are_refused() {
    let list =
        |count: usize| -> String { (0..count).map(|n| format!("{n} 0\n{n} 90\n\n")).collect() };
    let paths = |count: usize| -> String { "<path d=\"M0 0L9 9\"/>".repeat(count) };
    let json = |count: usize| {
        let profiles = vec![r#"{"nodes": [[0, 0], [9, 9]]}"#; count].join(",");
        format!(
            r#"{{"format": "loftkin-family", "version": 1, "unit": "mm", "grid": 0.01, "profiles": [{profiles}]}}"#
        )
    };
    let drawn = |count| drawing(&paths(count));
    let forms: [&dyn Fn(usize) -> String; 3] = [&list, &drawn, &json];
    for text in forms {
        let most = taken(&text(MOST_PROFILES), None).unwrap();
        assert_eq!(most.family.profiles.len(), MOST_PROFILES);
        let error = taken(&text(MOST_PROFILES + 1), None)
            .unwrap_err()
            .to_string();
        let count = MOST_PROFILES + 1;
        assert!(
            error.starts_with(&FamilyError::TooManyProfiles { count }.to_string()),
            "{error}"
        );
    }
    // Those that are not taken do not count.
    let ring = "<path d=\"M0 0L9 0L9 9Z\"/>";
    let both = drawing(&format!("{}{ring}", paths(MOST_PROFILES + 50)));
    assert_eq!(
        taken(&both, None).unwrap_err().mixed(),
        Some([MOST_PROFILES + 50, 1])
    );
    assert_eq!(
        taken(&both, Some(Take::Closed))
            .unwrap()
            .family
            .profiles
            .len(),
        1
    );
}

/// No profile is dropped for its name, so that each keeps its number.
#[test]
fn names_that_are_too_long_are_cut() {
    let name = "é".repeat(LONGEST_NAME + 1);
    let cut = "é".repeat(LONGEST_NAME);
    let json = format!(
        r#"{{"format": "loftkin-family", "version": 1, "unit": "mm", "grid": 0.01, "profiles":
        [{{"name": "{name}", "nodes": [[0, 0], [9, 9]]}}, {{"name": "lip", "nodes": [[0, 5], [9, 14]]}}]}}"#
    );
    let list = format!("{name}\n0 0\n90 9\n\nlip\n0 5\n90 14\n");
    let paths = format!("<path id=\"{name}\" d=\"M0 0L9 9\"/><path id=\"lip\" d=\"M0 5L9 9\"/>");
    for text in [json, list, drawing(&paths)] {
        let import = taken(&text, None).unwrap();
        assert_eq!(names(&import), [cut.as_str(), "lip"]);
        assert!(
            import
                .family
                .profiles
                .iter()
                .all(|profile| profile.validate().is_ok())
        );
        let told: Vec<_> = import.notes.iter().map(ToString::to_string).collect();
        assert_eq!(told, ["Profile 1: its name was cut to 80 characters."]);
        assert_eq!(
            family_json::read(&family_json::write(&import.family))
                .unwrap()
                .notes,
            []
        );
    }
}

/// 80,000 attributes took 8 s when each was compared with all others.
#[test]
fn a_crowd_of_attributes_is_refused_at_once() {
    let attributes: String = (0..80_000).map(|n| format!(" a{n}=\"1\"")).collect();
    let text = drawing(&format!("\n<path{attributes} d=\"M0 0L9 9\"/>"));
    let start = Instant::now();
    let error = taken(&text, None).unwrap_err().to_string();
    assert!(
        start.elapsed() < Duration::from_secs(2),
        "{:?}",
        start.elapsed()
    );
    assert!(
        error.contains("line 2 has more than 250 attributes"),
        "{error}"
    );
}

/// Whatever is quoted is short and can be seen.
#[test]
fn refusals_quote_little_and_nothing_invisible() {
    let digits = "7".repeat(200);
    let controls = "\u{202e}\u{7f}".repeat(30);
    let file = |profiles: &str| {
        format!(
            r#"{{"format": "loftkin-family", "version": 1, "unit": "mm", "grid": 0.01, "profiles": {profiles}}}"#
        )
    };
    for text in [
        file(&format!("[{{\"nodes\": [[{digits}, 0], [9, 9]]}}]")),
        file(&format!("[{{\"{controls}\": 1}}]")),
        file(&format!(
            "[{{\"nodes\": [[0, 0, \"{controls}\"], [9, 9]]}}]"
        )),
        drawing(&format!("<line x1=\"{controls}\" x2=\"9\"/>")),
        drawing(&format!("<path d=\"M{digits} 0L9 9\"/>")),
        drawing(&format!("<a{digits}></b{digits}>")),
        format!("{digits} 0\n9 9\n"),
        format!("5 {digits}x\n9 9\n"),
        format!("{controls}\n1 2 3\n"),
    ] {
        let error = taken(&text, None).unwrap_err().to_string();
        assert!(!error.contains(&digits[..101]), "{error}");
        assert!(!error.contains(['\u{202e}', '\u{7f}']), "{error:?}");
        assert!(error.len() < 400, "{error}");
    }
}
