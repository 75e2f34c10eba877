//! Twist and crease against the oracle's own angles, at random limits: beyond
//! the limit there is a fault whose angle stands where it says, within it
//! there is none.

use loftkin_kernel::family::{Settings, TenthsOfDegree};
use loftkin_kernel::profile::Outline;
use loftkin_kernel::verdict::{Doubt, Fault, FaultKind, Judgement};
use loftkin_tests::compare::table;
use loftkin_tests::generate::{Case, case};
use loftkin_tests::oracle::pair::OraclePair;
use loftkin_tests::oracle::twist::{angle, largest_crease, largest_twist};
use loftkin_tests::random::Random;
use loftkin_tests::report::written;
use loftkin_tests::shapes::wide;
use std::collections::BTreeMap;

const PAIRS: u64 = 8000;

/// Samples may miss the very top of an angle by this, in degrees.
const SAMPLED: f64 = 0.02;

/// An angle of a witness and the oracle's at the same place, in degrees.
const SAME: f64 = 1e-3;

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Said {
    Within,
    Beyond,
    AtLimit,
}

fn said(judgement: &Judgement, kind: FaultKind) -> (Said, Option<Fault>) {
    let fault = judgement.faults().find(|fault| fault.kind == kind).copied();
    let open = matches!(judgement.doubt, Some(Doubt::AtLimit { kind: at, .. }) if at == kind);
    let said = match (fault, open) {
        (Some(_), _) => Said::Beyond,
        (None, true) => Said::AtLimit,
        (None, false) => Said::Within,
    };
    (said, fault)
}

/// The angle that the oracle measures at the place of a fault: the nearest of
/// those that the sides of a joint give.
fn angle_there(pair: &OraclePair, fault: &Fault) -> f64 {
    let (index, t) = pair.locate(fault.place.along);
    let count = pair.piece_count();
    let (before, after) = ((index + count - 1) % count, (index + 1) % count);
    let claimed = fault.angle.abs();
    let candidates: Vec<f64> = match fault.kind {
        FaultKind::Twist => [(index, t), (before, 1.0), (after, 0.0)]
            .map(|(index, t)| {
                let (a, b) = pair.slopes(index, t);
                angle(a, b)
            })
            .to_vec(),
        _ => [(before, index), (index, after)]
            .map(|(before, after)| {
                let v = fault.place.across;
                let blend = |(a, b)| a * (1.0 - v) + b * v;
                angle(
                    blend(pair.slopes(before, 1.0)),
                    blend(pair.slopes(after, 0.0)),
                )
            })
            .to_vec(),
    };
    let off = |angle: &f64| (angle - claimed).abs();
    candidates
        .into_iter()
        .min_by(|one, other| off(one).total_cmp(&off(other)))
        .unwrap_or(f64::NAN)
}

/// What contradicts the judgement in one respect.
fn complaint(
    pair: &OraclePair,
    judgement: &Judgement,
    kind: FaultKind,
    limit: f64,
    largest: f64,
) -> Option<String> {
    let (said, fault) = said(judgement, kind);
    let wrong = match said {
        Said::Within => limit + SAMPLED < largest,
        Said::AtLimit => SAMPLED < (largest - limit).abs(),
        // The witness is measured where it stands, below.
        Said::Beyond => false,
    };
    if wrong {
        return Some(format!(
            "{kind:?} limit {limit}: oracle {largest}, {said:?} {fault:?}"
        ));
    }
    let fault = fault?;
    let there = angle_there(pair, &fault);
    // Close to a vanishing tangent angles turn within a rounding of the place.
    let same = if 179.0 < largest { 1.0 } else { SAME };
    let stands = (there - fault.angle.abs()).abs() <= same && limit < fault.angle.abs();
    (!stands).then(|| format!("{kind:?} limit {limit}: {there} where it says {fault:?}"))
}

fn drawn_by_nodes(case: &Case) -> bool {
    [&case.first, &case.second]
        .iter()
        .all(|profile| matches!(profile.outline, Outline::Nodes(_)))
}

#[test]
fn limits_are_judged_as_the_angles_stand() {
    let mut counts: BTreeMap<(&str, Said), u64> = BTreeMap::new();
    let mut complaints = Vec::new();
    for seed in 0..PAIRS {
        let case = case(seed);
        let mut random = Random::new(seed ^ 0x7ea5_0000);
        let settings = Settings {
            twist_limit: TenthsOfDegree(random.whole(1, 1799) as u16),
            crease_limit: TenthsOfDegree(random.whole(1, 300) as u16),
            ..wide(case.pacing)
        };
        let table = table(settings, vec![case.first.clone(), case.second.clone()]);
        if !table.cell(0, 0).is_simple() || !table.cell(1, 1).is_simple() {
            continue;
        }
        let judgement = table.cell(0, 1);
        let pair = OraclePair::new(&case.first, &case.second, case.pacing);
        let (twist, _) = largest_twist(&pair, 200);
        let limit = settings.twist_limit.degrees();
        let mut found = vec![complaint(&pair, judgement, FaultKind::Twist, limit, twist)];
        *counts
            .entry(("twist", said(judgement, FaultKind::Twist).0))
            .or_default() += 1;
        // What counts as a corner of an exact path is the kernel's own rule.
        // Where a section loses its tangent (the twist is then 180 degrees) it has
        // no crease to speak of.
        if drawn_by_nodes(&case) && twist < 179.0 {
            let (crease, _) = largest_crease(&pair, 400);
            let limit = settings.crease_limit.degrees();
            found.push(complaint(
                &pair,
                judgement,
                FaultKind::Crease,
                limit,
                crease,
            ));
            *counts
                .entry(("crease", said(judgement, FaultKind::Crease).0))
                .or_default() += 1;
        }
        complaints.extend(found.into_iter().flatten().map(|what| {
            let (first, second) = (written(&case.first), written(&case.second));
            format!(
                "seed {seed} {:?} {what}\n  {first}\n  {second}",
                case.pacing
            )
        }));
    }
    println!("{counts:?}");
    for line in complaints.iter().take(12) {
        println!("{line}");
    }
    assert!(complaints.is_empty(), "{} disagreements", complaints.len());
}
