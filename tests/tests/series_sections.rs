//! Pieces of a series against an oracle that places curves, weighs stations and
//! draws sections by itself: scaled, shifted and turned stations, stacks and
//! rings close to their axis, 2 to 24 stations, every blend.
//!
//! No section of a piece of a series may meet itself, none in a ring may reach
//! the axis, and the limits of twist and crease hold between neighbours. What is
//! refused as faulty must be seen to be so; what is refused as unproven is counted.

use loftkin_form::blend::{Blend, Layout};
use loftkin_form::piece::Piece;
use loftkin_form::series::Series;
use loftkin_form::series::rules::Rules;
use loftkin_form::series::standing::{Grounds, Standing};
use loftkin_form::series::walks::NumberError;
use loftkin_kernel::verdict::Verdict;
use loftkin_tests::oracle::blend::OracleFamily;
use loftkin_tests::oracle::cross;
use loftkin_tests::oracle::curve::OracleCurve;
use loftkin_tests::oracle::pair::OraclePair;
use loftkin_tests::oracle::search::{QUICK, Sight, THOROUGH, search, search_alone};
use loftkin_tests::oracle::station::{Joining, least_x};
use loftkin_tests::oracle::twist::{largest_crease, largest_twist};
use loftkin_tests::random::Random;
use loftkin_tests::series::{BLENDS, Case};
use loftkin_tests::setting::setting;

/// Families in CI; a longer run sets LOFTKIN_SERIES, and LOFTKIN_SEED where it starts.
const FAMILIES: u64 = 8;
/// Sections of a B-spline piece looked at.
const SECTIONS: usize = 8;
/// Chords in each span of a section.
const CHORDS: usize = 16;
/// Degrees by which sampled tangents may pass a limit that is kept: rounding.
const ANGLE: f64 = 1e-4;

fn rules(random: &mut Random, stations: usize, profiles: usize) -> Rules {
    let rules = Rules {
        no_equal_neighbours: random.chance(0.3),
        ..Rules::default()
    };
    if random.chance(0.3) {
        let station = random.whole(0, stations as i32 - 1) as usize;
        let profile = random.whole(0, profiles as i32 - 1) as usize;
        return rules.with_fixed(stations, station, profile);
    }
    rules
}

fn is_seen(sight: Sight) -> bool {
    matches!(sight, Sight::Contact(_) | Sight::Fold(..))
}

/// Whether the loft of a joint is seen to meet itself, or to pass a limit by more
/// than `by` degrees.
fn is_seen_faulty(case: &Case, pair: &OraclePair, by: f64, thorough: bool) -> bool {
    let limits = (
        case.settings().twist_limit.degrees(),
        case.settings().crease_limit.degrees(),
    );
    let density = if thorough { THOROUGH } else { QUICK };
    limits.0 + by < largest_twist(pair, 24).0
        || limits.1 + by < largest_crease(pair, 24).0
        || is_seen(search(pair, density))
}

#[derive(Debug, Default)]
struct Tally {
    series: usize,
    empty: usize,
    pieces: usize,
    joints: usize,
    sections: usize,
    by_threes: usize,
    faulty: usize,
    faulty_seen: usize,
    unproven: usize,
    unproven_joints: usize,
    joints_judged: usize,
    threes_refused: usize,
    threes_seen: usize,
}

/// Holds one piece to what the series says of it.
fn hold(
    case: &Case,
    blend: (Blend, Joining),
    piece: &Piece,
    random: &mut Random,
    tally: &mut Tally,
) {
    let word = &piece.arrangement().0;
    let stations = &case.stations;
    let standing: Vec<OracleCurve> = word
        .iter()
        .enumerate()
        .map(|(station, &profile)| case.at(station, profile))
        .collect();
    for (station, curve) in standing.iter().enumerate() {
        let alone = OraclePair::of_curves(curve, curve);
        assert!(
            !is_seen(search_alone(&alone, CHORDS)),
            "station {station} of {word:?}"
        );
        assert!(
            !stations.is_ring() || 0.0 < least_x(curve),
            "axis at station {station} of {word:?}"
        );
    }
    for joint in 0..stations.joint_count() {
        let (low, high) = stations.beside(joint);
        let pair = OraclePair::of_curves(&standing[low], &standing[high]);
        tally.joints += 1;
        let seen = is_seen_faulty(case, &pair, ANGLE, false);
        assert!(!seen, "joint {joint} of {word:?}");
    }
    let weighing = case.weighing(blend.1);
    let family = OracleFamily::of_curves(&standing);
    for _ in 0..SECTIONS {
        let v = random.unit();
        let weights = weighing.at(v);
        assert!(weights.iter().all(|&weight| 0.0 <= weight));
        let section = family.blend(&weights);
        tally.sections += 1;
        if matches!(blend.1, Joining::BSpline(_)) {
            assert!(!is_seen(search_alone(&section, CHORDS)), "{word:?} at {v}");
        }
        for _ in 0..4 {
            let u = random.unit();
            let exact = section.point(u, 0.5) / 100.0;
            let found = piece.section_point(u, v);
            assert!((found.coords - exact).norm() < 1e-8, "{word:?} at {u}, {v}");
            assert!(!stations.is_ring() || 0.0 < found.x);
        }
    }
}

/// Looks at a word that the series refuses.
fn refuse(
    case: &Case,
    standing: &Standing,
    word: &[usize],
    error: &NumberError,
    tally: &mut Tally,
) {
    match *error {
        NumberError::NotAllowed { station, profile } => {
            let (station, profile) = (station - 1, profile - 1);
            let curve = case.at(station, profile);
            match standing.alone(station, profile) {
                Verdict::Faulty => {
                    let alone = OraclePair::of_curves(&curve, &curve);
                    let reaches = case.stations.is_ring() && least_x(&curve) <= 1e-6;
                    tally.faulty += 1;
                    tally.faulty_seen +=
                        usize::from(reaches || is_seen(search_alone(&alone, 4 * CHORDS)));
                }
                Verdict::Unproven => tally.unproven += 1,
                Verdict::Clear => {}
            }
        }
        NumberError::NotBeside { station, .. } => {
            let count = case.stations.count();
            let (low, high) = ((station + count - 2) % count, station - 1);
            let joint = low;
            let curves = [low, high].map(|one| case.at(one, word[one]));
            match standing.beside(joint, word[low], word[high]) {
                Verdict::Faulty => {
                    let pair = OraclePair::of_curves(&curves[0], &curves[1]);
                    tally.faulty += 1;
                    tally.faulty_seen += usize::from(is_seen_faulty(case, &pair, -ANGLE, true));
                }
                Verdict::Unproven => tally.unproven += 1,
                Verdict::Clear => {}
            }
        }
        _ => {}
    }
}

/// Whether three curves are seen to meet in a blend: a place at which their
/// divided differences surround 0, so that weights exist with which they cancel.
fn three_meet(curves: [&OracleCurve; 3]) -> bool {
    const PLACES: usize = 120;
    let pairs = [1, 2].map(|other| OraclePair::of_curves(curves[0], curves[other]));
    let at = |k: usize| (k as f64 + 0.37) / PLACES as f64;
    (0..PLACES).any(|i| {
        (0..=i).any(|j| {
            let (u, w) = (at(i), at(j) - 1e-3);
            let differences = [0, 1].map(|k| pairs[k].difference(u, w.max(0.0)));
            let [a, b, c] = [
                differences[0].first[0],
                differences[0].second[0],
                differences[1].second[0],
            ];
            let turns = [cross(a, b), cross(b, c), cross(c, a)];
            turns.iter().all(|&turn| 0.0 < turn) || turns.iter().all(|&turn| turn < 0.0)
        })
    })
}

/// Looks at the sets of three that a series by threes leaves out.
fn leave_out(case: &Case, series: &Series, random: &mut Random, tally: &mut Tally) {
    let grammar = series.standing().grammar();
    let count = case.stations.count();
    for _ in 0..6 {
        let first = random.whole(0, count as i32 - 1) as usize;
        let places = [0, 1, 2].map(|k| (first + k) % count);
        let inside = case.stations.is_all_round() || first + 2 < count;
        let palette = grammar.size() as i32;
        if !inside || palette == 0 {
            continue;
        }
        let chosen = places.map(|_| random.whole(0, palette - 1) as usize);
        let allowed = (0..3).all(|k| grammar.allowed[places[k]][chosen[k]]);
        let mut three = [0, 1, 2].map(|k| (grammar.turns[places[k]], chosen[k]));
        three.sort_unstable();
        if !allowed || grammar.threes.contains(&three) {
            continue;
        }
        let curves = [0, 1, 2].map(|k| case.at(places[k], grammar.palette[chosen[k]]));
        let [a, b, c] = &curves;
        let pairs = [(a, b), (b, c), (a, c)];
        let by_two = pairs
            .iter()
            .any(|(one, other)| is_seen(search(&OraclePair::of_curves(one, other), QUICK)));
        tally.threes_refused += 1;
        tally.threes_seen += usize::from(by_two || three_meet([a, b, c]));
    }
}

#[test]
fn pieces_are_as_sound_as_the_series_says() {
    let mut tally = Tally::default();
    let start = setting("LOFTKIN_SEED", 0);
    for seed in start..start + setting("LOFTKIN_SERIES", FAMILIES) {
        let case = Case::new(seed);
        let mut random = Random::new(7_000_000 + seed);
        let (count, size) = (case.stations.count(), case.table.size());
        let Some(judged) = case.judged() else {
            continue;
        };
        for blend in BLENDS {
            let Ok(layout) = Layout::new(case.stations.clone(), blend.0) else {
                continue;
            };
            let rules = rules(&mut random, count, size);
            let Ok(series) = Series::new(&case.table, layout.clone(), &rules) else {
                continue;
            };
            tally.series += 1;
            tally.empty += usize::from(series.emptiness().is_some());
            for number in series.choose(seed, 2) {
                let arrangement = series.arrangement(&number).expect("in range");
                assert_eq!(series.number(&arrangement), Ok(number.clone()));
                let word = &arrangement.0;
                assert!((0..count).all(|station| rules.allows(station, word[station])));
                let piece = Piece::new(&judged, &layout, arrangement).expect("fits");
                println!("seed {seed}, {blend:?}, piece {number}");
                tally.pieces += 1;
                hold(&case, blend, &piece, &mut random, &mut tally);
            }
            let standing = series.standing();
            if blend.0 == Blend::Ruled {
                for joint in 0..case.stations.joint_count() {
                    let cells =
                        (0..size * size).map(|k| standing.beside(joint, k / size, k % size));
                    tally.joints_judged += size * size;
                    tally.unproven_joints +=
                        cells.filter(|cell| *cell == Verdict::Unproven).count();
                }
                for _ in 0..4 {
                    let word = case.random_word(&mut random);
                    if let Err(error) = series.number(&word) {
                        refuse(&case, standing, &word.0, &error, &mut tally);
                    }
                }
            }
            if standing.grounds() == Grounds::Threes {
                tally.by_threes += 1;
                leave_out(&case, &series, &mut random, &mut tally);
            }
        }
    }
    println!("{tally:?}");
    assert!(tally.series < 3 * tally.pieces);
    assert!(0 < tally.by_threes && 0 < tally.faulty);
    assert!(9 * tally.faulty <= 10 * tally.faulty_seen);
}
