//! SVG drawings against the rules of W3C SVG 2: path commands (section 9.3),
//! units (section 8.9), basic shapes as paths (chapter 10), arcs (appendix B.2).

use loftkin_exchange::import::{Import, Take};
use loftkin_exchange::svg::{self, ARC_TOLERANCE, SvgError, write};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::{Family, Pacing};
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Node, Outline, PathSpan, Profile};
use proptest::prelude::*;

/// Half the diagonal of a grid cell: what rounding may move a point by, in mm.
const ROUNDING: f64 = 0.0071;

fn read(text: &str) -> Result<Import, SvgError> {
    svg::read(text, None)
}

/// A drawing of 1000 by 1000 mm, one unit a millimetre.
fn drawing(inside: &str) -> String {
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"1000mm\" height=\"1000mm\" viewBox=\"0 0 1000 1000\">{inside}</svg>"
    )
}

fn profiles(inside: &str) -> Vec<Profile> {
    read(&drawing(inside)).unwrap().family.profiles
}

/// The profiles of a drawing that may mix open and closed ones: the open ones,
/// then the closed ones.
fn mixed_profiles(inside: &str) -> Vec<Profile> {
    let taken = |take| svg::read(&drawing(inside), Some(take)).unwrap().family;
    let open = taken(Take::Open).profiles;
    open.into_iter()
        .chain(taken(Take::Closed).profiles)
        .collect()
}

/// The only profile of a drawing with the path `data`.
fn path(data: &str) -> Profile {
    let mut all = profiles(&format!("<path d=\"{data}\"/>"));
    assert_eq!(all.len(), 1, "{data}");
    all.remove(0)
}

#[test]
fn every_command_means_the_same_relative_and_absolute() {
    let absolute =
        path("M10 10L20 10H30V20C30 30 20 30 20 20S10 10 5 20Q0 30 5 40T10 50A10 20 30 0 1 20 60Z");
    let relative =
        path("m10 10l10 0h10v10c0 10-10 10-10 0s-10-10-15 0q-5 10 0 20t5 10a10 20 30 0 1 10 10z");
    assert_eq!(absolute.outline, relative.outline);
    assert!(absolute.closed && relative.closed);
}

/// SVG 2, 9.3.6 and 9.3.7: a smooth command mirrors only a handle of its own
/// kind; after any other command its first control point is the current point.
#[test]
fn smooth_commands_mirror_only_their_own_kind() {
    assert_eq!(
        path("M0 0Q10 10 20 0S40 10 50 0").outline,
        path("M0 0Q10 10 20 0C20 0 40 10 50 0").outline
    );
    assert_eq!(
        path("M0 0C0 9 20 9 20 0T50 0").outline,
        path("M0 0C0 9 20 9 20 0Q20 0 50 0").outline
    );
    assert_eq!(
        path("M0 0C0 9 20 9 20 0S50 9 50 0").outline,
        path("M0 0C0 9 20 9 20 0C20-9 50 9 50 0").outline
    );
    assert_eq!(
        path("M0 0Q10 9 20 0T50 0").outline,
        path("M0 0Q10 9 20 0Q30-9 50 0").outline
    );
    assert_eq!(
        path("M0 0L20 0S50 9 50 0").outline,
        path("M0 0L20 0C20 0 50 9 50 0").outline
    );
}

#[test]
fn implicit_commands_tight_numbers_and_flags_are_read() {
    assert_eq!(path("M1 2 3 4 5 6").outline, path("M1 2L3 4L5 6").outline);
    assert_eq!(
        path("m1-2.5.5 3e1").outline,
        path("M1 -2.5L1.5 27.5").outline
    );
    assert_eq!(
        path("M0 0a10 10 0 0110 10").outline,
        path("M0 0A10 10 0 0 1 10 10").outline
    );
}

#[test]
fn y_turns_upward_and_quadratics_rise_exactly() {
    let Outline::Path { start, spans } = path("M0 0Q30 60 60 0").outline else {
        panic!("no path");
    };
    assert_eq!(start, GridPoint::new(0, 0));
    let cubic = PathSpan::Cubic {
        first: GridPoint::new(2000, -4000),
        second: GridPoint::new(4000, -4000),
        to: GridPoint::new(6000, 0),
    };
    assert_eq!(spans, [cubic]);
}

/// A circle by two arcs, at radii over four decades: every point of the curve
/// stands at the radius, but for the arc tolerance and the rounding.
#[test]
fn arcs_stay_on_their_circle() {
    for radius in [0.5, 5.0, 50.0, 500.0, 5000.0] {
        let around = format!(
            "M{radius} 0A{radius} {radius} 0 0 1 -{radius} 0A{radius} {radius} 0 0 1 {radius} 0Z"
        );
        let curve = Curve::new(&path(&around), Pacing::Parameter).unwrap();
        for step in 0..=1000 {
            let point = curve.point_mm(f64::from(step) / 1000.0);
            let miss = (point.x.hypot(point.y) - radius).abs();
            assert!(
                miss <= ARC_TOLERANCE + ROUNDING,
                "radius {radius}: {miss} mm off"
            );
        }
    }
}

/// SVG 2, appendix B.2: radii too small are enlarged, a radius of zero is a
/// straight line; the large-arc flag takes the longer way.
#[test]
fn unusual_arcs_follow_the_rules() {
    let half = Curve::new(&path("M0 0A1 1 0 0 1 20 0"), Pacing::Parameter).unwrap();
    let top = half.point_mm(0.5);
    assert!(
        (top.x - 10.0).abs() < 0.02 && (top.y - 10.0).abs() < 0.02,
        "{top}"
    );
    assert_eq!(
        path("M0 0A0 5 0 0 1 20 0").outline,
        path("M0 0L20 0").outline
    );
    let large = Curve::new(&path("M0 0A10 10 0 1 1 10 10"), Pacing::Parameter).unwrap();
    let far = large.point_mm(0.5);
    // Its centre is (10, 0) or (0, 10) in the drawing; halfway it stands opposite the chord's middle.
    let from_chord = (far.x - 5.0).hypot(far.y + 5.0);
    assert!(
        (from_chord - (10.0 + 50.0_f64.sqrt())).abs() < 0.02,
        "{far}"
    );
}

#[test]
fn transforms_around_a_path_are_applied_from_the_inside_out() {
    let turned = profiles(
        "<g transform=\"translate(100 0) rotate(90)\"><g transform=\"scale(2)\"><path d=\"M0 0L10 0\"/></g></g>",
    );
    let expected = Outline::Path {
        start: GridPoint::new(10_000, 0),
        spans: vec![PathSpan::Line {
            to: GridPoint::new(10_000, -2000),
        }],
    };
    assert_eq!(turned[0].outline, expected);
    let import = read(&drawing(
        "<path d=\"M0 0L9 9\"/><g transform=\"twirl(3)\"><path d=\"M0 0L9 9\"/></g>",
    ))
    .unwrap();
    assert_eq!(import.family.profiles.len(), 1);
    assert!(
        import.notes[0]
            .text
            .starts_with("Path 2 was left out: a transform"),
        "{:?}",
        import.notes
    );
}

/// CSS Values and Units 6.2: 1 in = 25.4 mm = 96 px = 72 pt = 6 pc.
#[test]
fn units_give_the_size() {
    let length = |head: &str| {
        let text = format!("<svg {head}><path d=\"M0 0L96 0\"/></svg>");
        let import = read(&text).unwrap();
        let Outline::Path { spans, .. } = &import.family.profiles[0].outline else {
            panic!("no path");
        };
        (spans[0].to().x, import.notes.len())
    };
    assert_eq!(length(""), (2540, 1));
    assert_eq!(length("width=\"96mm\""), (2540, 1));
    for width in ["25.4mm", "2.54cm", "1in", "96px", "96", "72pt", "6pc"] {
        assert_eq!(
            length(&format!("width=\"{width}\" viewBox=\"0 0 96 50\"")),
            (2540, 0),
            "{width}"
        );
    }
    assert_eq!(
        length("width=\"960mm\" height=\"50mm\" viewBox=\"0 0 96 50\""),
        (9600, 0)
    );
    assert_eq!(
        length(
            "width=\"960mm\" height=\"50mm\" viewBox=\"0 0 96 50\" preserveAspectRatio=\"none\""
        ),
        (96_000, 0)
    );
}

#[test]
fn simple_shapes_are_paths_and_names_come_along() {
    let all = mixed_profiles(
        "<line id=\"sill\" x2=\"9\" y2=\"9\"/><polyline points=\"0,0 9,0 9 9\"><title> Low  brim </title></polyline><polygon points=\"0,0 9,0 9,9\"/>",
    );
    let names: Vec<_> = all.iter().map(|p| p.name.as_str()).collect();
    assert_eq!(names, ["sill", "Low brim", ""]);
    assert_eq!(
        all.iter().map(Profile::span_count).collect::<Vec<_>>(),
        [1, 2, 3]
    );
    assert_eq!(
        all.iter().map(|p| p.closed).collect::<Vec<_>>(),
        [false, false, true]
    );
}

#[test]
fn subpaths_become_profiles_and_what_is_left_out_is_said() {
    let import = read(&drawing(
        "<defs><path d=\"M0 0L1 1\"/></defs><rect width=\"4\" height=\"4\"/><rect width=\"4\" height=\"4\"/><text>words</text>\
         <path id=\"rim\" d=\"M0 0L9 0L9 9ZM20 0L29 0L20 0\"/><path d=\"M1 1L2 oops\"/><path style=\"display: none\" d=\"M0 0L5 5\"/>",
    ))
    .unwrap();
    let names: Vec<_> = import
        .family
        .profiles
        .iter()
        .map(|p| p.name.as_str())
        .collect();
    assert_eq!(names, ["rim 1", "rim 2"]);
    let notes: Vec<_> = import.notes.iter().map(ToString::to_string).collect();
    assert!(
        notes[0].starts_with("Profile 2: ends where it starts"),
        "{notes:?}"
    );
    assert!(
        notes[1].starts_with("Path 2 was left out: its path data"),
        "{notes:?}"
    );
    assert!(
        notes
            .contains(&"2 elements of kind rect left out: turn each into a path first.".to_owned())
    );
    assert!(
        notes.contains(&"1 element left out, since hidden.".to_owned()),
        "{notes:?}"
    );
}

#[test]
fn hostile_drawings_are_refused_politely() {
    let laughs = "<!DOCTYPE svg [<!ENTITY a \"aaaa\"><!ENTITY b \"&a;&a;&a;\">]><svg><path d=\"&b;\"/></svg>";
    assert_eq!(read(laughs), Err(SvgError::DocumentType));
    assert!(matches!(read("<svg><path"), Err(SvgError::Xml { .. })));
    assert!(matches!(read("<html/>"), Err(SvgError::NotSvg { .. })));
    assert!(matches!(read("<svg/>"), Err(SvgError::NoProfile { .. })));
    let deep = format!(
        "<svg>{}<path d=\"M0 0L9 9\"/>{}</svg>",
        "<g>".repeat(100_000),
        "</g>".repeat(100_000)
    );
    assert!(matches!(read(&deep), Err(SvgError::NoProfile { .. })));
    for data in [
        "M0 0A1e300 1e300 0 0 1 9 9",
        "M0 0A1e12 1 0 0 1 9 9",
        "M0 0L1e300 0",
        "M1e308 0l1e308 0",
        "M0 0A5 5 1e300 0 1 1e9 1e9",
        "M0 0C1e308 1e308 -1e308 0 5 5s1e308 0 5 5",
    ] {
        let found = read(&drawing(&format!("<path d=\"{data}\"/>")));
        assert!(
            matches!(found, Err(SvgError::NoProfile { .. })),
            "{data}: {found:?}"
        );
    }
    for transform in [
        "scale(1e300)",
        "scale(0)",
        "matrix(0 0 0 0 0 0)",
        "scale(1e-300)",
        "rotate(1e300)",
    ] {
        // Any answer will do, as long as there is one.
        let _ = read(&drawing(&format!(
            "<path transform=\"{transform}\" d=\"M0 0A5 5 0 0 1 9 9\"/>"
        )));
    }
}

#[test]
fn written_drawings_come_back() {
    let exact = path("M0.01 0.5L20 10C30.03 30 20.5 30 20 20Z").named("Brim & <lip>");
    let nodes = Profile::closed(vec![
        Node::smooth(0, 0),
        Node::smooth(5000, 100),
        Node::corner(2000, 7000),
    ]);
    let family = Family {
        name: "Rims".to_owned(),
        profiles: vec![exact.clone(), nodes.clone()],
        ..Family::default()
    };
    let import = read(&write(&family)).unwrap();
    assert_eq!(import.family.name, family.name);
    assert_eq!(import.family.profiles[0], exact);
    let before = Curve::new(&nodes, Pacing::Node).unwrap();
    let after = Curve::new(&import.family.profiles[1], Pacing::Node).unwrap();
    for step in 0..=100 {
        let u = f64::from(step) / 100.0;
        assert!((before.point_mm(u) - after.point_mm(u)).norm() < ROUNDING);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_path_data_is_read_or_refused(data in "[MmLlHhVvCcSsQqTtAaZz0-9e., -]{0,60}") {
        let _ = read(&drawing(&format!("<path d=\"M0 0{data}\"/>")));
    }

    #[test]
    fn any_text_is_read_or_refused(text in "(<svg[^>]{0,20}>)?\\PC{0,80}(</svg>)?") {
        let _ = read(&text);
    }
}
