//! Point lists: the two public forms, names, scale, closing, and what is refused.

use loftkin_exchange::point_list::{PointsError, Reading, read};
use loftkin_kernel::profile::{Outline, Profile};

fn given(scale: f64) -> Reading {
    Reading {
        scale: Some(scale),
        ..Reading::default()
    }
}

fn points(profile: &Profile) -> Vec<(i32, i32)> {
    match &profile.outline {
        Outline::Nodes(nodes) => nodes.iter().map(|node| (node.at.x, node.at.y)).collect(),
        Outline::Path { .. } => Vec::new(),
    }
}

#[test]
fn names_and_blank_lines_part_profiles() {
    let text =
        "# hoods\nQuay\n0 0\n10, 20\n30\t0\n\nMole\n\n1 1\n2 2\n\n5 5\n6 6\nJetty 4\n7 7\n8 8\n";
    let import = read(text, Reading::default()).unwrap();
    let names: Vec<_> = import
        .family
        .profiles
        .iter()
        .map(|p| p.name.as_str())
        .collect();
    assert_eq!(names, ["Quay", "Mole", "", "Jetty 4"]);
    assert_eq!(
        points(&import.family.profiles[0]),
        [(0, 0), (1000, 2000), (3000, 0)]
    );
    assert!(import.notes.is_empty(), "{:?}", import.notes);
}

/// The layout of the two forms as the UIUC Airfoil Coordinates Database
/// describes them; the section itself is invented.
#[test]
fn both_forms_of_a_wing_section_give_the_same_profile() {
    let one = "Vane\n1.0 0.001\n0.5 0.06\n0.0 0.0\n0.5 -0.03\n1.0 -0.001\n";
    let two = "Vane\n3. 3.\n\n0.0 0.0\n0.5 0.06\n1.0 0.001\n\n0.0 0.0\n0.5 -0.03\n1.0 -0.001\n";
    let (one, two) = (
        read(one, given(200.0)).unwrap(),
        read(two, given(200.0)).unwrap(),
    );
    assert_eq!(one.family, two.family);
    assert_eq!(points(&one.family.profiles[0])[0], (20_000, 20));
    assert_eq!(two.notes.len(), 1);
}

#[test]
fn fractions_of_a_chord_are_recognised_and_said() {
    let import = read("0 0\n0.5 0.1\n1 0\n", Reading::default()).unwrap();
    assert!(
        import.notes[0].text.contains("chord of 100 mm"),
        "{:?}",
        import.notes
    );
    assert_eq!(
        points(&import.family.profiles[0]),
        [(0, 0), (5000, 1000), (10_000, 0)]
    );
}

#[test]
fn a_run_that_returns_is_closed_and_its_sharp_seam_a_corner() {
    let import = read("100 0\n50 9\n0 0\n50 -9\n100 0\n", Reading::default()).unwrap();
    let profile = &import.family.profiles[0];
    assert!(profile.closed);
    assert_eq!(profile.node_count(), 4);
    assert!(
        import.notes[0].text.contains("corner"),
        "{:?}",
        import.notes
    );
    let open = Reading {
        closed: Some(false),
        ..Reading::default()
    };
    assert!(
        !read("100 0\n0 0\n50 -9\n100 0\n", open)
            .unwrap()
            .family
            .profiles[0]
            .closed
    );
}

#[test]
fn what_cannot_be_read_is_told_beside_what_could() {
    let many: String = (0..201).map(|x| format!("{x} 0\n")).collect();
    let text = format!("Good\n0 0\n9 9\n\nThree\n1 2 3\n\nLong\n{many}");
    let import = read(&text, Reading::default()).unwrap();
    assert_eq!(import.family.profiles.len(), 1);
    assert_eq!(
        import.notes[0].text,
        "“Three” at line 5 was left out: line 6: 3 numbers instead of x and y: head the columns, two of them x and y, to choose those."
    );
    assert!(
        import.notes[1]
            .text
            .contains("201 nodes: keep to 200 at most"),
        "{:?}",
        import.notes
    );
    assert!(matches!(
        read(&many, Reading::default()),
        Err(PointsError::NoProfile { .. })
    ));
}

#[test]
fn texts_without_points_are_refused() {
    for text in ["", "only words\nand more", "# 1 2\n", "nan nan\ninf 1\n"] {
        assert!(read(text, Reading::default()).is_err(), "{text}");
    }
    for scale in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert!(matches!(
            read("1 2\n3 4", given(scale)),
            Err(PointsError::Scale { .. })
        ));
    }
}
