//! Files for the shop, read back by programs that this project has no part in: `tests/shop/read_back.py` holds what
//! they find (valid, closed, volume, area) to figures that are integrated here from the surface itself, without the
//! nets, bodies and meshes that the files are made from.

use loftkin_exchange::shop::{Label, Standing, gltf, step, stl, three_mf};
use loftkin_exchange::{family_json, series};
use loftkin_form::blend::{Blend, Degree, Layout};
use loftkin_form::body::measure;
use loftkin_form::piece::{Arrangement, Piece, signed_area};
use loftkin_form::solid::body::Body;
use loftkin_form::solid::mesh::Mesh;
use loftkin_form::solid::net::Net;
use loftkin_form::stations::{Station, Stations};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Pacing;
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Node, Outline, PathSpan, Profile};
use nalgebra::{Point2, Vector3};
use serde_json::{Value, json};
use std::f64::consts::TAU;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

const SCRIPT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/shop/read_back.py");

/// How far meshes may stand off, mm.
const DEFLECTION: f64 = 0.1;

/// The Python with the readers, where `cargo setup` puts it.
fn python() -> PathBuf {
    let target = Path::new(env!("CARGO_TARGET_TMPDIR")).parent().unwrap();
    let python = target.join("readers/bin/python");
    assert!(
        python.exists(),
        "The readers of the files for the shop are not installed: run `cargo setup` first (it needs the Python package index)."
    );
    python
}

fn curve(profile: &Profile) -> Curve {
    Curve::new(profile, Pacing::Parameter).unwrap()
}

/// A closed outline by exact cubics, whose speed jumps at its joints.
fn pebble() -> Curve {
    let at = |x: i32, y: i32| GridPoint::new(100 * x, 100 * y);
    let cubic = |first, second, to| PathSpan::Cubic { first, second, to };
    curve(&Profile {
        name: String::new(),
        closed: true,
        outline: Outline::Path {
            start: at(103, 0),
            spans: vec![
                cubic(at(103, 14), at(96, 22), at(80, 22)),
                cubic(at(50, 22), at(52, 2), at(55, -14)),
                cubic(at(57, -25), at(103, -30), at(103, 0)),
            ],
        },
    })
}

/// A closed outline of `count` spans, `waves` times wavy about a circle about (80, 0) mm.
fn wavy(count: u32, waves: f64, radius: f64) -> Curve {
    let nodes = (0..count).map(|k| {
        let angle = TAU * f64::from(k) / f64::from(count);
        let reach = radius * (1.0 + 0.15 * libm::cos(waves * angle));
        let at = |value: f64| libm::round(100.0 * reach * value) as i32;
        Node::smooth(8000 + at(libm::cos(angle)), at(libm::sin(angle)))
    });
    curve(&Profile::closed(nodes.collect()))
}

/// A closed outline with corners and one bowed side, clockwise.
fn cornered() -> Curve {
    curve(&Profile::closed(vec![
        Node::corner(5600, -2100),
        Node::corner(6000, 2000),
        Node::smooth(8000, 3100),
        Node::corner(10_100, 1900),
        Node::corner(9900, -2000),
    ]))
}

/// The side of a lantern hood, open, with a corner at the brim.
fn hood(brim: i32) -> Curve {
    curve(&Profile::open(vec![
        Node::smooth(1500, 6200),
        Node::smooth(5200, 5000),
        Node::smooth(7100, 2600),
        Node::corner(brim, 700),
        Node::smooth(brim + 700, 0),
    ]))
}

/// The hood whose story the README of the demo curves tells, as it is in the end.
fn demo_hood() -> Piece {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-curves");
    let text = |name: &str| fs::read_to_string(folder.join(name)).unwrap();
    let family = family_json::read(&text("rims-that-agree.json"))
        .unwrap()
        .family;
    let mut plan = series::read(&text("hoods-from-rims.series.json")).unwrap();
    plan.stations[1].place.scale = 0.7;
    let curves: Vec<Curve> = family.profiles.iter().map(curve).collect();
    let curves: Vec<&Curve> = curves.iter().collect();
    let arrangement = Arrangement(vec![1, 0, 4, 0]);
    Piece::new(&curves, &plan.layout().unwrap(), arrangement).unwrap()
}

fn pieces() -> Vec<(&'static str, Piece)> {
    let three = |at: [f64; 3]| {
        vec![
            Station::at(at[0]),
            Station::at(at[1]).scaled(1.15).shifted(2.0, -1.0),
            Station::at(at[2]).scaled(0.9),
        ]
    };
    let four = || [10.0, 95.0, 200.0, 260.0].map(Station::at).to_vec();
    let turned = || {
        vec![
            Station::at(-20.0),
            Station::at(30.0).turned(25.0),
            Station::at(55.0).turned(40.0),
            Station::at(110.0).turned(70.0),
        ]
    };
    let about = |stations: Stations| stations.about(Point2::new(80.0, 0.0)).unwrap();
    let stack = |stations| about(Stations::stack(stations).unwrap());
    let ring = |stations, all_round| about(Stations::ring(stations, all_round).unwrap());
    let piece = |curves: &[&Curve], stations, blend, profiles: &[usize]| {
        let layout = Layout::new(stations, blend).unwrap();
        Piece::new(curves, &layout, Arrangement(profiles.to_vec())).unwrap()
    };
    let (one, other, cornered) = (wavy(24, 3.0, 20.0), wavy(24, 5.0, 24.0), cornered());
    let (low, high) = (hood(8000), hood(8600));
    // Joints of these two lie anywhere between each other's.
    let (odd, pebble) = (wavy(17, 4.0, 22.0), pebble());
    let quadratic = Blend::BSpline(Degree::Two);
    let cubic = Blend::BSpline(Degree::Three);
    vec![
        ("demo-hood", demo_hood()),
        (
            "stack-ruled",
            piece(
                &[&one, &other],
                stack(three([0.0, 40.0, 90.0])),
                Blend::Ruled,
                &[0, 1, 0],
            ),
        ),
        (
            "stack-eased-turned",
            piece(
                &[&one, &other],
                stack(turned()),
                Blend::Eased,
                &[0, 1, 0, 1],
            ),
        ),
        (
            "stack-spline",
            piece(&[&one, &other], stack(turned()), cubic, &[1, 0, 1, 0]),
        ),
        (
            "stack-cornered",
            piece(
                &[&cornered],
                stack(three([0.0, 25.0, 70.0])),
                Blend::Ruled,
                &[0, 0, 0],
            ),
        ),
        (
            "stack-open",
            piece(&[&low, &high], stack(four()), Blend::Eased, &[0, 1, 1, 0]),
        ),
        (
            "ring-ruled",
            piece(
                &[&one, &other],
                ring(four(), true),
                Blend::Ruled,
                &[0, 1, 0, 1],
            ),
        ),
        (
            "ring-spline",
            piece(&[&one, &other], ring(four(), true), cubic, &[0, 1, 1, 0]),
        ),
        (
            "ring-part",
            piece(
                &[&cornered, &cornered],
                ring(three([20.0, 70.0, 110.0]), false),
                Blend::Eased,
                &[0, 1, 0],
            ),
        ),
        (
            "stack-mixed",
            piece(
                &[&odd, &pebble, &one],
                stack(three([0.0, 30.0, 80.0])),
                Blend::Ruled,
                &[0, 1, 2],
            ),
        ),
        (
            "ring-mixed",
            piece(
                &[&odd, &pebble, &one],
                ring(four(), true),
                quadratic,
                &[0, 1, 2, 1],
            ),
        ),
        (
            "ring-hood",
            piece(
                &[&low, &high],
                ring(four(), true),
                Blend::Ruled,
                &[0, 1, 0, 1],
            ),
        ),
    ]
}

/// Nodes and weights of Gauss and Legendre on [0, 1], by Newton's method on the Legendre polynomials.
fn gauss(count: usize) -> Vec<(f64, f64)> {
    (0..count)
        .map(|index| {
            let mut x =
                libm::cos(std::f64::consts::PI * (index as f64 + 0.75) / (count as f64 + 0.5));
            let mut slope = 0.0;
            for _ in 0..20 {
                let (mut before, mut here) = (1.0, x);
                for degree in 2..=count {
                    let k = degree as f64;
                    (before, here) = (here, ((2.0 * k - 1.0) * x * here - (k - 1.0) * before) / k);
                }
                slope = count as f64 * (x * here - before) / (x * x - 1.0);
                x -= here / slope;
            }
            ((1.0 + x) / 2.0, 1.0 / ((1.0 - x * x) * slope * slope))
        })
        .collect()
}

/// Area of the skin, and the flux of the position through it (three times the volume), outward.
fn skin_figures(piece: &Piece) -> (f64, f64) {
    let rule = gauss(12);
    let (mut area, mut flux) = (0.0, 0.0);
    // A band of 100 degrees is halved twice; more changes no digit that counts.
    let across: Vec<f64> = piece
        .breaks_across()
        .windows(2)
        .flat_map(|ends| [0.0, 0.25, 0.5, 0.75].map(|t| ends[0] + t * (ends[1] - ends[0])))
        .chain([1.0])
        .collect();
    for v_ends in across.windows(2) {
        for u_ends in piece.breaks_along().windows(2) {
            let size = (u_ends[1] - u_ends[0]) * (v_ends[1] - v_ends[0]);
            for &(s, along) in &rule {
                for &(t, weight) in &rule {
                    let u = u_ends[0] + s * (u_ends[1] - u_ends[0]);
                    let v = v_ends[0] + t * (v_ends[1] - v_ends[0]);
                    let patch = piece.patch(u, v);
                    let cross = patch.cross() * (size * along * weight);
                    area += cross.norm();
                    flux += patch.point.coords.dot(&cross) * piece.outward();
                }
            }
        }
    }
    (area, flux)
}

/// Area and volume of the capped piece; the volume of an open one is not asked.
fn figures(piece: &Piece) -> (f64, f64) {
    let (mut area, mut flux) = skin_figures(piece);
    let stations = piece.layout().stations();
    if piece.is_closed_along() && !piece.is_closed_across() {
        let last = stations.count() - 1;
        let [first, last] = [0, last].map(|index| {
            (
                signed_area(piece.placed(index)).abs(),
                stations.all()[index].at,
            )
        });
        area += first.0 + last.0;
        // The planes of a ring's ends hold the origin: no flux of the position through them.
        if !stations.is_ring() {
            flux += last.0 * last.1 - first.0 * first.1;
        }
    }
    (area, flux / 3.0)
}

fn bounds(mesh: &Mesh) -> Value {
    let ends = |axis: usize| {
        let values = mesh.points.iter().map(|point| point[axis]);
        let low = values.clone().fold(f64::INFINITY, f64::min);
        [low, values.fold(f64::NEG_INFINITY, f64::max)]
    };
    json!({ "x": ends(0), "y": ends(1), "z": ends(2) })
}

/// The centre of gravity of the mesh: of what it encloses, or of its triangles.
fn mesh_centre(mesh: &Mesh) -> [f64; 3] {
    let mut sum = (0.0, Vector3::zeros());
    for triangle in &mesh.triangles {
        let [a, b, c] = triangle.map(|corner| mesh.points[corner as usize].coords);
        let (share, centre) = if mesh.solid {
            (a.dot(&b.cross(&c)), (a + b + c) / 4.0)
        } else {
            ((b - a).cross(&(c - a)).norm(), (a + b + c) / 3.0)
        };
        sum = (sum.0 + share, sum.1 + centre * share);
    }
    (sum.1 / sum.0).into()
}

/// Writes all files of one piece and tells what is expected of them.
fn write(folder: &Path, name: &str, piece: &Piece) -> Value {
    let net = Net::new(piece);
    let body = Body::new(&net, 1e-7);
    let mesh = Mesh::new(&net, DEFLECTION).unwrap();
    let label = Label {
        name: format!("Haube <{name}> & \u{201e}Mole\u{201c}"),
        note: "A lantern hood's test.".to_owned(),
        made: String::new(),
    };
    let file = |ending: &str| fs::File::create(folder.join(format!("{name}.{ending}"))).unwrap();
    step::write(file("step"), &body, &label, Standing::Unproven).unwrap();
    stl::write(file("stl"), &mesh, &label).unwrap();
    three_mf::write(file("3mf"), &mesh, &label).unwrap();
    gltf::write(file("glb"), &mesh, &label).unwrap();
    let (area, volume) = figures(piece);
    let measures = measure(piece, 1e-7);
    let centre = match measures.solid_centre {
        Some(centre) if body.solid => centre,
        _ => measures.skin_centre,
    };
    json!({
        "solid": body.solid,
        "faces": body.faces.len(),
        "area": area,
        "volume": volume,
        "centre": [centre.x, centre.y, centre.z],
        "mesh_centre": mesh_centre(&mesh),
        "points": mesh.points.len(),
        "triangles": mesh.triangles.len(),
        "deflection": DEFLECTION,
        "mesh_area": mesh.area(),
        "mesh_volume": mesh.volume(),
        "bounds": bounds(&mesh),
    })
}

#[test]
fn independent_readers_find_what_was_written() {
    let python = python();
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("shop-files");
    // What an earlier run left must not be read.
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    let pieces = pieces();
    let mut expected = serde_json::Map::new();
    for (name, piece) in &pieces {
        expected.insert((*name).to_owned(), write(&folder, name, piece));
    }
    let text = Value::Object(expected).to_string();
    fs::write(folder.join("expected.json"), text).unwrap();
    let output = Command::new(python)
        .arg(SCRIPT)
        .arg(&folder)
        .output()
        .expect("Python runs the readers");
    let said = String::from_utf8_lossy(&output.stdout);
    let complaint = String::from_utf8_lossy(&output.stderr);
    println!("{said}");
    assert!(output.status.success(), "{said}{complaint}");
    assert_eq!(
        said.lines().filter(|line| line.contains(": ")).count(),
        4 * pieces.len()
    );
}
