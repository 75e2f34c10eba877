//! The check of meshes against all pairs of triangles, in whole numbers without end
//! and by another way: one triangle is cut by the planes that bound the other.

use super::exact::Corners;
use crate::blend::{Blend, Layout};
use crate::piece::{Arrangement, Piece};
use crate::solid::lattice::{self, Lattice};
use crate::solid::mesh::{MOST_TRIANGLES, Mesh, Unchecked};
use crate::solid::net::Net;
use crate::solid::steps::Steps;
use crate::stations::{Station, Stations};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::{Node, Profile};
use nalgebra::{Point2, Point3};
use num_bigint::BigInt;
use num_bigint::Sign::{Minus, NoSign};
use proptest::prelude::*;
use std::f64::consts::TAU;

/// A point (x, y, z) / w with w above 0.
type Place = [BigInt; 4];
/// The half space where a x + b y + c z + d w is not below 0.
type Half = [BigInt; 4];

fn place(point: Point3<f64>, step: f64) -> Place {
    let whole = |value: f64| BigInt::from((value / step) as i64);
    [
        whole(point.x),
        whole(point.y),
        whole(point.z),
        BigInt::from(1),
    ]
}

fn cross(a: &[BigInt; 3], b: &[BigInt; 3]) -> [BigInt; 3] {
    let part = |i: usize, j: usize| &a[i] * &b[j] - &a[j] * &b[i];
    [part(1, 2), part(2, 0), part(0, 1)]
}

fn from_to(a: &Place, b: &Place) -> [BigInt; 3] {
    [0, 1, 2].map(|k| &b[k] * &a[3] - &a[k] * &b[3])
}

fn through(point: &Place, normal: [BigInt; 3]) -> Half {
    let shift: BigInt = (0..3).map(|k| &normal[k] * &point[k]).sum();
    let [a, b, c] = normal;
    [a, b, c, -shift]
}

fn cut(polygon: &[Place], half: &Half) -> Vec<Place> {
    let height = |point: &Place| -> BigInt { (0..4).map(|k| &half[k] * &point[k]).sum() };
    let mut kept = Vec::new();
    for (index, here) in polygon.iter().enumerate() {
        let next = &polygon[(index + 1) % polygon.len()];
        let (low, high) = (height(here), height(next));
        if low.sign() != Minus {
            kept.push(here.clone());
        }
        let crosses = low.sign() != high.sign() && low.sign() != NoSign && high.sign() != NoSign;
        if crosses {
            let (mine, theirs) = (high.magnitude().clone(), low.magnitude().clone());
            let [mine, theirs] = [BigInt::from(mine), BigInt::from(theirs)];
            kept.push([0, 1, 2, 3].map(|k| &here[k] * &mine + &next[k] * &theirs));
        }
    }
    kept
}

/// Whether two triangles have a point in common beyond the corners that they share.
fn truly_meet(points: &[Point3<f64>], step: f64, one: [u32; 3], other: [u32; 3]) -> bool {
    let at = |corner: u32| place(points[corner as usize], step);
    let [a, b, c] = other.map(at);
    let normal = cross(&from_to(&a, &b), &from_to(&a, &c));
    let mut polygon = one.map(at).to_vec();
    polygon = cut(&polygon, &through(&a, normal.clone()));
    polygon = cut(&polygon, &through(&a, normal.clone().map(|part| -part)));
    for (from, to) in [(&a, &b), (&b, &c), (&c, &a)] {
        polygon = cut(&polygon, &through(from, cross(&normal, &from_to(from, to))));
    }
    let shared: Vec<Place> = one
        .into_iter()
        .filter(|k| other.contains(k))
        .map(at)
        .collect();
    let zero = [0, 1, 2].map(|_| BigInt::from(0));
    polygon.iter().any(|point| match &shared[..] {
        [] => true,
        [corner] => from_to(corner, point) != zero,
        [from, to] => cross(&from_to(from, to), &from_to(from, point)) != zero,
        _ => true,
    })
}

fn has_area(points: &[Point3<f64>], step: f64, triangle: [u32; 3]) -> bool {
    let [a, b, c] = triangle.map(|corner| place(points[corner as usize], step));
    cross(&from_to(&a, &b), &from_to(&a, &c))
        .iter()
        .any(|part| part.sign() != NoSign)
}

/// All pairs whose boxes meet, one by one.
fn truly_meets_itself(mesh: &Mesh) -> bool {
    let Mesh {
        points,
        triangles,
        step,
        ..
    } = mesh;
    let box_of = |triangle: &[u32; 3]| {
        let [a, b, c] = triangle.map(|corner| points[corner as usize].coords);
        (a.inf(&b).inf(&c), a.sup(&b).sup(&c))
    };
    let boxes: Vec<_> = triangles.iter().map(box_of).collect();
    triangles.iter().enumerate().any(|(index, &one)| {
        let (low, high) = boxes[index];
        let mut others = triangles.iter().zip(&boxes).skip(index + 1);
        !has_area(points, *step, one)
            || others.any(|(&other, (least, most))| {
                (0..3).all(|k| low[k] <= most[k] && least[k] <= high[k])
                    && truly_meet(points, *step, one, other)
            })
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(3000))]

    /// Corners from a handful of places: touches, folds and common planes abound.
    #[test]
    fn pairs_are_told_as_by_cutting(
        places in prop::collection::vec(prop::array::uniform3(-2_i8..=2), 6),
        shared in 0_usize..3,
    ) {
        let points: Vec<Point3<f64>> = places
            .iter()
            .map(|place| Point3::from(place.map(f64::from)))
            .collect();
        let one = [0, 1, 2];
        let other = [[3, 4, 5], [3, 1, 5], [2, 1, 5]][shared];
        prop_assume!([one, other].iter().all(|&each| has_area(&points, 1.0, each)));
        let corners = Corners::new(&points, 1.0);
        prop_assert_eq!(corners.meet(one, other), truly_meet(&points, 1.0, one, other));
    }

    /// Corners as far apart as they get, nearly in one plane.
    #[test]
    fn sides_are_exact_where_rounding_hides_them(
        a in prop::array::uniform2(-8_000_000_i32..8_000_000),
        b in prop::array::uniform2(-8_000_000_i32..8_000_000),
        lift in -2_i32..=2,
    ) {
        let at = |x: i32, y: i32, z: i32| Point3::new(f64::from(x), f64::from(y), f64::from(z));
        // In the plane x + y + z = 0, but for the lift.
        let flat = |[x, y]: [i32; 2]| at(x / 2, y / 2, -(x / 2 + y / 2));
        let mut last = flat([b[0] / 3 + 5, a[1] / 3 - 7]);
        last.z += f64::from(lift);
        let points = [at(0, 0, 0), flat(a), flat(b), last];
        let turn = i64::from(a[0] / 2) * i64::from(b[1] / 2) - i64::from(a[1] / 2) * i64::from(b[0] / 2);
        let found = Corners::new(&points, 1.0).side([0, 1, 2], 3);
        prop_assert_eq!(found, (turn * i64::from(lift)).cmp(&0));
    }
}

fn wavy(count: u32, waves: f64, depth: f64, radius: f64) -> Curve {
    let nodes = (0..count).map(|k| {
        let angle = TAU * f64::from(k) / f64::from(count);
        let reach = radius * (1.0 + depth * libm::cos(waves * angle));
        let at = |value: f64| libm::round(100.0 * reach * value) as i32;
        Node::smooth(8000 + at(libm::cos(angle)), at(libm::sin(angle)))
    });
    Curve::new(&Profile::closed(nodes.collect()), Pacing::Parameter).unwrap()
}

/// A band that is bent nearly all round: its inner wall is `gap` mm from the outer.
/// The outer one has a node each 60 degrees, so its chords are long.
fn bent_band(radius: f64, gap: f64) -> Curve {
    let on = |radius: f64, degrees: f64| {
        let at = |value: f64| libm::round(100.0 * value) as i32;
        let (sine, cosine) = libm::sincos(degrees.to_radians());
        (8000 + at(radius * cosine), at(radius * sine))
    };
    let mut nodes: Vec<Node> = [20.0, 75.0, 130.0, 185.0, 240.0]
        .map(|degrees| on(radius, degrees))
        .map(|(x, y)| Node::smooth(x, y))
        .to_vec();
    let inner = (0..=20).map(|k| on(radius - gap, 240.0 - 11.0 * f64::from(k)));
    nodes.extend(inner.map(|(x, y)| Node::smooth(x, y)));
    for corner in [0, 4, 5, 25] {
        nodes[corner].corner = true;
    }
    Curve::new(&Profile::closed(nodes), Pacing::Parameter).unwrap()
}

fn net(curves: &[&Curve], stations: Stations, blend: Blend) -> Net {
    let count = stations.count();
    let stations = stations.about(Point2::new(80.0, 0.0)).unwrap();
    let layout = Layout::new(stations, blend).unwrap();
    let arrangement = (0..count).map(|k| k % curves.len()).collect();
    Net::new(&Piece::new(curves, &layout, Arrangement(arrangement)).unwrap())
}

fn settings() -> [Stations; 3] {
    let places = |turn: f64| {
        let turned = |station: Station, turn: f64| {
            if turn == 0.0 {
                station
            } else {
                station.turned(turn)
            }
        };
        vec![
            turned(Station::at(10.0), 0.0),
            turned(Station::at(30.0).scaled(1.1), turn),
            turned(Station::at(80.0), 2.0 * turn),
        ]
    };
    [
        Stations::stack(places(20.0)).unwrap(),
        Stations::ring(places(0.0), false).unwrap(),
        Stations::ring(places(0.0), true).unwrap(),
    ]
}

#[test]
fn meshes_are_judged_as_by_all_pairs() {
    let (round, lobed) = (wavy(12, 3.0, 0.1, 20.0), wavy(12, 2.0, 0.4, 24.0));
    let band = bent_band(20.0, 0.5);
    let families = [[&round, &round], [&round, &lobed], [&band, &band]];
    let mut judged = [0, 0];
    for curves in &families {
        for stations in settings() {
            for (blend, tolerance) in [
                (Blend::Ruled, 3.0),
                (Blend::Ruled, 0.6),
                (Blend::Eased, 1.5),
            ] {
                let net = net(curves, stations.clone(), blend);
                let lattice = Lattice::new(lattice::reach(&net), tolerance).unwrap();
                let steps = Steps::within(&net, tolerance, 0.0, MOST_TRIANGLES);
                let Ok(unchecked) = Unchecked::new(&net, &steps, lattice) else {
                    continue;
                };
                let meets = truly_meets_itself(&unchecked.mesh);
                assert_eq!(!unchecked.meetings().is_empty(), meets);
                judged[usize::from(meets)] += 1;
            }
        }
    }
    println!("{judged:?}");
    assert!(5 < judged[0] && 2 < judged[1], "{judged:?}");
}
