//! The promises of the order `finish`: a table that can be run, the end with the
//! lower voltage uppermost, and what is unsure said.

mod common;

use common::loftkin;

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

#[test]
fn what_no_bath_can_do_is_explained() {
    for (more, part) in [
        (&["--stops", "0:20,110:60,220:30"][..], "can only rise"),
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
