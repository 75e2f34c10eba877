//! Pieces of a series against their own sections, drawn densely: scaled, shifted
//! and turned stations, stacks and rings, every blend. A piece of a series must
//! have no section that crosses itself, and in a ring none that reaches the axis;
//! and the eye that looks must see the crossings of pieces that are refused.

use loftkin_form::blend::{Blend, Degree, Layout};
use loftkin_form::piece::{Arrangement, Piece};
use loftkin_form::series::Series;
use loftkin_form::series::rules::Rules;
use loftkin_form::stations::{Station, Stations};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::{Settings, TenthsOfDegree};
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::Verdict;
use loftkin_tests::compare::table;
use loftkin_tests::generate::{moved, shape};
use loftkin_tests::random::Random;
use nalgebra::Point2;

const FAMILIES: u64 = 50;
const PROFILES: usize = 5;
const STATIONS: usize = 5;
/// Chords of a section; a crossing must also show with four times as many, for
/// chords may cross where two strands run close.
const CHORDS: usize = 400;

fn family(random: &mut Random, closed: bool) -> Table {
    let size = 10_000.0;
    let first = shape(random, closed, size);
    let mut profiles = vec![first.clone()];
    while profiles.len() < PROFILES {
        let next = if random.chance(0.6) {
            moved(random, &first, 0.25 * size)
        } else {
            shape(random, closed, size)
        };
        profiles.push(next);
    }
    let settings = Settings {
        twist_limit: TenthsOfDegree(1799),
        crease_limit: TenthsOfDegree(900),
        ..Settings::default()
    };
    table(settings, profiles)
}

fn stations(random: &mut Random, closed: bool) -> Stations {
    let ring = random.chance(0.5);
    let mut at = 0.0;
    let all = (0..STATIONS).map(|_| {
        at += random.between(5.0, 65.0);
        let out = if ring {
            random.between(250.0, 500.0)
        } else {
            random.between(-50.0, 50.0)
        };
        let turn = match random.whole(0, 3) {
            1 if closed => 90.0,
            2 if closed => random.between(-70.0, 70.0),
            _ => 0.0,
        };
        Station::at(at)
            .scaled(random.between(0.4, 2.2))
            .shifted(out, random.between(-80.0, 80.0))
            .turned(turn)
    });
    let all = all.collect();
    if ring {
        Stations::ring(all, random.chance(0.5))
    } else {
        Stations::stack(all)
    }
    .expect("stations rise and stay in range")
}

fn section(piece: &Piece, v: f64, chords: usize) -> Vec<Point2<f64>> {
    let even = (0..=chords).map(|k| k as f64 / chords as f64);
    let mut along: Vec<f64> = even.chain(piece.breaks_along().iter().copied()).collect();
    along.sort_by(f64::total_cmp);
    along.dedup();
    along
        .into_iter()
        .map(|u| piece.section_point(u, v))
        .collect()
}

fn crosses(piece: &Piece, v: f64) -> bool {
    [CHORDS, 4 * CHORDS]
        .into_iter()
        .all(|chords| has_crossing(&section(piece, v, chords)))
}

/// Ends of crossing chords stand at least this far beyond each other, mm: far above
/// the rounding of a point, which could cross the two ends of a closed section.
const BEYOND: f64 = 1e-7;

/// Whether two chords that are no neighbours cross properly.
fn has_crossing(points: &[Point2<f64>]) -> bool {
    let side = |a: &Point2<f64>, b: &Point2<f64>, c: &Point2<f64>| {
        let chord = b - a;
        chord.perp(&(c - a)) / chord.norm()
    };
    let parted = |one: f64, other: f64| one * other < 0.0 && BEYOND < one.abs().min(other.abs());
    let chord = |k: usize| (&points[k], &points[k + 1]);
    let reach = |k: usize| {
        let (a, b) = chord(k);
        (a.x.min(b.x), a.x.max(b.x))
    };
    let mut order: Vec<usize> = (0..points.len() - 1).collect();
    order.sort_by(|&i, &j| reach(i).0.total_cmp(&reach(j).0));
    order.iter().enumerate().any(|(place, &i)| {
        let (a, b) = chord(i);
        let later = order[place + 1..].iter();
        later
            .take_while(|&&j| reach(j).0 <= reach(i).1)
            .filter(|&&j| 1 < i.abs_diff(j))
            .any(|&j| {
                let (c, d) = chord(j);
                parted(side(a, b, c), side(a, b, d)) && parted(side(c, d, a), side(c, d, b))
            })
    })
}

fn curves(table: &Table) -> Option<Vec<&Curve>> {
    (0..table.size())
        .map(|index| table.prepared(index).curve().ok())
        .collect()
}

#[test]
fn no_section_of_a_piece_crosses_itself() {
    let (mut pieces, mut sections, mut refused, mut seen) = (0, 0, 0, 0);
    for seed in 0..FAMILIES {
        let mut random = Random::new(900 + seed);
        let closed = seed % 2 == 0;
        let table = family(&mut random, closed);
        let stations = stations(&mut random, closed);
        let Some(curves) = curves(&table) else {
            continue;
        };
        for blend in [
            Blend::Ruled,
            Blend::Eased,
            Blend::BSpline(Degree::Two),
            Blend::BSpline(Degree::Three),
        ] {
            let layout = Layout::new(stations.clone(), blend).expect("enough stations");
            let series = Series::new(&table, layout.clone(), &Rules::default()).expect("countable");
            let piece = |arrangement| Piece::new(&curves, &layout, arrangement).expect("fits");
            for number in series.choose(seed, 3) {
                let arrangement = series.arrangement(&number).expect("in range");
                assert_eq!(series.number(&arrangement), Ok(number.clone()));
                let piece = piece(arrangement);
                pieces += 1;
                for _ in 0..12 {
                    let v = random.unit();
                    sections += 1;
                    assert!(
                        !crosses(&piece, v),
                        "seed {seed}, {blend:?}, piece {number}, v {v}"
                    );
                    if layout.stations().is_ring() {
                        let points = section(&piece, v, CHORDS);
                        assert!(points.iter().all(|point| 0.0 < point.x));
                    }
                }
            }
            // Words that the proof refuses for a fault of two neighbours.
            if blend == Blend::Ruled {
                let word = Arrangement(
                    (0..STATIONS)
                        .map(|_| random.whole(0, PROFILES as i32 - 1) as usize)
                        .collect(),
                );
                let standing = series.standing();
                let alone = (0..STATIONS).all(|k| standing.alone(k, word.0[k]) == Verdict::Clear);
                let faulty = (0..layout.stations().joint_count()).any(|joint| {
                    let (low, high) = layout.stations().beside(joint);
                    standing.beside(joint, word.0[low], word.0[high]) == Verdict::Faulty
                });
                if alone && faulty {
                    refused += 1;
                    assert!(series.number(&word).is_err());
                    let piece = piece(word);
                    let crossed = (0..120).any(|k| crosses(&piece, (f64::from(k) + 0.5) / 120.0));
                    seen += usize::from(crossed);
                }
            }
        }
    }
    println!(
        "{pieces} pieces, {sections} sections; {seen} of {refused} refused ones seen to cross"
    );
    assert!(300 <= pieces);
    // A short crossing can hide between the sections drawn.
    assert!(5 <= refused && refused <= 2 * seen);
}
