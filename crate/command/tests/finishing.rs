//! The promises of the order `finish`: a table that can be run, the end with the
//! lower voltage uppermost, the same as on the page, and what is unsure said.

mod common;

use common::{demo_folder, loftkin};
use loftkin_exchange::family_json;
use loftkin_work::series::{FinishWish, SeriesSession, StopWish, document};

const RIMS: [&str; 4] = ["finish", "rims-that-agree.json", "--at", "0,60,140,220"];

fn finish(more: &[&str]) -> common::Run {
    loftkin(&[&RIMS[..], more].concat(), "")
}

/// The rows of a table without its header, as numbers; colours left out.
fn rows(table: &str) -> Vec<Vec<f64>> {
    let lines = table.lines().skip(1);
    lines
        .map(|line| {
            line.split(',')
                .take(7)
                .map(|value| value.parse().unwrap())
                .collect()
        })
        .collect()
}

/// Straight between 20 V at the foot and 80 V at 200 mm, 80 V above; at 2.2 nm a
/// volt within 10 per cent; 22 mm a row at 44 mm a minute are 30 s.
#[test]
fn the_table_runs_from_the_end_with_the_lower_voltage() {
    let more = [
        "--stops",
        "200:80,0:20",
        "--nm-per-volt",
        "2.2",
        "--lift",
        "44",
        "--rows",
        "11",
    ];
    let run = finish(&more);
    assert_eq!(run.code, 0, "{}", run.err);
    let rows = rows(&run.out);
    assert_eq!(rows.len(), 11);
    for (index, row) in rows.iter().enumerate() {
        let height = 22.0 * index as f64;
        let volts = (20.0 + 60.0 * height / 200.0).min(80.0);
        let film = 2.2 * volts;
        let exact = [
            height,
            height,
            30.0 * index as f64,
            volts,
            film,
            0.9 * film,
            1.1 * film,
        ];
        for (value, exact) in row.iter().zip(exact) {
            assert!((value - exact).abs() < 0.051, "{row:?} for {exact}");
        }
    }
    assert!(run.err.contains("turned over"), "{}", run.err);
    for part in [
        "gloves",
        "licensed practice",
        "trial strip",
        "60 V can kill",
    ] {
        let words = run.err.replace("\n  ", " ");
        assert!(words.contains(part), "{part} is missing in {words}");
    }
    // The other way round it hangs as it is drawn.
    let run = finish(&["--stops", "0:80,220:20", "--rows", "2"]);
    assert_eq!(
        rows_of_two(&run.out),
        [[220.0, 0.0, 20.0], [0.0, 220.0, 80.0]]
    );
    assert!(run.err.contains("as it is drawn") && run.err.contains("Not calibrated"));
}

/// Height, way lifted, volts.
fn rows_of_two(table: &str) -> [[f64; 3]; 2] {
    let rows = rows(table);
    [0, 1].map(|row| [rows[row][0], rows[row][1], rows[row][3]])
}

/// One order, given here and on the page, is one table, to the byte.
#[test]
fn the_page_and_the_command_write_the_same_table() {
    let text = |name: &str| std::fs::read_to_string(demo_folder().join(name)).unwrap();
    let series = document::of_file(&text("hoods-from-rims.series.json")).unwrap();
    let family = family_json::read(&text("rims-that-agree.json"))
        .unwrap()
        .family;
    let session = SeriesSession::new(family, &series.wish).unwrap();
    // Lifted by 52 mm at 13 mm a minute; the lower voltage at the foot, then at the top,
    // then with stops that do not reach the ends.
    for (over, stops) in [
        (true, [(0.0, 18.0), (20.0, 41.5), (52.0, 77.0)]),
        (false, [(52.0, 18.0), (20.0, 41.5), (0.0, 77.0)]),
        (true, [(3.0, 20.0), (20.0, 30.0), (40.0, 30.0)]),
    ] {
        let wish = FinishWish {
            nm_per_volt: 2.2,
            lowest: 2.2 * (1.0 - 5.0 / 100.0),
            highest: 2.2 * (1.0 + 5.0 / 100.0),
            start: 3.0,
            oxide: 2.4,
            aslant: 45.0,
            linear_to: Some(60.0),
            breakdown: Some(90.5),
            rise: Some(2.0),
            current: Some(3.0),
            over,
            stops: stops
                .map(|(height, volts)| StopWish { height, volts })
                .to_vec(),
            minutes: 4.0,
            rows: 9,
        };
        let page = session.finish("46", &wish).unwrap();
        let stops = stops
            .map(|(height, volts)| format!("{height}:{volts}"))
            .join(",");
        let run = loftkin(
            &[
                &["finish", "rims-that-agree.json"][..],
                &["--series", "hoods-from-rims.series.json", "--piece", "46"],
                &["--stops", &stops, "--nm-per-volt", "2.2", "--within", "5"],
                &["--film-before", "3", "--oxide", "2.4", "--aslant", "45"],
                &["--linear-to", "60", "--breakdown", "90.5"],
                &["--most-rise", "2", "--most-current", "3"],
                &["--lift", "13", "--rows", "9"],
            ]
            .concat(),
            "",
        );
        assert_eq!(run.code, 0, "{}", run.err);
        assert_eq!(run.out, page.csv);
        // RFC 4180.
        assert_eq!(run.out.matches("\r\n").count(), 10);
        let err = run.err.replace("\n  ", " ");
        for sentence in page
            .said
            .iter()
            .take(page.said.len() - 1)
            .chain(&page.cautions)
        {
            assert!(
                err.contains(sentence.as_str()),
                "{sentence} is missing in {err}"
            );
        }
    }
}

#[test]
fn what_no_bath_can_do_is_explained() {
    for (more, part) in [
        (&["--stops", "0:20,110:60,220:30"][..], "can only rise"),
        (
            &["--stops", "0:20,220:60", "--breakdown", "60"][..],
            "breaks down at 60 V",
        ),
        (
            &["--stops", "0:20,220:60", "--most-rise", "0.1"][..],
            "0.15 V a second",
        ),
        (&["--stops", "0:20,221:60"], "reaches from 0.00 to 220.00"),
        (&["--stops", "0:20,0:60"], "two voltages"),
        (&["--stops", "0:20,220:200"], "0 to 140 V"),
        (&["--stops", "0:20,220:60", "--lift", "0"], "above 0"),
        (
            &[
                "--stops",
                "0:20,220:60",
                "--nm-per-volt",
                "2",
                "--within",
                "90",
            ],
            "0 to 50",
        ),
        (
            &["--stops", "0:20,220:60", "--piece", "5000"],
            "from 1 to 4096",
        ),
        (&["--stops", "20"], "as 180:90"),
        (&["--piece", "1"], "--stops"),
    ] {
        let run = finish(more);
        assert_eq!(
            (run.code, run.out.as_str()),
            (2, ""),
            "{more:?}: {}",
            run.err
        );
        assert!(run.err.contains(part), "{part} is missing in {}", run.err);
    }
}

#[test]
fn table_and_page_are_written_over_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let (table, page) = (
        folder.path().join("bath.csv"),
        folder.path().join("bath.html"),
    );
    let files = [
        "-o",
        table.to_str().unwrap(),
        "--html",
        page.to_str().unwrap(),
    ];
    let more = [&["--stops", "0:20,220:60", "--piece", "77"], &files[..]].concat();
    let run = finish(&more);
    assert_eq!((run.code, run.out.as_str()), (0, ""), "{}", run.err);
    assert_eq!(rows(&std::fs::read_to_string(&table).unwrap()).len(), 25);
    let text = std::fs::read_to_string(&page).unwrap();
    for part in [
        "The finish of piece 77",
        "60 V can kill",
        "thinnest",
        "Johnson and Christy",
    ] {
        assert!(text.contains(part), "{part}");
    }
    for word in ["http:", "https:", "<script", "url(", "src=", " style="] {
        assert!(!text.contains(word), "{word}");
    }
    let again = finish(&more);
    assert_eq!(again.code, 2);
    assert!(again.err.contains("--overwrite"), "{}", again.err);
    assert_eq!(finish(&[&more[..], &["--overwrite"]].concat()).code, 0);
}

/// A film of 45 nm at 2.5 nm a volt is 18 V, at 10 per cent more or less 16.4 to 20 V.
#[test]
fn the_volts_of_a_colour_are_found_without_a_piece() {
    let chart = loftkin(
        &[
            &RIMS[..],
            &["--stops", "0:18", "--nm-per-volt", "2.5", "--rows", "2"],
        ]
        .concat(),
        "",
    );
    let colour = chart.out.lines().nth(1).unwrap().split(',').nth(7).unwrap();
    for text in [colour, colour.trim_start_matches('#')] {
        let run = loftkin(&["finish", "--colour", text, "--nm-per-volt", "2.5"], "");
        assert_eq!(run.code, 0, "{}", run.err);
        let first: Vec<&str> = run.out.lines().nth(1).unwrap().split(',').collect();
        let number = |at: usize| first[at].parse::<f64>().unwrap();
        for (at, exact) in [(0, 45.0), (1, 1.0), (5, 18.0), (6, 16.36), (7, 20.0)] {
            assert!((number(at) - exact).abs() < 0.25, "{first:?}: {exact}");
        }
        let err = run.err.replace("\n  ", " ");
        for part in ["not told apart", "CIEDE2000", "60 V can kill", "estimates"] {
            assert!(err.contains(part), "{part} is missing in {err}");
        }
    }
    let scarlet = loftkin(&["finish", "--colour", "ff0000"], "");
    assert_eq!(scarlet.code, 1);
    assert!(
        scarlet.err.contains("No film comes near #ff0000"),
        "{}",
        scarlet.err
    );
    for (more, part) in [
        (&["--colour", "blue"][..], "six hexadecimal digits"),
        (&["--colour", "ff0000", "--oxide", "9"], "index 9"),
        (
            &["--colour", "ff0000", "--stops", "0:20"],
            "cannot be used with",
        ),
        (
            &["--colour", "ff0000", "--at", "0,20"],
            "cannot be used with",
        ),
        (
            &["--colour", "ff0000", "rims-that-agree.json"],
            "cannot be used with",
        ),
        (&[], "--stops"),
    ] {
        let run = loftkin(&[&["finish"][..], more].concat(), "");
        assert_eq!((run.code, run.out.as_str()), (2, ""), "{more:?}");
        assert!(run.err.contains(part), "{part} is missing in {}", run.err);
    }
}
