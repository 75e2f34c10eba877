//! The room between parts of the skin, against closed forms and against all pairs of
//! dense samples.

use super::*;
use crate::making::fillet::Edges;
use crate::making::room::{Reach, TOGETHER, tightest};

fn standing(curve: &Curve, height: f64) -> Piece {
    let stations = vec![Station::at(0.0), Station::at(height)];
    piece(curve, Stations::stack(stations).unwrap(), Blend::Ruled)
}

fn outward(reach: f64) -> Reach {
    Reach {
        outward: reach,
        inward: 0.0,
    }
}

fn inward(reach: f64) -> Reach {
    Reach {
        outward: 0.0,
        inward: reach,
    }
}

#[track_caller]
fn takes(piece: &Piece, reach: Reach, share: f64, off: f64) {
    let found = tightest(piece, reach).unwrap();
    close(found.share / share, 1.0, off);
    close(
        (found.place.point - found.other.point).norm(),
        found.apart,
        1e-9,
    );
}

/// A deep groove 6 mm wide with 10 mm under it: parallel walls, so that the share is
/// twice the reach over their distance.
#[test]
fn the_walls_of_a_groove() {
    let corners = [
        (0, 0),
        (10_000, 0),
        (10_000, 5000),
        (5300, 5000),
        (5300, 1000),
        (4700, 1000),
        (4700, 5000),
        (0, 5000),
    ];
    let nodes = corners.map(|(x, y)| Node::corner(x, y)).to_vec();
    let grooved = Curve::new(&Profile::closed(nodes), Pacing::Parameter).unwrap();
    let body = standing(&grooved, 60.0);
    takes(&body, outward(4.0), 8.0 / 6.0, 1e-6);
    takes(&body, outward(2.5), 5.0 / 6.0, 1e-6);
    assert_eq!(tightest(&body, outward(2.0)), None);
    takes(&body, inward(4.5), 9.0 / 10.0, 1e-6);
    takes(&body, inward(6.0), 12.0 / 10.0, 1e-6);
    let sheet = |gauge: f64| {
        let shop = Workshop {
            gauge,
            ..Workshop::default()
        };
        // The walls alone: what its sharp corners do is told of edges.
        let found = shop.examine(&body, &Edges::default(), true);
        let (_, report) = found[Kind::ALL.len() - 1];
        report
    };
    // About its middle a sheet of 8 reaches 4 to each side.
    assert_eq!(
        (sheet(8.0).passes, sheet(8.0).basis),
        (false, Basis::Checked)
    );
    assert!(sheet(4.0).passes && matches!(sheet(4.0).basis, Basis::Sampled { .. }));
}

/// A sheet rolled up with 6 mm from turn to turn: both faces look the same way, and
/// the sheet reaches from either turn toward the other.
#[test]
fn the_turns_of_a_spiral() {
    let nodes = (0..60).map(|k| {
        let turns = f64::from(k) / 24.0;
        let at = |value: f64| libm::round(100.0 * (40.0 + 6.0 * turns) * value) as i32;
        let angle = TAU * turns;
        Node::smooth(at(libm::cos(angle)), at(libm::sin(angle)))
    });
    let spiral = Curve::new(&Profile::open(nodes.collect()), Pacing::Parameter).unwrap();
    let body = standing(&spiral, 80.0);
    // Square to the curve the turns are nearer by the cosine of its slope.
    let slope = libm::atan(6.0 / TAU / 46.0);
    let apart = 6.0 * libm::cos(slope);
    for reach in [
        outward(5.0),
        inward(5.0),
        Reach {
            outward: 2.5,
            inward: 2.5,
        },
        inward(7.0),
    ] {
        // The ends of a natural spline depart from the spiral by some hundredths.
        takes(&body, reach, (reach.outward + reach.inward) / apart, 0.05);
    }
}

/// Flat sheets have all the room there is; outside a tube too.
#[test]
fn round_bodies_leave_room_outside() {
    let tube = stack(
        vec![of_radius(0.0, 50.0), of_radius(200.0, 50.0)],
        Blend::Ruled,
    );
    for reach in [inward(10.0), outward(40.0)] {
        assert_eq!(tightest(&tube, reach), None);
    }
}

/// A lens whose ends are sharp, over a smaller one that is turned: all pairs of a
/// dense grid, by distances of points and normals from differences.
#[test]
fn no_pair_of_samples_takes_more_than_is_told() {
    let lens = |width: f64, height: f64| {
        let side = |k: u32, sign: f64| {
            let x = 2.0 * f64::from(k) / 8.0 - 1.0;
            let at = |value: f64| libm::round(100.0 * value) as i32;
            let (x, y) = (at(sign * width * x), at(-sign * height * (1.0 - x * x)));
            if k == 0 {
                Node::corner(x, y)
            } else {
                Node::smooth(x, y)
            }
        };
        let nodes = (0..8)
            .map(|k| side(k, 1.0))
            .chain((0..8).map(|k| side(k, -1.0)));
        Curve::new(&Profile::closed(nodes.collect()), Pacing::Parameter).unwrap()
    };
    let curves = [lens(60.0, 9.0), lens(50.0, 7.0)];
    let stations = vec![Station::at(0.0), Station::at(40.0).turned(10.0)];
    let layout = Layout::new(Stations::stack(stations).unwrap(), Blend::Ruled).unwrap();
    let body = Piece::new(&[&curves[0], &curves[1]], &layout, Arrangement(vec![0, 1])).unwrap();
    let reach = inward(5.0);
    let told = tightest(&body, reach).unwrap();
    let step = 1e-5;
    let (wide, high) = (160, 12);
    let spots: Vec<_> = (0..wide)
        .flat_map(|i| (0..high).map(move |j| (i, j)))
        .map(|(i, j)| {
            let (u, v) = (
                (f64::from(i) + 0.5) / f64::from(wide),
                (f64::from(j) + 0.5) / f64::from(high),
            );
            let along = (body.point(u + step, v) - body.point(u - step, v)) / (2.0 * step);
            let across = (body.point(u, v + step) - body.point(u, v - step)) / (2.0 * step);
            let normal = along.cross(&across).normalize();
            (
                (u, v),
                body.point(u, v),
                normal,
                (along.norm(), across.norm()),
            )
        })
        .collect();
    let mut most = 0.0_f64;
    for (p, from, normal, here) in &spots {
        for (q, to, _, there) in &spots {
            let way = to - from;
            let leaning = normal.dot(&way).abs() / way.norm();
            let aside = (p.0 - q.0).abs();
            let steps = aside.min(1.0 - aside) * here.0.max(there.0)
                + (p.1 - q.1).abs() * here.1.max(there.1);
            if 0.5 <= leaning && TOGETHER * 5.0 <= steps {
                most = most.max(10.0 * leaning / way.norm());
            }
        }
    }
    assert!(1.0 < most && most <= told.share, "{most} {told:?}");
}
