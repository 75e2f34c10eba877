//! Drawings for the shop, read back by roxmltree and kurbo's own reader of path data.

use kurbo::{BezPath, ParamCurve, Rect, Shape};
use loftkin_exchange::shop::{Label, drawing};
use loftkin_form::blend::{Blend, Layout};
use loftkin_form::piece::{Arrangement, Piece, signed_area};
use loftkin_form::solid::net::Net;
use loftkin_form::stations::{Station, Stations};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::{Node, Profile};

fn label() -> Label {
    Label {
        name: "Hood 3 & 4".to_owned(),
        note: "Profiles 1, 1.".to_owned(),
        made: String::new(),
    }
}

/// Paths by their id, and all words on the sheet.
fn read(svg: &str) -> (Vec<(String, BezPath)>, String) {
    let document = roxmltree::Document::parse(svg).unwrap();
    let root = document.root_element();
    let frame: Vec<f64> = (root.attribute("viewBox").unwrap().split(' '))
        .map(|value| value.parse().unwrap())
        .collect();
    assert_eq!(
        root.attribute("width"),
        Some(format!("{}mm", frame[2]).as_str())
    );
    let sheet = Rect::new(0.0, 0.0, frame[2], frame[3]);
    let paths = root.descendants().filter(|node| node.has_tag_name("path"));
    let paths: Vec<_> = paths
        .map(|node| {
            let path = BezPath::from_svg(node.attribute("d").unwrap()).unwrap();
            let bounds = path.bounding_box();
            assert_eq!(bounds.intersect(sheet), bounds, "off the sheet");
            (node.attribute("id").unwrap().to_owned(), path)
        })
        .collect();
    let words = root.descendants().filter(|node| node.has_tag_name("text"));
    let words: Vec<&str> = words.filter_map(|node| node.text()).collect();
    (paths, words.join("\n"))
}

fn find<'a>(paths: &'a [(String, BezPath)], id: &str) -> &'a BezPath {
    let found = paths.iter().find(|(other, _)| other == id);
    &found.unwrap_or_else(|| panic!("{id} is not drawn")).1
}

fn square() -> Curve {
    let nodes =
        [(10, 10), (-10, 10), (-10, -10), (10, -10)].map(|(x, y)| Node::corner(100 * x, 100 * y));
    Curve::new(&Profile::closed(nodes.to_vec()), Pacing::Parameter).unwrap()
}

fn hood() -> Curve {
    let nodes = vec![
        Node::smooth(1500, 6200),
        Node::smooth(5200, 5000),
        Node::smooth(7100, 2600),
        Node::smooth(8000, 0),
    ];
    Curve::new(&Profile::open(nodes), Pacing::Parameter).unwrap()
}

fn piece(curve: &Curve, stations: Stations, blend: Blend) -> Piece {
    let count = stations.count();
    let layout = Layout::new(stations, blend).unwrap();
    Piece::new(&[curve], &layout, Arrangement(vec![0; count])).unwrap()
}

fn pyramid() -> Piece {
    let stations = vec![Station::at(0.0), Station::at(15.0).scaled(0.5)];
    piece(&square(), Stations::stack(stations).unwrap(), Blend::Ruled)
}

#[test]
fn profiles_are_drawn_in_true_size() {
    let piece = pyramid();
    let (paths, words) = read(&drawing::profiles(&piece, &label()));
    assert_eq!(paths.len(), 2);
    for (index, (id, path)) in paths.iter().enumerate() {
        assert_eq!(*id, format!("station-{}", index + 1));
        let area = signed_area(piece.placed(index)).abs();
        assert!((path.area().abs() / area - 1.0).abs() < 1e-6);
    }
    // One over the other: the small square stands in the middle of the large one.
    let middle = |path: &BezPath| path.bounding_box().center();
    assert!((middle(&paths[0].1) - middle(&paths[1].1)).hypot() < 1e-5);
    for line in ["Hood 3 & 4", "Station 2 at 15 mm: profile 1"] {
        assert!(words.contains(line), "{words}");
    }
}

#[test]
fn a_pyramid_is_four_sides_bent_three_times() {
    let piece = pyramid();
    let (paths, words) = read(&drawing::flat(&piece, &Net::new(&piece), &label()));
    assert!(words.contains("laid flat without stretch"));
    let ids: Vec<&str> = paths.iter().map(|(id, _)| id.as_str()).collect();
    assert_eq!(
        ids,
        ["skin-1", "skin-1-bend-1", "skin-1-bend-2", "skin-1-bend-3"]
    );
    // Four trapezia, 20 and 10 mm wide, with slant sqrt(15^2 + 5^2).
    let area = 4.0 * 15.0 * 250.0_f64.sqrt();
    assert!((paths[0].1.area().abs() / area - 1.0).abs() < 1e-6);
    // The normals of two walls, (15, 0, 5) and (0, 15, 5), are acos(25 / 250) apart.
    assert_eq!(words.matches("84.3\u{b0} down").count(), 3, "{words}");
    assert!(words.contains("Seen from outside the piece. Dashed: fold"));
    // Each bend runs along an edge from corner to corner: sqrt(5^2 + 5^2 + 15^2).
    for (_, bend) in &paths[1..] {
        let line = bend.segments().next().unwrap();
        assert!(((line.end() - line.start()).hypot() / 275.0_f64.sqrt() - 1.0).abs() < 1e-6);
    }
}

/// A prism over the triangle of sides 30, 40 and 50. For one who walks round it
/// outside and looks at it, its walls pass from left to right as its outline runs
/// anticlockwise; of a clockwise outline they do so for one inside.
#[test]
fn a_pattern_says_from_which_side_it_is_seen() {
    let corners = [(0, 0), (4000, 0), (0, 3000)];
    let prism = |corners: [(i32, i32); 3]| {
        let nodes = corners.map(|(x, y)| Node::corner(x, y)).to_vec();
        let outline = Curve::new(&Profile::closed(nodes), Pacing::Parameter).unwrap();
        let stations = [0.0, 20.0].map(Station::at).to_vec();
        piece(&outline, Stations::stack(stations).unwrap(), Blend::Ruled)
    };
    let [one, two, three] = corners;
    for (corners, walls, side) in [
        ([one, two, three], [40.0, 50.0], "Seen from outside"),
        ([one, three, two], [30.0, 50.0], "Seen from inside"),
    ] {
        let piece = prism(corners);
        let (paths, words) = read(&drawing::flat(&piece, &Net::new(&piece), &label()));
        assert!(words.contains(side), "{words}");
        let ends = paths.iter().map(|(_, path)| path.bounding_box().x0);
        let ends: Vec<f64> = ends.collect();
        assert!((ends[1] - ends[0] - walls[0]).abs() < 1e-5);
        assert!((ends[2] - ends[1] - walls[1]).abs() < 1e-5);
    }
}

#[test]
fn a_skin_that_must_stretch_gets_templates_and_the_reason() {
    let stations = vec![Station::at(0.0), Station::at(15.0).turned(30.0)];
    let twisted = piece(&square(), Stations::stack(stations).unwrap(), Blend::Ruled);
    let (paths, words) = read(&drawing::flat(&twisted, &Net::new(&twisted), &label()));
    assert!(words.contains("cannot be laid flat") && words.contains("templates"));
    assert_eq!(paths.len(), 2);
    let [one, other] = [&paths[0].1, &paths[1].1].map(Shape::bounding_box);
    assert!(one.intersect(other).is_zero_area());
}

/// A straight prism below a twisted band below a pyramid: two patterns, and the
/// twisted band named with templates of its ends.
#[test]
fn a_band_that_must_stretch_leaves_the_others_flat() {
    let stations = vec![
        Station::at(0.0),
        Station::at(20.0),
        Station::at(35.0).turned(30.0),
        Station::at(50.0).turned(30.0).scaled(0.5),
    ];
    let piece = piece(&square(), Stations::stack(stations).unwrap(), Blend::Ruled);
    let svg = drawing::flat(&piece, &Net::new(&piece), &label());
    let (paths, words) = read(&svg);
    assert!(
        words.contains("from station 2 to 3 cannot be laid flat"),
        "{words}"
    );
    assert_eq!(words.matches("cannot be laid flat").count(), 1);
    let (prism, top) = (find(&paths, "skin-1"), find(&paths, "skin-3"));
    assert!((prism.area().abs() / (80.0 * 20.0) - 1.0).abs() < 1e-6);
    let area = 4.0 * 15.0 * 250.0_f64.sqrt();
    assert!((top.area().abs() / area - 1.0).abs() < 1e-6);
    let drawn = |id: &str| paths.iter().any(|(other, _)| other == id);
    assert!(!drawn("skin-2"));
    let templates = ["station-1", "station-2", "station-3", "station-4"].map(drawn);
    assert_eq!(templates, [false, true, true, false]);
    assert_eq!(words.matches("90.0\u{b0} down").count(), 3, "{words}");
    // Each edge to the twisted band is a joint in a layer of its own, along the edge.
    let document = roxmltree::Document::parse(&svg).unwrap();
    let layer = |name: &str| -> Vec<&str> {
        let layer = document
            .descendants()
            .find(|node| node.attribute("id") == Some(name));
        let paths = layer
            .unwrap()
            .children()
            .filter(|node| node.has_tag_name("path"));
        paths.filter_map(|path| path.attribute("id")).collect()
    };
    assert_eq!(layer("joint-lines"), ["skin-1-joint-2", "skin-3-joint-3"]);
    assert_eq!(layer("fold-lines").len(), 6);
    assert_eq!(layer("cut-lines").len(), 4);
    let joint = find(&paths, "skin-1-joint-2");
    assert!((joint.perimeter(1e-6) - 80.0).abs() < 1e-4);
}

/// Cones with half angles of 18.43 and 16.70 degrees: the upper one stands steeper.
#[test]
fn frusta_on_each_other_tell_the_angle_between_them() {
    let nodes = (0..64).map(|k| {
        let angle = std::f64::consts::TAU * f64::from(k) / 64.0;
        let at = |value: f64| (2000.0 * value).round() as i32;
        Node::smooth(at(angle.cos()), at(angle.sin()))
    });
    let circle = Curve::new(&Profile::closed(nodes.collect()), Pacing::Parameter).unwrap();
    let stations = vec![
        Station::at(0.0),
        Station::at(30.0).scaled(0.5),
        Station::at(50.0).scaled(0.2),
    ];
    let piece = piece(&circle, Stations::stack(stations).unwrap(), Blend::Ruled);
    let (paths, words) = read(&drawing::flat(&piece, &Net::new(&piece), &label()));
    let told = (10.0_f64 / 30.0).atan().to_degrees() - (6.0_f64 / 20.0).atan().to_degrees();
    let told = format!("{told:.1}\u{b0} up");
    assert_eq!(words.matches(&told).count(), 2, "{told}: {words}");
    let ids: Vec<&str> = paths.iter().map(|(id, _)| id.as_str()).collect();
    assert_eq!(
        ids,
        ["skin-1", "skin-2", "skin-1-joint-2", "skin-2-joint-2"]
    );
}

#[test]
fn the_trim_of_a_round_hood_is_two_circles() {
    let stations = [0.0, 120.0, 200.0].map(Station::at).to_vec();
    let piece = piece(
        &hood(),
        Stations::ring(stations, true).unwrap(),
        Blend::Ruled,
    );
    let (paths, words) = read(&drawing::trim(&Net::new(&piece), &label()));
    assert!(words.contains("in plan"));
    let mut radii: Vec<f64> = paths
        .iter()
        .map(|(_, path)| (path.area().abs() / std::f64::consts::PI).sqrt())
        .collect();
    radii.sort_by(f64::total_cmp);
    // The profile begins 15 mm from the axis and ends 80 mm from it; lines keep within 0.001 mm.
    assert_eq!(radii.len(), 2);
    assert!(
        (radii[0] - 15.0).abs() < 1e-3 && (radii[1] - 80.0).abs() < 1e-3,
        "{radii:?}"
    );
}

#[test]
fn a_closed_ring_says_that_there_is_nothing_to_trim() {
    let stations = [0.0, 120.0, 200.0].map(Station::at).to_vec();
    let stations = stations
        .into_iter()
        .map(|station| station.shifted(60.0, 0.0))
        .collect();
    let piece = piece(
        &square(),
        Stations::ring(stations, true).unwrap(),
        Blend::Ruled,
    );
    let (paths, words) = read(&drawing::trim(&Net::new(&piece), &label()));
    assert!(paths.is_empty() && words.contains("no edge in plan"));
}

#[test]
fn an_open_stack_is_trimmed_all_round() {
    let stations = [0.0, 40.0].map(Station::at).to_vec();
    let piece = piece(&hood(), Stations::stack(stations).unwrap(), Blend::Eased);
    let (paths, _) = read(&drawing::trim(&Net::new(&piece), &label()));
    assert_eq!(paths.len(), 1);
    // Both stations hold the same profile, so the way out and the way back are one line in plan.
    assert!(paths[0].1.area().abs() < 1e-6);
}
