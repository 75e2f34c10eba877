//! Series counted by listing every word: each piece judged by itself as it stands,
//! without the shortcuts of the series (scale and shift left out, turns shared,
//! sets of three in place of whole neighbourhoods), and rings up to turning and
//! mirroring by their orbits, with the pieces laid over each other in space.

use loftkin_form::blend::Layout;
use loftkin_form::piece::{Arrangement, Piece};
use loftkin_form::series::Series;
use loftkin_form::series::choice::distinct_numbers;
use loftkin_form::series::rules::Rules;
use loftkin_form::stations::{Station, Stations};
use loftkin_kernel::family::{Placement, Settings};
use loftkin_kernel::placed::Judge;
use loftkin_kernel::proof::Prepared;
use loftkin_kernel::verdict::Verdict;
use loftkin_tests::random::Random;
use loftkin_tests::series::{BLENDS, Case};
use loftkin_tests::setting::setting;
use nalgebra::{Point3, Vector3};
use num_bigint::BigUint;
use std::collections::{BTreeMap, BTreeSet};

/// Families in CI; a longer run sets LOFTKIN_COUNTS.
const FAMILIES: u64 = 16;
/// The most words listed.
const MOST_WORDS: usize = 1300;

/// All words of `length` letters below `size`, in their order.
fn words(length: usize, size: usize) -> Vec<Vec<usize>> {
    (0..length).fold(vec![Vec::new()], |words, _| {
        let longer = words.into_iter().flat_map(|word| {
            (0..size).map(move |letter| word.iter().copied().chain([letter]).collect())
        });
        longer.collect()
    })
}

fn any_rules(random: &mut Random, stations: usize, profiles: usize) -> Rules {
    let allowed = (0..stations).map(|_| {
        let list: Vec<usize> = (0..profiles).filter(|_| random.chance(0.7)).collect();
        (random.chance(0.4) && !list.is_empty()).then_some(list)
    });
    let allowed: Vec<_> = allowed.collect();
    Rules {
        no_equal_neighbours: random.chance(0.3),
        allowed: if random.chance(0.5) {
            allowed
        } else {
            Vec::new()
        },
    }
}

/// Every profile at every station, judged there.
struct Placed {
    judge: Judge,
    at: Vec<Vec<Prepared>>,
    alone: Vec<Vec<bool>>,
    pairs: BTreeMap<[(usize, usize); 2], bool>,
    blends: BTreeMap<Vec<(usize, usize)>, bool>,
}

impl Placed {
    fn new(case: &Case) -> Option<Self> {
        let placement = if case.stations.is_ring() {
            Placement::Ring
        } else {
            Placement::Stack
        };
        let mut judge = Judge::new(Settings {
            placement,
            ..*case.settings()
        });
        let curves = case.judged()?;
        let at: Vec<Vec<Prepared>> = (0..case.stations.count())
            .map(|station| {
                let stand = case.stations.stand(station);
                let placed = curves.iter().map(|curve| curve.placed(&stand));
                placed.map(|curve| judge.prepare(curve)).collect()
            })
            .collect();
        let mut is_clear = |one: &Prepared| judge.alone(one).verdict == Verdict::Clear;
        let alone = at
            .iter()
            .map(|here| here.iter().map(&mut is_clear).collect())
            .collect();
        Some(Self {
            judge,
            at,
            alone,
            pairs: BTreeMap::new(),
            blends: BTreeMap::new(),
        })
    }

    fn pair(&mut self, low: (usize, usize), high: (usize, usize)) -> bool {
        if let Some(&known) = self.pairs.get(&[low, high]) {
            return known;
        }
        let [one, other] = [low, high].map(|(station, profile)| &self.at[station][profile]);
        let found = self.judge.pair(one, other).verdict == Verdict::Clear;
        self.pairs.insert([low, high], found);
        found
    }

    fn blend(&mut self, members: Vec<(usize, usize)>) -> bool {
        if let Some(&known) = self.blends.get(&members) {
            return known;
        }
        let ready: Vec<&Prepared> = members
            .iter()
            .map(|&(station, profile)| &self.at[station][profile])
            .collect();
        let found = self.judge.proves_any_blend(&ready);
        self.blends.insert(members, found);
        found
    }

    /// Whether the piece of `word` is proved, joint by joint and, for B-splines,
    /// neighbourhood by neighbourhood.
    fn proves(&mut self, stations: &Stations, reach: usize, word: &[usize]) -> bool {
        let count = word.len();
        let member = |k: usize| (k % count, word[k % count]);
        let joints = 0..stations.joint_count();
        let starts = if stations.is_all_round() {
            count
        } else {
            count + 1 - reach
        };
        (0..count).all(|k| self.alone[k][word[k]])
            && joints
                .clone()
                .all(|joint| self.pair(member(joint), member(joint + 1)))
            && (reach == 2
                || (0..starts).all(|from| self.blend((from..from + reach).map(member).collect())))
    }
}

#[test]
fn series_hold_the_words_that_are_proved_one_by_one() {
    let (mut series_seen, mut words_seen, mut pieces, mut numerical) = (0, 0, 0, 0);
    for seed in 0..setting("LOFTKIN_COUNTS", FAMILIES) {
        let case = Case::new(40_000 + seed);
        let mut random = Random::new(seed);
        let (count, size) = (case.stations.count(), case.table.size());
        if MOST_WORDS < size.saturating_pow(count as u32) {
            continue;
        }
        let Some(mut placed) = Placed::new(&case) else {
            continue;
        };
        for (blend, _) in BLENDS {
            let Ok(layout) = Layout::new(case.stations.clone(), blend) else {
                continue;
            };
            let rules = any_rules(&mut random, count, size);
            let series = Series::new(&case.table, layout, &rules).expect("small");
            series_seen += 1;
            let mut number = BigUint::ZERO;
            for word in words(count, size) {
                words_seen += 1;
                let kept = (0..count).all(|k| rules.allows(k, word[k]));
                let joints = 0..case.stations.joint_count();
                let unequal = !rules.no_equal_neighbours
                    || joints.clone().all(|k| word[k] != word[(k + 1) % count]);
                let proved = placed.proves(&case.stations, blend.reach(), &word);
                let found = series.number(&Arrangement(word.clone()));
                // Rounding of scale and shift moves a verdict only within the tolerance.
                if found.is_ok() != (kept && unequal && proved) {
                    assert!(
                        kept && unequal,
                        "seed {seed}, {blend:?}: {word:?} breaks the rules"
                    );
                    numerical += 1;
                    println!("seed {seed}, {blend:?}: {word:?} is {found:?}, by itself {proved}");
                }
                if let Ok(found) = found {
                    number += 1_u32;
                    pieces += 1;
                    assert_eq!(found, number);
                    assert_eq!(series.arrangement(&number), Ok(Arrangement(word)));
                }
            }
            assert_eq!(*series.count(), number);
        }
    }
    println!("{series_seen} series, {words_seen} words, {pieces} pieces, {numerical} apart");
    assert!(0 < pieces && 1000 * numerical <= words_seen);
}

/// Points of a piece, some of every station's neighbourhood.
fn points(piece: &Piece, map: impl Fn(f64, f64) -> (f64, f64)) -> Vec<Point3<f64>> {
    let mut random = Random::new(3);
    (0..60)
        .map(|_| {
            let (u, v) = map(random.unit(), random.unit());
            piece.point(u, v.rem_euclid(1.0))
        })
        .collect()
}

/// The largest distance from `points` turned about z by `degrees` to `others`.
fn apart(points: &[Point3<f64>], degrees: f64, others: &[Point3<f64>]) -> f64 {
    let turn = nalgebra::Rotation3::from_axis_angle(&Vector3::z_axis(), degrees.to_radians());
    let pairs = points.iter().zip(others);
    pairs
        .map(|(one, other)| (turn * one - other).norm())
        .fold(0.0, f64::max)
}

/// Stations alike at even angles: every turned word is the same body turned, every
/// word read backward its mirror image, for open and closed profiles and every
/// blend; and the count up to both is the count of orbits.
#[test]
fn words_of_a_ring_are_the_same_body_turned_or_mirrored() {
    let mut rings = 0;
    for seed in 0..setting("LOFTKIN_COUNTS", FAMILIES) {
        let case = Case::new(60_000 + seed);
        let mut random = Random::new(seed);
        let size = case.table.size();
        let count = random.whole(2, 5) as usize;
        let Some(curves) = case.judged() else {
            continue;
        };
        let closed = curves[0].is_closed();
        let (scale, turn) = (random.between(0.5, 1.5), random.between(-90.0, 90.0));
        let all = (0..count).map(|k| {
            Station::at(7.0 + 360.0 * k as f64 / count as f64)
                .scaled(scale)
                .shifted(400.0, 10.0)
                .turned(if closed { turn } else { 0.0 })
        });
        let stations = Stations::ring(all.collect(), true).expect("even angles");
        let step = 360.0 / count as f64;
        for (blend, _) in BLENDS {
            let Ok(layout) = Layout::new(stations.clone(), blend) else {
                continue;
            };
            let series =
                Series::new(&case.table, layout.clone(), &Rules::default()).expect("small");
            let all: Vec<Vec<usize>> = (words(count, size).into_iter())
                .filter(|word| series.number(&Arrangement(word.clone())).is_ok())
                .collect();
            let Some(word) = all.get(random.whole(0, 1_000_000) as usize % all.len().max(1)) else {
                continue;
            };
            rings += 1;
            let piece = |word: &[usize]| {
                Piece::new(&curves, &layout, Arrangement(word.to_vec())).expect("fits")
            };
            let here = points(&piece(word), |u, v| (u, v));
            let mut turned = word.clone();
            turned.rotate_right(1);
            let there = points(&piece(&turned), |u, v| (u, v + 1.0 / count as f64));
            assert!(
                apart(&here, step, &there) < 1e-9 * 1e3,
                "{blend:?} {word:?}"
            );
            // Station k goes to station -k: the mirror is the plane of station 0.
            let backward: Vec<usize> = (0..count).map(|k| word[(count - k) % count]).collect();
            let there = points(&piece(&backward), |u, v| (u, 1.0 - v));
            let level = |points: &[Point3<f64>]| -> Vec<Point3<f64>> {
                let turn =
                    nalgebra::Rotation3::from_axis_angle(&Vector3::z_axis(), -7_f64.to_radians());
                points.iter().map(|point| turn * point).collect()
            };
            let mirrored: Vec<Point3<f64>> = level(&here)
                .iter()
                .map(|point| Point3::new(point.x, -point.y, point.z))
                .collect();
            assert!(
                apart(&mirrored, 0.0, &level(&there)) < 1e-6,
                "{blend:?} {word:?}"
            );
            let Ok(symmetry) = series.up_to_symmetry() else {
                continue;
            };
            let (mut by_turning, mut by_both) = (BTreeSet::new(), BTreeSet::new());
            for word in &all {
                let orbit = |word: &[usize]| {
                    let shifts = (0..count).map(|shift| {
                        let mut other = word.to_vec();
                        other.rotate_left(shift);
                        other
                    });
                    shifts.min().unwrap_or_default()
                };
                let backward: Vec<usize> = word.iter().rev().copied().collect();
                by_turning.insert(orbit(word));
                by_both.insert(orbit(word).min(orbit(&backward)));
            }
            assert_eq!(symmetry.turning, BigUint::from(by_turning.len()));
            assert_eq!(symmetry.mirroring, BigUint::from(by_both.len()));
        }
    }
    println!("{rings} rings");
    assert!(20 <= rings);
}

/// Chi-square over 40 numbers, each drawn equally often: 39 degrees of freedom, of
/// which 1 in a million exceeds 39 + 4.75 √78 + (4.75² - 1) 2/3 (Cornish and
/// Fisher's expansion, from memory), about 95.
#[test]
fn choices_are_distinct_and_even() {
    let count = BigUint::from(40_u32);
    let mut times = [0_u32; 40];
    for seed in 0..4000_u64 {
        let chosen = distinct_numbers(seed.wrapping_mul(0x9e37_79b9), 10, &count);
        assert!(chosen.windows(2).all(|pair| pair[0] < pair[1]) && chosen.len() == 10);
        for number in chosen {
            times[usize::try_from(number).expect("small") - 1] += 1;
        }
    }
    let expected = 1000.0;
    // Drawn without return: the spread is that of draws with return times 30/39.
    let chi: f64 = times
        .iter()
        .map(|&times| (f64::from(times) - expected).powi(2) / expected)
        .sum::<f64>()
        * 39.0
        / 30.0;
    println!("chi-square {chi}");
    assert!((10.0..95.0).contains(&chi));
}
