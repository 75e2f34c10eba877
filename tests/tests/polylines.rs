//! Polylines on tiny grids, where collinear, retracing and touching happen all
//! the time, against exact whole-number truth.
//!
//! The judged curve is given by f64 handles at thirds, so an exact touch may be a
//! rounding apart in it. Touches of a polyline with itself are decided by whole
//! numbers all the same; a touch in a section between two may stay unproven, and
//! none is ever clear.

use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::{Node, Profile};
use loftkin_tests::compare::{Claim, claim, table};
use loftkin_tests::polyline::{Meeting, Vertex, meeting, meets_itself};
use loftkin_tests::random::Random;
use loftkin_tests::shapes::wide;
use std::collections::BTreeMap;

const PAIRS: u64 = 40_000;

/// A crossing over fewer v than this may stay unproven.
const NARROW: f64 = 1e-4;

fn profile(points: &[Vertex], closed: bool) -> Profile {
    let nodes = points
        .iter()
        .map(|&(x, y)| Node::corner(x as i32, y as i32))
        .collect();
    if closed {
        Profile::closed(nodes)
    } else {
        Profile::open(nodes)
    }
}

/// Vertices on a grid of `reach` by `reach` steps of `step`, somewhere.
fn drawn(random: &mut Random, count: usize, reach: i32, step: i32) -> Vec<Vertex> {
    let corner = [(); 2].map(|()| step * random.whole(-300, 300));
    let mut at = |axis: usize| i64::from(corner[axis] + step * random.whole(0, reach));
    (0..count).map(|_| (at(0), at(1))).collect()
}

fn exact(points: &[Vertex], closed: bool) -> &'static str {
    if meets_itself(points, closed) {
        "meets"
    } else {
        "simple"
    }
}

#[test]
fn verdicts_agree_with_exact_whole_numbers() {
    let mut alone: BTreeMap<(&str, &str), u64> = BTreeMap::new();
    let mut pairs: BTreeMap<(&str, &str), u64> = BTreeMap::new();
    let mut wrong = Vec::new();
    for seed in 0..PAIRS {
        let mut random = Random::new(seed);
        let closed = random.chance(0.6);
        let count = random.whole(if closed { 3 } else { 2 }, 6) as usize;
        let reach = random.whole(2, 6);
        let step = [1, 1, 37, 1000][random.whole(0, 3) as usize];
        let points = [(); 2].map(|()| drawn(&mut random, count, reach, step));
        let profiles = [0, 1].map(|i| profile(&points[i], closed));
        if profiles.iter().any(|profile| profile.validate().is_err()) {
            continue;
        }
        let table = table(wide(Pacing::Node), profiles.to_vec());
        for (index, points) in points.iter().enumerate() {
            let judgement = table.cell(index, index);
            let said = word(&claim(judgement));
            let truth = exact(points, closed);
            *alone.entry((truth, said)).or_default() += 1;
            if (truth, said) == ("meets", "clear") || (truth, said) == ("simple", "faulty") {
                wrong.push(format!(
                    "{closed} {points:?}: {truth}, judged {judgement:?}"
                ));
            }
        }
        let judgement = table.cell(0, 1);
        if points.iter().any(|points| meets_itself(points, closed)) {
            continue;
        }
        let said = word(&claim(judgement));
        let truth = match meeting(&points[0], &points[1], closed) {
            Meeting::Never => "never",
            Meeting::Touch => "touch",
            Meeting::Crossing(width) if width < NARROW => "narrow",
            Meeting::Crossing(_) => "crossing",
        };
        *pairs.entry((truth, said)).or_default() += 1;
        if (said == "clear") != (truth == "never") && said != "unproven" {
            wrong.push(format!(
                "{closed} {points:?}: {truth}, judged {judgement:?}"
            ));
        }
    }
    println!("alone {alone:?}\npairs {pairs:?}");
    for line in wrong.iter().take(20) {
        println!("{line}");
    }
    assert!(wrong.is_empty(), "{} disagreements", wrong.len());
    assert_eq!(
        alone.get(&("simple", "unproven")),
        None,
        "simple polylines are proved simple"
    );
    assert_eq!(
        alone.get(&("meets", "unproven")),
        None,
        "polylines that meet themselves are found"
    );
    let touches = |said| pairs.get(&("touch", said)).copied().unwrap_or(0);
    assert!(
        touches("unproven") * 100 < touches("faulty"),
        "most touches are found"
    );
    assert_eq!(
        pairs.get(&("crossing", "unproven")),
        None,
        "robust crossings are found"
    );
    assert_eq!(
        pairs.get(&("never", "unproven")),
        None,
        "distinct segments are told apart"
    );
}

fn word(claim: &Claim) -> &'static str {
    match claim {
        Claim::Clear => "clear",
        Claim::Faulty(_) => "faulty",
        Claim::Unproven => "unproven",
    }
}

/// Two segments that cross properly are a fault whatever else touches, and a
/// touch says the same of every copy: run backwards, mirrored, turned a quarter.
#[test]
fn a_plain_crossing_is_found_beside_any_touch() {
    let mut crossings = 0;
    for seed in 0..3_000 {
        let mut random = Random::new(seed);
        let closed = random.chance(0.6);
        let count = random.whole(4, 7) as usize;
        let reach = random.whole(2, 5);
        let points = drawn(&mut random, count, reach, 37);
        let verdict = |points: &[Vertex]| {
            let profile = profile(points, closed);
            let table = table(wide(Pacing::Parameter), vec![profile]);
            claim(table.cell(0, 0))
        };
        if profile(&points, closed).validate().is_err() {
            continue;
        }
        let here = verdict(&points);
        let crosses = matches!(meeting(&points, &points, closed), Meeting::Crossing(_));
        let is_faulty = matches!(here, Claim::Faulty(_));
        assert!(is_faulty || !crosses, "{seed} {points:?} {here:?}");
        crossings += u32::from(crosses);
        let turned: Vec<Vertex> = points.iter().map(|&(x, y)| (-y, x)).collect();
        let mirrored: Vec<Vertex> = points.iter().map(|&(x, y)| (-x, y)).collect();
        let backwards: Vec<Vertex> = points.iter().rev().copied().collect();
        for copy in [turned, mirrored, backwards] {
            let there = verdict(&copy);
            let agrees = std::mem::discriminant(&here) == std::mem::discriminant(&there);
            assert!(agrees, "{seed} {points:?} {here:?} {copy:?} {there:?}");
        }
    }
    assert!(500 < crossings, "{crossings}");
}
