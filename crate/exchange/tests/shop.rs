//! Files for the shop, read back within Rust: by the crates gltf, stl_io, zip and roxmltree, and as text. Programs
//! that are independent of all of these read them in tests/tests/shop_files.rs.

use loftkin_exchange::shop::package::{Package, Stream};
use loftkin_exchange::shop::{Label, Standing, gltf, step, stl, three_mf};
use loftkin_form::blend::{Blend, Layout};
use loftkin_form::piece::{Arrangement, Piece};
use loftkin_form::solid::body::Body;
use loftkin_form::solid::mesh::Mesh;
use loftkin_form::solid::net::Net;
use loftkin_form::stations::{Station, Stations};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::{Node, Profile};
use nalgebra::{Point3, Vector3};
use std::io::{Cursor, Read};

fn stations(ring: bool) -> Stations {
    let places = [0.0, 50.0, 90.0].map(Station::at).to_vec();
    if ring {
        Stations::ring(places, true).unwrap()
    } else {
        Stations::stack(places).unwrap()
    }
}

fn net(ring: bool, closed: bool) -> Net {
    let mut nodes = vec![
        Node::smooth(8000, -2000),
        Node::smooth(10_000, 300),
        Node::smooth(8200, 2500),
    ];
    if closed {
        nodes.push(Node::corner(6000, 100));
    }
    let profile = if closed {
        Profile::closed(nodes)
    } else {
        Profile::open(nodes)
    };
    let curve = Curve::new(&profile, Pacing::Parameter).unwrap();
    let layout = Layout::new(stations(ring), Blend::Eased).unwrap();
    Net::new(&Piece::new(&[&curve], &layout, Arrangement(vec![0; 3])).unwrap())
}

fn label() -> Label {
    Label {
        name: "Hood 7 <a&b>".to_owned(),
        note: "Profiles 1, 1, 1.".to_owned(),
        made: "2026-11-25T12:00:00Z".to_owned(),
    }
}

fn step_text(net: &Net, standing: Standing) -> String {
    let mut out = Vec::new();
    step::write(&mut out, &Body::new(net, 1e-6), &label(), standing).unwrap();
    String::from_utf8(out).unwrap()
}

#[test]
fn step_denies_self_intersection_only_where_it_is_proved() {
    let proved = Standing::Proved { margin: 0.2 };
    let sure = |ring, standing| {
        let text = step_text(&net(ring, true), standing);
        let surfaces = text
            .lines()
            .filter(|line| line.contains("B_SPLINE_SURFACE_WITH_KNOTS"));
        let says: Vec<bool> = surfaces.map(|line| line.contains(".F.,.F.,.F.")).collect();
        assert!(!says.is_empty() && says.iter().all(|&one| one == says[0]));
        says[0]
    };
    assert!(sure(false, proved));
    assert!(!sure(false, Standing::Unproven));
    // A margin that rounding uses up is none.
    assert!(!sure(false, Standing::Proved { margin: 1e-9 }));
    // In a ring the faces are not the proved surface itself.
    assert!(!sure(true, proved));
}

#[test]
fn step_refers_only_to_what_it_holds() {
    for (ring, closed) in [(false, true), (false, false), (true, true), (true, false)] {
        let text = step_text(&net(ring, closed), Standing::Unproven);
        let data = text.split_once("DATA;").unwrap().1;
        let instances = data.lines().filter(|line| line.starts_with('#')).count();
        for (number, line) in data
            .lines()
            .filter(|line| line.starts_with('#'))
            .enumerate()
        {
            assert!(line.starts_with(&format!("#{}=", number + 1)), "{line}");
            for part in line.split('#').skip(2) {
                let digits: String = part.chars().take_while(char::is_ascii_digit).collect();
                assert!(digits.parse::<usize>().unwrap() <= instances);
            }
        }
        assert_eq!(text.contains("MANIFOLD_SOLID_BREP"), closed);
        assert_eq!(text.contains("OPEN_SHELL"), !closed);
        assert!(text.contains("'Hood 7 <a&b>','2026-11-25T12:00:00Z'"));
    }
}

#[test]
fn stl_holds_the_mesh_with_its_unit() {
    let mesh = Mesh::new(&net(false, true), 0.1).unwrap();
    let mut out = Vec::new();
    stl::write(&mut out, &mesh, &label()).unwrap();
    assert_eq!(out.len(), 84 + 50 * mesh.triangles.len());
    assert!(out.starts_with(b"unit mm; chord <= 0.0"));
    let read = stl_io::read_stl(&mut Cursor::new(out)).unwrap();
    assert_eq!(read.faces.len(), mesh.triangles.len());
    read.validate().unwrap();
    for (face, triangle) in read.faces.iter().zip(&mesh.triangles) {
        for (read_corner, corner) in face.vertices.into_iter().zip(triangle) {
            let found = Point3::from(read.vertices[read_corner].0).cast::<f64>();
            assert_eq!(found, mesh.points[*corner as usize]);
        }
    }
}

#[test]
fn gltf_holds_the_mesh_with_y_up_and_scales_it_to_metres() {
    for closed in [true, false] {
        let mesh = Mesh::new(&net(true, closed), 0.1).unwrap();
        let mut out = Vec::new();
        gltf::write(&mut out, &mesh, &label()).unwrap();
        let read = ::gltf::Gltf::from_slice(&out).unwrap();
        let binary = read.blob.as_deref().unwrap();
        let node = read.nodes().next().unwrap();
        assert_eq!(node.transform().decomposed().2, [0.001; 3]);
        let shape = node.mesh().unwrap();
        let triangles = shape.primitives().next().unwrap();
        assert_eq!(triangles.material().double_sided(), !closed);
        let reader = triangles.reader(|_| Some(binary));
        let points: Vec<Point3<f32>> = reader.read_positions().unwrap().map(Point3::from).collect();
        let normals: Vec<Vector3<f32>> =
            reader.read_normals().unwrap().map(Vector3::from).collect();
        let corners: Vec<u32> = reader.read_indices().unwrap().into_u32().collect();
        assert_eq!(corners.len(), 3 * mesh.triangles.len());
        for (three, triangle) in corners.chunks(3).zip(&mesh.triangles) {
            let [a, b, c] = [three[0], three[1], three[2]].map(|corner| points[corner as usize]);
            let ours = mesh.points[triangle[0] as usize];
            assert_eq!(a.cast::<f64>(), Point3::new(ours.x, ours.z, -ours.y));
            let flat = (b - a).cross(&(c - a)).normalize();
            for corner in three {
                let normal = normals[*corner as usize];
                assert!((normal.norm() - 1.0).abs() < 1e-5);
                // A shown normal leans less than the edge that would part it.
                assert!(0.5 < normal.dot(&flat));
            }
        }
    }
}

#[test]
fn three_mf_is_a_package_with_one_object_in_the_positive_octant() {
    for closed in [true, false] {
        let mesh = Mesh::new(&net(false, closed), 0.1).unwrap();
        let mut out = Vec::new();
        three_mf::write(&mut out, &mesh, &label()).unwrap();
        let mut package = zip::ZipArchive::new(Cursor::new(out)).unwrap();
        let mut text = String::new();
        package
            .by_name("3D/3dmodel.model")
            .unwrap()
            .read_to_string(&mut text)
            .unwrap();
        let model = roxmltree::Document::parse(&text).unwrap();
        let find = |name: &'static str| {
            model
                .descendants()
                .filter(move |node| node.has_tag_name(name))
        };
        let object = find("object").next().unwrap();
        assert_eq!(
            object.attribute("type"),
            Some(if closed { "model" } else { "surface" })
        );
        assert_eq!(object.attribute("name"), Some("Hood 7 <a&b>"));
        assert_eq!(find("vertex").count(), mesh.points.len());
        assert_eq!(find("triangle").count(), mesh.triangles.len());
        let item = find("item").next().unwrap();
        let shift: Vec<f64> = (item.attribute("transform").unwrap().split(' '))
            .map(|value| value.parse().unwrap())
            .collect();
        for (vertex, point) in find("vertex").zip(&mesh.points) {
            for (axis, name) in ["x", "y", "z"].into_iter().enumerate() {
                let value: f64 = vertex.attribute(name).unwrap().parse().unwrap();
                assert_eq!(value, point[axis]);
                assert!(0.0 <= value + shift[9 + axis]);
            }
        }
    }
}

#[test]
fn the_same_piece_gives_the_same_bytes() {
    let mesh = Mesh::new(&net(false, true), 0.1).unwrap();
    let write = || {
        let mut out = Vec::new();
        three_mf::write(&mut out, &mesh, &label()).unwrap();
        out
    };
    assert_eq!(write(), write());
}

#[test]
fn a_package_hands_back_its_files_and_refuses_a_second_of_one_name() {
    let mut package = Package::new();
    package.add("pieces/1.stl", b"one").unwrap();
    assert!(package.add("pieces/1.stl", b"two").is_err());
    let mut read = zip::ZipArchive::new(Cursor::new(package.finish().unwrap())).unwrap();
    let mut content = Vec::new();
    read.by_index(0).unwrap().read_to_end(&mut content).unwrap();
    assert_eq!((read.len(), content.as_slice()), (1, &b"one"[..]));
}

#[test]
fn an_archive_taken_away_while_it_grows_is_whole_in_the_end() {
    let content = |number: usize| vec![number as u8; 100_000];
    let mut stream = Stream::new();
    let (mut bytes, mut takings) = (Vec::new(), 0);
    for number in 0..20 {
        stream
            .add(&format!("{number}.stl"), &content(number))
            .unwrap();
        let taken = stream.take();
        takings += usize::from(!taken.is_empty());
        bytes.extend(taken);
    }
    assert!(10 < takings, "{takings}");
    assert!(stream.add("7.stl", b"again").is_err());
    bytes.extend(stream.finish().unwrap());
    let mut read = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
    assert_eq!(read.len(), 20);
    for number in 0..20 {
        let mut found = Vec::new();
        read.by_index(number)
            .unwrap()
            .read_to_end(&mut found)
            .unwrap();
        assert!(found == content(number), "file {number}");
    }
}
