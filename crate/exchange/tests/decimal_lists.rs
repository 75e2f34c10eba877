//! Point lists as spreadsheets write them: decimal commas, semicolons, tabs, and
//! columns with names.

use loftkin_exchange::point_list::{PointsError, Reading, read};
use loftkin_kernel::family::Family;
use loftkin_kernel::profile::Outline;

/// The points of all profiles, in steps of the grid.
fn points(family: &Family) -> Vec<Vec<(i32, i32)>> {
    let profiles = family.profiles.iter();
    let points = profiles.map(|profile| match &profile.outline {
        Outline::Nodes(nodes) => nodes.iter().map(|node| (node.at.x, node.at.y)).collect(),
        Outline::Path { .. } => Vec::new(),
    });
    points.collect()
}

const BRIM: [(i32, i32); 3] = [(50, -325), (11_250, 80), (18_000, 125)];

#[test]
fn every_way_to_write_the_same_points_gives_the_same_profile() {
    for text in [
        "0.5 -3.25\n112.5 0.8\n180 1.25\n",
        "0,5 -3,25\n112,5 0,8\n180 1,25\n",
        "0,5;-3,25\n112,5;0,8\n180;1,25\n",
        "0,5 ; -3,25 ;\r\n112,5 ; 0,8 ;\r\n180 ; 1,25 ;\r\n",
        "0,5\t-3,25\n112,5\t0,8\n180\t1,25\n",
        "0.5,-3.25\n112.5,0.8\n180,1.25\n",
        "0.5, -3.25\n112.5, 0.8\n180, 1.25\n",
        "5E-01 -3.25\n1.125e2 8,0e-1\n180 1.25\n",
        "x;y\n0,5;-3,25\n112,5;0,8\n180;1,25\n",
        "nr;x [mm];y [mm];place\n1;0,5;-3,25;foot\n2;112,5;0,8;\n3;180;1,25;top\n",
        "y\tx\n-3,25\t0,5\n0,8\t112,5\n1,25\t180\n",
        "East;North\n0,5;-3,25\n112,5;0,8\n180;1,25\n",
    ] {
        let import = read(text, Reading::default()).unwrap();
        assert_eq!(points(&import.family), [BRIM], "{text:?}");
        assert_eq!(import.family.profiles[0].name, "", "{text:?}");
        // What was taken for a head is told, and nothing else.
        let head = text.starts_with(|c: char| c.is_ascii_alphabetic());
        assert_eq!(import.notes.len(), usize::from(head), "{:?}", import.notes);
    }
}

#[test]
fn a_head_holds_for_all_profiles_below_it_and_names_stay_names() {
    let text = "x;y\nBrim\n0;0\n90;5,5\n\nLip, low\n0;7\n90;12,5\n";
    let import = read(text, Reading::default()).unwrap();
    let [brim, lip] = &import.family.profiles[..] else {
        panic!("{:?}", import.family);
    };
    assert_eq!(
        (brim.name.as_str(), lip.name.as_str()),
        ("Brim", "Lip, low")
    );
    assert_eq!(
        points(&import.family),
        [[(0, 0), (9000, 550)], [(0, 700), (9000, 1250)]]
    );
    let told: Vec<_> = import.notes.iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        ["Line 1 was read as the head of the columns: x stands in column 1, y in column 2."]
    );
}

/// A line that is meant as a point is never a name, which would part a profile.
#[test]
fn what_is_meant_as_a_point_is_refused_in_words() {
    for (text, words) in [
        (
            "0 0\n1.234,5;3\n90 5\n",
            "line 2: “1.234,5” has a second decimal mark",
        ),
        ("0 0\n12 3mm\n90 5\n", "line 2: “3mm” is no number"),
        (
            "12,5,3,75\n90,5,7,5\n",
            "line 1: 4 numbers instead of x and y: where commas",
        ),
        (
            "0 0\n1, 2,5\n90 5\n",
            "line 2: “1, 2,5” can be read in two ways",
        ),
        ("x;y;z\n1;2,5;0\n1;;3\n", "line 3: no number is given"),
    ] {
        let Err(PointsError::NoProfile { problem }) = read(text, Reading::default()) else {
            panic!("{text:?} was read");
        };
        assert!(problem.contains(words), "{text:?}: {problem}");
    }
}
