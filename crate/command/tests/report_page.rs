//! The promises of the order `report`: one file that needs nothing else, says all
//! that `check` says, and cannot be steered by names.

mod common;

use common::loftkin;
use serde_json::Value;

fn report(family: &str, input: &str) -> String {
    let run = loftkin(&["report", family], input);
    assert_eq!(run.code, 0, "{}", run.err);
    run.out
}

/// The text of a page without its marks, entities taken back.
fn text_of(page: &str) -> String {
    let mut text = String::new();
    let mut inside = false;
    for letter in page.chars() {
        match letter {
            '<' => inside = true,
            '>' => inside = false,
            _ if !inside => text.push(letter),
            _ => {}
        }
    }
    let entities = [
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&quot;", "\""),
        ("&amp;", "&"),
    ];
    entities
        .iter()
        .fold(text, |text, (from, to)| text.replace(from, to))
}

#[test]
fn it_says_what_check_says() {
    for family in [
        "hoods-with-faults.json",
        "rims-by-thirds.json",
        "ring-through-the-axis.json",
    ] {
        let text = text_of(&report(family, ""));
        let checked = loftkin(&["check", "--json", family], "").out;
        let checked: Value = serde_json::from_str(&checked).unwrap();
        let family = &checked["families"][0];
        let any_blend = family["any_blend"]["sentence"].as_str().unwrap();
        assert!(text.contains(any_blend), "{any_blend}");
        for sentence in family["agreement"]["sentences"].as_array().unwrap() {
            assert!(text.contains(sentence.as_str().unwrap()), "{sentence}");
        }
        for cell in family["cells"].as_array().unwrap() {
            for remedy in cell["finding"]["remedies"].as_array().unwrap() {
                let sentence = remedy["sentence"].as_str().unwrap();
                assert!(text.contains(sentence), "{sentence}");
            }
        }
    }
}

/// Well-formed as XML but for the doctype and the two void elements, by a strict
/// reader; nothing is fetched and nothing runs.
#[test]
fn it_needs_nothing_else() {
    let page = report("hoods-with-faults.json", "");
    for word in [
        "http:", "https:", "<script", "@import", "url(", "src=", "href=", " style=",
    ] {
        assert!(!page.contains(word), "{word}");
    }
    let body = page
        .split_once("<body>")
        .unwrap()
        .1
        .replace("</body>\n</html>", "");
    let document = format!("<body>{body}</body>");
    let tree = roxmltree::Document::parse(&document).unwrap();
    let pictures = tree
        .descendants()
        .filter(|node| node.has_tag_name("svg"))
        .count();
    let findings = tree
        .descendants()
        .filter(|node| node.has_tag_name("section"))
        .count();
    assert_eq!(pictures, findings + 1);
    assert!(0 < findings);
    let marks = tree
        .descendants()
        .filter(|node| node.has_tag_name("circle"))
        .count();
    assert!(findings <= marks, "{marks} marks for {findings} findings");
}

/// The figures of a run are those of its manifests, worked out here from the text.
#[test]
fn it_tells_of_a_run() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("run");
    for shard in ["1/2", "2/2"] {
        let order = [
            "make",
            "rims-that-agree.json",
            "-o",
            out.to_str().unwrap(),
            "--at",
            "0,60,140",
            "--pieces",
            "1-60",
            "--shard",
            shard,
            "--gauge",
            "1.5",
            "--density",
            "2.7",
            "--cutter",
            "3",
            "--least-draft",
            "1",
        ];
        assert!([0, 1].contains(&loftkin(&order, "").code));
    }
    let order = [
        "report",
        "rims-that-agree.json",
        "--run",
        out.to_str().unwrap(),
    ];
    let run = loftkin(&order, "");
    assert_eq!(run.code, 0, "{}", run.err);
    let text = text_of(&run.out);
    assert!(
        text.contains("512 pieces; 60 of them are whole here, measured, without files"),
        "{text}"
    );
    let mut areas = Vec::new();
    // Pieces whose valleys have no sharp edge that the cutter does not reach.
    let mut reached = 0;
    for name in ["manifest-1-of-2.csv", "manifest-2-of-2.csv"] {
        let manifest = std::fs::read_to_string(out.join(name)).unwrap();
        let mut header = manifest.lines().next().unwrap().split(',');
        let column = header.position(|name| name == "cutter_radius_passes");
        let passes = |line: &str| line.split(',').nth(column.unwrap()) == Some("yes");
        reached += manifest.lines().filter(|line| passes(line)).count();
        let of_line = |line: &str| line.split(',').nth(2).unwrap().parse::<f64>().unwrap();
        areas.extend(manifest.lines().skip(1).map(of_line));
    }
    let mean = areas.iter().sum::<f64>() / areas.len() as f64;
    let least = areas.iter().copied().fold(f64::INFINITY, f64::min);
    assert_eq!(areas.len(), 60);
    for value in [mean, least] {
        assert!(text.contains(&format!("{value:.0} mm²")), "{value}");
    }
    for input in [
        "as drawn: no scale, turn or shift",
        "gauge of the sheet1.5 mm",
        "density of the sheet2.7 g/cm³",
        "Draft to the direction of drawDrawn along (0, 0, 1), a mould in one part",
        "cutterBall-nose cutter of radius 3 mm, working from outside",
    ] {
        let told = text.to_lowercase();
        assert!(told.contains(&input.to_lowercase()), "{input} in {text}");
    }
    // Each check with its limit, formula, source and caution; temperatures in both
    // scales.
    let reached = format!(
        "Least concave radius against the cutterat least 3 mm{reached}{reached} proved{}",
        60 - reached
    );
    for part in [
        reached.as_str(),
        "Sharp edges stand on",
        "Draft to the direction of drawat least 1 degrees",
        "Draft = arcsin(n·d)",
        "Source: geometry",
        "have an undercut",
        "927 °C (1700 °F)",
        "asphyxiate",
        "data sheet",
    ] {
        assert!(text.contains(part), "{part} is missing in {text}");
    }
    // Chosen pieces with pictures: the first of the run is one.
    assert!(text.contains("Piece 1: the first of the run"), "{text}");
    let pictures = run.out.matches("<svg class=\"solid\"").count();
    assert!((2..=8).contains(&pictures), "{pictures}");
    // With the finish of one of them.
    let finish = ["--stops", "0:80,140:20", "--piece", "9"];
    let finished = loftkin(&[&order[..], &finish].concat(), "");
    assert_eq!(finished.code, 0, "{}", finished.err);
    let text = text_of(&finished.out);
    assert!(text.contains("The finish of piece 9"), "{text}");
    for (refused, part) in [
        (
            &["report", "rims-that-agree.json", "--run", "no-such-folder"][..],
            "No such",
        ),
        (
            &[
                "report",
                "hoods-that-agree.json",
                "--run",
                out.to_str().unwrap(),
            ],
            "another family",
        ),
        (
            &[&order[..], &["--stops", "0:80,140:20", "--piece", "61"]].concat(),
            "no piece 61",
        ),
    ] {
        let run = loftkin(refused, "");
        assert_eq!(run.code, 2, "{}", run.err);
        assert!(run.err.contains(part), "{part} is missing in {}", run.err);
    }
}

/// A twist is told where it is worst, on the page and in the report for programs,
/// not only where the first witness was met.
#[test]
fn a_twist_is_told_where_it_is_worst() {
    let checked = loftkin(&["check", "--json", "hoods-with-faults.json"], "").out;
    let checked: Value = serde_json::from_str(&checked).unwrap();
    let page = text_of(&report("hoods-with-faults.json", ""));
    let mut told = 0;
    for cell in checked["families"][0]["cells"].as_array().unwrap() {
        let regions = cell["finding"]["regions"].as_array().unwrap().iter();
        let worst = regions
            .filter(|region| region["kind"] == "twist")
            .map(|region| region["angle"].as_f64().unwrap().abs())
            .fold(0.0, f64::max);
        for fault in cell["faults"].as_array().unwrap() {
            if fault["kind"] == "twist" {
                let said = format!("by {worst:.1} degrees");
                let sentence = fault["sentence"].as_str().unwrap();
                assert!(sentence.contains(&said), "{said}: {sentence}");
                assert!(page.contains(&said), "{said}");
                told += 1;
            }
        }
    }
    assert!(0 < told);
}

#[test]
fn names_stay_text() {
    let family = r#"{"format": "loftkin-family", "version": 1, "unit": "mm", "grid": 0.01, "name": "<b>&\"",
        "settings": {}, "profiles": [{"name": "<script>alert(1)</script>", "nodes": [[0, 0], [9, 1]]}]}"#;
    let page = report("-", family);
    assert!(
        !page.contains("<script>") && !page.contains("<b>"),
        "{page}"
    );
    assert!(text_of(&page).contains("<script>alert(1)</script>"));
}

#[test]
fn it_is_written_whole_and_over_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("report.html");
    let order = [
        "report",
        "rims-that-agree.json",
        "-o",
        out.to_str().unwrap(),
    ];
    assert_eq!(loftkin(&order, "").code, 0);
    assert_eq!(
        std::fs::read_to_string(&out).unwrap(),
        report("rims-that-agree.json", "")
    );
    let again = loftkin(&order, "");
    assert_eq!(again.code, 2);
    assert!(again.err.contains("--overwrite"), "{}", again.err);
    assert_eq!(
        loftkin(&[&order[..], &["--overwrite"]].concat(), "").code,
        0
    );
}
