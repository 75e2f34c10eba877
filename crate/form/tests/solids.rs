//! Faces and meshes of pieces, held against closed forms, against the piece
//! itself and against each other.

use loftkin_form::blend::{Blend, Degree, Layout};
use loftkin_form::body::measures::measure;
use loftkin_form::piece::{Arrangement, Piece};
use loftkin_form::solid::body::{Body, Surface};
use loftkin_form::solid::mesh::{MOST_TRIANGLES, Mesh, MeshError};
use loftkin_form::solid::net::Net;
use loftkin_form::solid::steps::Steps;
use loftkin_form::stations::{Station, Stations};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::{Family, Pacing};
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Node, Outline, PathSpan, Profile};
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::Verdict;
use nalgebra::{Point2, Point3};
use std::collections::HashMap;
use std::f64::consts::{PI, TAU};

const BLENDS: [Blend; 4] = [
    Blend::Ruled,
    Blend::Eased,
    Blend::BSpline(Degree::Two),
    Blend::BSpline(Degree::Three),
];

fn curve(profile: &Profile) -> Curve {
    Curve::new(profile, Pacing::Parameter).unwrap()
}

fn round(count: usize, radius: f64, middle: i32) -> Curve {
    let nodes = (0..count).map(|k| {
        let angle = TAU * k as f64 / count as f64;
        let at = |value: f64| libm::round(100.0 * radius * value) as i32;
        Node::smooth(middle + at(libm::cos(angle)), at(libm::sin(angle)))
    });
    curve(&Profile::closed(nodes.collect()))
}

fn square(half: i32, middle: i32) -> Curve {
    let nodes = [(1, 1), (-1, 1), (-1, -1), (1, -1)]
        .map(|(x, y)| Node::corner(middle + x * half, y * half));
    curve(&Profile::closed(nodes.to_vec()))
}

fn arch() -> Curve {
    let nodes = vec![
        Node::smooth(4000, 0),
        Node::smooth(5200, 2000),
        Node::corner(6000, 2600),
        Node::smooth(7200, 4700),
    ];
    curve(&Profile::open(nodes))
}

fn settings() -> Vec<Stations> {
    let places = || {
        vec![
            Station::at(10.0),
            Station::at(40.0).scaled(1.2),
            Station::at(130.0).shifted(3.0, -2.0),
            Station::at(200.0),
        ]
    };
    [
        Stations::stack(places()),
        Stations::ring(places(), false),
        Stations::ring(places(), true),
    ]
    .map(|stations| stations.unwrap().about(Point2::new(80.0, 0.0)).unwrap())
    .to_vec()
}

/// Every setting with every blend, for closed outlines with and without corners,
/// clockwise ones, and open ones.
fn pieces() -> Vec<Piece> {
    let mut backward: Vec<_> = [(1, 1), (-1, 1), (-1, -1), (1, -1)]
        .map(|(x, y)| Node::smooth(8000 + x * 1500, y * 1500))
        .to_vec();
    backward.reverse();
    let families = [
        [round(12, 20.0, 8000), round(12, 28.0, 8000)],
        [round(12, 20.0, 8000), square(2200, 8000)],
        [
            curve(&Profile::closed(backward.clone())),
            curve(&Profile::closed(backward)),
        ],
        [arch(), arch()],
    ];
    let mut pieces = Vec::new();
    for [one, other] in &families {
        for stations in settings() {
            for blend in BLENDS {
                let layout = Layout::new(stations.clone(), blend).unwrap();
                let arrangement = Arrangement(vec![0, 1, 1, 0]);
                pieces.push(Piece::new(&[one, other], &layout, arrangement).unwrap());
            }
        }
    }
    pieces
}

#[test]
fn nets_are_the_piece() {
    for piece in pieces() {
        let net = Net::new(&piece);
        let across = piece.breaks_across();
        for band in 0..net.bands.len() {
            for span in 0..net.spans() {
                for (s, t) in [(0.0, 0.0), (0.31, 0.77), (0.5, 0.25), (1.0, 1.0)] {
                    let u = net.breaks[span] + s * (net.breaks[span + 1] - net.breaks[span]);
                    let v = across[band] + t * (across[band + 1] - across[band]);
                    let distance = (net.point(band, span, s, t) - piece.point(u, v)).norm();
                    assert!(distance < 1e-10, "{distance}");
                }
            }
        }
    }
}

#[test]
fn skins_keep_within_their_deviation() {
    for piece in pieces() {
        for tolerance in [1e-3, 1e-6] {
            let net = Net::new(&piece);
            let body = Body::new(&net, tolerance);
            assert!(body.deviation <= tolerance);
            let skins = body.faces.iter().filter_map(|face| match &face.surface {
                Surface::Spline(skin) => Some(skin),
                Surface::Plane { .. } => None,
            });
            for skin in skins {
                let (from, to) = skin.ends_along();
                let (first, last) = skin.ends_across();
                for (s, t) in [
                    (0.0, 0.0),
                    (0.123, 0.77),
                    (0.5, 0.31),
                    (0.9, 0.5),
                    (1.0, 1.0),
                ] {
                    let u = from + s * (to - from);
                    let v = first + t * (last - first);
                    let distance = (skin.point(u, v) - piece.point(u, v)).norm();
                    assert!(
                        distance <= body.deviation + 1e-10,
                        "{distance} {}",
                        body.deviation
                    );
                }
            }
        }
    }
}

#[test]
fn faces_share_their_edges_and_edges_their_corners() {
    for piece in pieces() {
        let body = Body::new(&Net::new(&piece), 1e-6);
        let mut uses: HashMap<usize, Vec<bool>> = HashMap::new();
        for face in &body.faces {
            let ends = |side: &loftkin_form::solid::body::Side| {
                let edge = &body.edges[side.edge];
                if side.forward {
                    (edge.from, edge.to)
                } else {
                    (edge.to, edge.from)
                }
            };
            for (index, side) in face.sides.iter().enumerate() {
                uses.entry(side.edge).or_default().push(side.forward);
                let next = &face.sides[(index + 1) % face.sides.len()];
                assert_eq!(ends(side).1, ends(next).0);
            }
        }
        for edge in &body.edges {
            let (from, to) = edge.curve.ends();
            assert!((edge.curve.point(from) - body.corners[edge.from]).norm() < 1e-9);
            assert!((edge.curve.point(to) - body.corners[edge.to]).norm() < 1e-9);
        }
        if body.solid {
            assert_eq!(uses.len(), body.edges.len());
            assert!(
                uses.values()
                    .all(|uses| uses.len() == 2 && uses[0] != uses[1])
            );
            // Euler and Poincaré: 2 for a ball, 0 for a body with one hole.
            let euler =
                body.corners.len() as i64 - body.edges.len() as i64 + body.faces.len() as i64;
            assert_eq!(euler, if piece.is_closed_across() { 0 } else { 2 });
        }
    }
}

#[test]
fn smooth_blends_are_one_skin_from_end_to_end() {
    for piece in pieces() {
        let body = Body::new(&Net::new(&piece), 1e-6);
        let corners = (0..4).map(|index| piece.placed(index));
        let joints = corners.map(|curve| {
            (1..curve.span_count())
                .filter(|&j| curve.is_corner(j))
                .count()
        });
        // A closed outline has corners at its seam too, or is cut in two.
        let stretches = joints.max().unwrap() + 1;
        let stretches = if piece.is_closed_along() {
            stretches.max(2)
        } else {
            stretches
        };
        let strips = match (piece.layout().blend(), piece.is_closed_across()) {
            (Blend::Ruled, closed) => 3 + usize::from(closed),
            (_, closed) => 1 + usize::from(closed),
        };
        let caps = if body.solid && !piece.is_closed_across() {
            2
        } else {
            0
        };
        assert_eq!(body.faces.len(), stretches * strips + caps);
        if !body.fitted {
            assert!(body.deviation < 1e-9, "{}", body.deviation);
        }
    }
}

/// Each edge of a closed mesh lies between two triangles that run it in opposite
/// directions.
fn assert_closed(mesh: &Mesh) {
    let mut runs: HashMap<(u32, u32), usize> = HashMap::new();
    for [a, b, c] in &mesh.triangles {
        for side in [(*a, *b), (*b, *c), (*c, *a)] {
            *runs.entry(side).or_default() += 1;
        }
    }
    for (&(a, b), &count) in &runs {
        assert_eq!(count, 1);
        assert!(!mesh.solid || runs.contains_key(&(b, a)));
    }
}

#[test]
fn meshes_are_closed_and_face_outward() {
    for piece in pieces() {
        let net = Net::new(&piece);
        let mesh = Mesh::new(&net, 0.05).unwrap();
        assert!(mesh.chord <= 0.05);
        assert_closed(&mesh);
        if mesh.solid {
            let finer = Mesh::new(&net, 0.005).unwrap();
            assert!(0.0 < mesh.volume());
            // The shell between the two meshes is thinner than the sum of their chords.
            let difference = (mesh.volume() - finer.volume()).abs();
            assert!(difference <= 0.055 * finer.area() * 1.01, "{difference}");
        }
    }
}

/// The distance of `point` from the skin near (s, t) of one span of one band: by
/// Gauss and Newton's method, with slopes by differences.
fn distance(net: &Net, (band, span): (usize, usize), point: Point3<f64>, start: [f64; 2]) -> f64 {
    let on = |s: f64, t: f64| net.point(band, span, s, t);
    let [mut s, mut t] = start;
    let mut least = (on(s, t) - point).norm();
    for _ in 0..12 {
        let here = on(s, t);
        let h = 1e-6;
        let (along, across) = ((on(s + h, t) - here) / h, (on(s, t + h) - here) / h);
        let away = point - here;
        let [a, b, c] = [along.dot(&along), along.dot(&across), across.dot(&across)];
        let [p, q] = [along.dot(&away), across.dot(&away)];
        let determinant = a * c - b * b;
        s = (s + (c * p - b * q) / determinant).clamp(0.0, 1.0);
        t = (t + (a * q - b * p) / determinant).clamp(0.0, 1.0);
        least = least.min((on(s, t) - point).norm());
    }
    least
}

/// Points of triangles against the nearest points of the skin.
#[test]
fn triangles_keep_within_the_chordal_tolerance() {
    for piece in pieces() {
        let net = Net::new(&piece);
        for tolerance in [1.0, 0.02] {
            let steps = Steps::within(&net, tolerance, 0.0, MOST_TRIANGLES);
            let bound = steps.bound(&net);
            assert!(bound <= tolerance);
            let mut farthest: f64 = 0.0;
            for (band, &m) in steps.across.iter().enumerate() {
                for (span, &n) in steps.along.iter().enumerate() {
                    for cell in [(0, 0), (n / 2, m / 2), (n - 1, m - 1)] {
                        let place = |i: f64, j: f64| {
                            [
                                (cell.0 as f64 + i) / n as f64,
                                (cell.1 as f64 + j) / m as f64,
                            ]
                        };
                        let at = |i: f64, j: f64| {
                            let [s, t] = place(i, j);
                            net.point(band, span, s, t)
                        };
                        for (i, j) in [(0.5, 0.5), (0.5, 0.0), (0.0, 0.5), (0.33, 0.33)] {
                            let (a, b, c, d) =
                                (at(0.0, 0.0), at(1.0, 0.0), at(0.0, 1.0), at(1.0, 1.0));
                            for (flat, start) in [
                                (a + (b - a) * i + (c - a) * j, place(i, j)),
                                (d + (c - d) * i + (b - d) * j, place(1.0 - i, 1.0 - j)),
                            ] {
                                let away = distance(&net, (band, span), flat, start);
                                farthest = farthest.max(away);
                            }
                        }
                    }
                }
            }
            assert!(farthest <= bound * (1.0 + 1e-9), "{farthest} {bound}");
            assert!(0.05 * bound < farthest, "idle bound: {farthest} {bound}");
        }
    }
}

/// A cone is curved one way only: its chords count, and nothing across.
#[test]
fn a_cone_takes_the_chords_of_its_circles() {
    let stations = vec![Station::at(0.0), Station::at(90.0).scaled(0.2)];
    let layout = Layout::new(Stations::stack(stations).unwrap(), Blend::Ruled).unwrap();
    let piece = Piece::new(&[&round(12, 100.0, 0)], &layout, Arrangement(vec![0, 0])).unwrap();
    for tolerance in [1.0_f64, 0.1, 0.01] {
        let mesh = Mesh::new(&Net::new(&piece), tolerance).unwrap();
        // A chord with sagitta t spans 2 acos(1 - t/r); two triangles each, and two caps with one each.
        let chords = PI / libm::acos(1.0 - tolerance / 100.0);
        let least = 4.0 * libm::ceil(chords) - 4.0;
        let count = mesh.triangles.len() as f64;
        assert!(count <= 1.35 * least + 48.0, "{count} {least}");
    }
}

#[test]
fn the_volume_of_a_twisted_square_comes_near_its_closed_form() {
    // A square of side 1 turned by 45 degrees about its centre: 0.902369 h, derived from the prismoidal formula.
    let stations = vec![Station::at(0.0), Station::at(30.0).turned(45.0)];
    let layout = Layout::new(Stations::stack(stations).unwrap(), Blend::Ruled).unwrap();
    let piece = Piece::new(&[&square(1000, 0)], &layout, Arrangement(vec![0, 0])).unwrap();
    let expected = 0.902_369 * 400.0 * 30.0;
    let mesh = Mesh::new(&Net::new(&piece), 0.001).unwrap();
    assert!(
        (mesh.volume() / expected - 1.0).abs() < 1e-4,
        "{}",
        mesh.volume()
    );
}

/// Straight walls, twisted by an eased blend: meshes that are near must have the
/// area of the skin as well, not that of a saw's teeth.
#[test]
fn the_area_of_a_twisted_square_comes_near_that_of_its_skin() {
    let stations = vec![
        Station::at(0.0),
        Station::at(4.0).turned(60.0).shifted(2.0, 1.0),
    ];
    let layout = Layout::new(Stations::stack(stations).unwrap(), Blend::Eased).unwrap();
    let piece = Piece::new(&[&square(2500, 0)], &layout, Arrangement(vec![0, 0])).unwrap();
    let measures = measure(&piece, 1e-6);
    let exact = measures.skin_area.value + measures.cap_areas.unwrap().iter().sum::<f64>();
    let off = |tolerance: f64| {
        let mesh = Mesh::new(&Net::new(&piece), tolerance).unwrap();
        (mesh.area() / exact - 1.0).abs()
    };
    println!("{} {} {}", off(0.1), off(0.01), off(0.001));
    assert!(off(0.01) < 1e-3 && off(0.001) < off(0.01) / 5.0);
}

#[test]
fn the_volume_of_a_torus_comes_near_its_closed_form() {
    // Pappus: 2 pi^2 R r^2; 64 nodes make a circle to 1e-6.
    let stations = [0.0, 120.0, 240.0].map(Station::at).to_vec();
    let layout = Layout::new(Stations::ring(stations, true).unwrap(), Blend::Ruled).unwrap();
    let piece = Piece::new(&[&round(64, 20.0, 8000)], &layout, Arrangement(vec![0; 3])).unwrap();
    let expected = 2.0 * PI * PI * 80.0 * 400.0;
    let mesh = Mesh::new(&Net::new(&piece), 0.01).unwrap();
    assert!(
        (mesh.volume() / expected - 1.0).abs() < 2e-3,
        "{}",
        mesh.volume()
    );
    assert!(mesh.volume() < expected);
}

#[test]
fn tolerances_out_of_range_are_refused() {
    let net = Net::new(&pieces()[0]);
    for tolerance in [0.0, -1.0, 1e-4, 1000.0, f64::NAN] {
        assert!(matches!(
            Mesh::new(&net, tolerance),
            Err(MeshError::Tolerance { .. })
        ));
    }
}

/// A band that is bent nearly all round, `gap` mm thick, by exact cubics. Its outer
/// wall is four long ones, so it has long chords, which the inner one has not.
fn bent_band(gap: f64) -> Profile {
    let at = |x: f64, y: f64| {
        let whole = |value: f64| libm::round(100.0 * value) as i32;
        GridPoint::new(8000 + whole(x), whole(y))
    };
    let on = |radius: f64, degrees: f64| {
        let (sine, cosine) = libm::sincos(degrees.to_radians());
        at(radius * cosine, radius * sine)
    };
    let arc = |radius: f64, from: f64, to: f64| {
        let reach = 4.0 / 3.0 * libm::tan((to - from).to_radians() / 4.0);
        let handle = |degrees: f64, reach: f64| {
            let (sine, cosine) = libm::sincos(degrees.to_radians());
            at(
                radius * (cosine - reach * sine),
                radius * (sine + reach * cosine),
            )
        };
        PathSpan::Cubic {
            first: handle(from, reach),
            second: handle(to, -reach),
            to: on(radius, to),
        }
    };
    let inner = 20.0 - gap;
    let mut spans: Vec<PathSpan> = (0..4)
        .map(|k| 20.0 + 55.0 * f64::from(k))
        .map(|from| arc(20.0, from, from + 55.0))
        .collect();
    spans.push(PathSpan::Line {
        to: on(inner, 240.0),
    });
    spans.extend((0..20).map(|k| {
        let from = 240.0 - 11.0 * f64::from(k);
        arc(inner, from, from - 11.0)
    }));
    spans.push(PathSpan::Line { to: on(20.0, 20.0) });
    Profile {
        name: String::new(),
        closed: true,
        outline: Outline::Path {
            start: on(20.0, 20.0),
            spans,
        },
    }
}

/// The mesh of a proved piece of that band within 16 mm.
fn mesh_of_band(gap: f64, stations: Stations) -> Result<Mesh, MeshError> {
    let profile = bent_band(gap);
    let table = Table::new(Family {
        profiles: vec![profile.clone(), profile.clone()],
        ..Family::default()
    });
    let table = table.unwrap();
    let judged = table.cell(0, 1);
    assert_eq!(judged.verdict, Verdict::Clear, "{judged:?}");
    let arrangement = Arrangement(vec![0; stations.count()]);
    let layout = Layout::new(stations, Blend::Ruled).unwrap();
    let piece = Piece::new(&[&curve(&profile)], &layout, arrangement).unwrap();
    Mesh::new(&Net::new(&piece), 16.0)
}

fn straight() -> Stations {
    Stations::stack(vec![Station::at(0.0), Station::at(30.0)]).unwrap()
}

fn all_round() -> Stations {
    Stations::ring([0.0, 120.0, 240.0].map(Station::at).to_vec(), true).unwrap()
}

/// The chords of the outer wall stand 2.3 mm inside it.
#[test]
fn a_mesh_that_would_meet_itself_is_made_finer_there() {
    for stations in [straight(), all_round()] {
        for gap in [0.6, 0.05] {
            let mesh = mesh_of_band(gap, stations.clone()).unwrap();
            // 16 mm allow one chord a span; through walls so near to each other that would not do.
            assert!(mesh.chord < 16.0, "{}", mesh.chord);
            assert_closed(&mesh);
            assert!(0.0 < mesh.volume());
        }
    }
    // The outer wall alone is finer: its four spans, each with chords below the gap.
    let mesh = mesh_of_band(0.05, straight()).unwrap();
    assert!(mesh.triangles.len() < 600, "{}", mesh.triangles.len());
}

/// Two lobes that cross: no mesh can be finer than that. Nothing of it was proved.
#[test]
fn a_piece_that_meets_itself_is_refused_with_its_place() {
    let nodes = [(-1000, -1000), (1000, 1000), (1000, -1000), (-1000, 1000)];
    let crossed = curve(&Profile::closed(
        nodes.map(|(x, y)| Node::corner(8000 + x, y)).to_vec(),
    ));
    let refused = |stations: Stations| {
        let arrangement = Arrangement(vec![0; stations.count()]);
        let layout = Layout::new(stations, Blend::Ruled).unwrap();
        let piece = Piece::new(&[&crossed], &layout, arrangement).unwrap();
        Mesh::new(&Net::new(&piece), 16.0).unwrap_err()
    };
    let told = refused(straight());
    let is_lower = matches!(told, MeshError::CapMeetsItself { end: "lower", .. });
    assert!(is_lower, "{told:?}");
    let told = refused(all_round());
    let MeshError::MeetsItself { place, .. } = told else {
        panic!("{told:?}");
    };
    // The sides cross 80 mm from the axis, at height 0; chords round it stand inside.
    let radius = libm::hypot(place.x, place.y);
    assert!((60.0..100.0).contains(&radius), "{place}");
}

/// Two outlines whose joints lie 0.0002 mm apart along, where a coarse mesh cannot hold
/// the corners of the span between them.
#[test]
fn a_sliver_between_joints_costs_no_mesh() {
    let outline = |at: i32| {
        let nodes = [(-30_000, 0), (at, -30_000), (30_000, 0), (0, 30_000)];
        curve(&Profile::closed(
            nodes.map(|(x, y)| Node::smooth(x, y)).to_vec(),
        ))
    };
    let stations = Stations::stack(vec![Station::at(0.0), Station::at(90.0)]).unwrap();
    let layout = Layout::new(stations, Blend::Ruled).unwrap();
    for shift in 1..6 {
        let pair = [&outline(0), &outline(shift)];
        let piece = Piece::new(&pair, &layout, Arrangement(vec![0, 1])).unwrap();
        let net = Net::new(&piece);
        let gaps = net.breaks.windows(2).map(|ends| ends[1] - ends[0]);
        assert!(gaps.fold(1.0, f64::min) < 1e-5 * f64::from(shift));
        for tolerance in [20.0, 2.0, 0.1] {
            let mesh = Mesh::new(&net, tolerance).unwrap();
            assert!(mesh.chord <= tolerance);
            assert_closed(&mesh);
        }
    }
}
