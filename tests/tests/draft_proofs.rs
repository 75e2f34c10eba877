//! Proofs of draft against dense samples: where every place is said to be proved
//! above a limit, none may be found below it; parts said to be undercut must look
//! away everywhere. Normals come from differences of points of the piece.

use loftkin_form::blend::{Blend, Degree, Layout};
use loftkin_form::making::draft::{Draft, Halves, best_direction};
use loftkin_form::making::draft_proof::{Proof, proves, survey};
use loftkin_form::piece::{Arrangement, Piece};
use loftkin_form::stations::{Station, Stations};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::Profile;
use loftkin_tests::generate::{moved, shape};
use loftkin_tests::random::Random;
use nalgebra::{Unit, UnitVector3, Vector3};

/// Pieces in CI; a longer run sets LOFTKIN_DRAFTS.
const PIECES: u64 = 40;
/// Samples along and across each cell.
const SAMPLES: usize = 9;

fn pieces() -> u64 {
    std::env::var("LOFTKIN_DRAFTS")
        .ok()
        .and_then(|value| value.parse().ok())
        .unwrap_or(PIECES)
}

/// A piece that narrows upward more or less, or a ring of open profiles.
fn piece(random: &mut Random) -> Option<Piece> {
    let closed = random.chance(0.6);
    let first = shape(random, closed, 8000.0);
    let rough = [0.0, 20.0, 300.0][random.whole(0, 2) as usize];
    let profiles: Vec<Profile> = (0..3).map(|_| moved(random, &first, rough)).collect();
    let curves: Option<Vec<Curve>> = profiles
        .iter()
        .map(|profile| Curve::new(profile, Pacing::Parameter).ok())
        .collect();
    let curves = curves?;
    let borrowed: Vec<&Curve> = curves.iter().collect();
    let count = random.whole(4, 6) as usize;
    let ring = !closed || random.chance(0.2);
    let (mut at, mut scale) = (0.0, 1.0);
    let stations = (0..count).map(|_| {
        at += random.between(5.0, 55.0);
        scale *= random.between(0.6, 1.02);
        let station = Station::at(at).scaled(if ring { 1.0 } else { scale });
        station.shifted(
            if ring {
                200.0
            } else {
                random.between(-5.0, 5.0)
            },
            0.0,
        )
    });
    let stations = stations.collect();
    let stations = if ring {
        Stations::ring(stations, random.chance(0.5))
    } else {
        Stations::stack(stations)
    };
    let blend = [
        Blend::Ruled,
        Blend::Eased,
        Blend::BSpline(Degree::Two),
        Blend::BSpline(Degree::Three),
    ][random.whole(0, 3) as usize];
    let layout = Layout::new(stations.ok()?, blend).ok()?;
    let word = (0..count).map(|_| random.whole(0, 2) as usize).collect();
    Piece::new(&borrowed, &layout, Arrangement(word)).ok()
}

/// The draft at (u, v) in degrees by central differences of points, and how sure
/// it is: none where the skin is too short to tell.
fn draft_at(
    piece: &Piece,
    direction: UnitVector3<f64>,
    u: (f64, f64),
    v: (f64, f64),
    s: (f64, f64),
) -> Option<f64> {
    let step = 1e-3;
    let inside = |(from, to): (f64, f64), t: f64| from + (to - from) * t;
    let (x, y) = (s.0.clamp(step, 1.0 - step), s.1.clamp(step, 1.0 - step));
    let point = |x: f64, y: f64| piece.point(inside(u, x), inside(v, y));
    let along = point(x + step, y) - point(x - step, y);
    let across = point(x, y + step) - point(x, y - step);
    let cross = along.cross(&across);
    let length = cross.norm();
    if length < 1e-4 * along.norm() * across.norm() || along.norm().min(across.norm()) < 1e-7 {
        return None;
    }
    let sine = cross.dot(&direction) / length * piece.outward();
    Some(sine.clamp(-1.0, 1.0).asin().to_degrees())
}

fn cells(piece: &Piece) -> Vec<((f64, f64), (f64, f64))> {
    let (along, across) = (piece.breaks_along(), piece.breaks_across());
    across
        .windows(2)
        .flat_map(|v| along.windows(2).map(move |u| ((u[0], u[1]), (v[0], v[1]))))
        .filter(|(u, _)| 1e-9 < u.1 - u.0)
        .collect()
}

fn least(piece: &Piece, direction: UnitVector3<f64>) -> f64 {
    let mut least = f64::INFINITY;
    for (u, v) in cells(piece) {
        for i in 0..SAMPLES {
            for j in 0..SAMPLES {
                let share = |k: usize| k as f64 / (SAMPLES - 1) as f64;
                let found = draft_at(piece, direction, u, v, (share(i), share(j)));
                least = found.map_or(least, |found| least.min(found));
            }
        }
    }
    least
}

/// No direction does better than the bound that comes with the best one, and that
/// one keeps its word, but for what lies between two ways of sampling.
#[test]
fn no_direction_is_better_than_the_best() {
    const BETWEEN_SAMPLES: f64 = 0.3;
    let (mut bounded, mut tried) = (0, 0);
    for seed in 0..pieces() {
        let mut random = Random::new(31_000 + seed);
        let Some(piece) = piece(&mut random) else {
            continue;
        };
        let Some(best) = best_direction(&piece) else {
            continue;
        };
        let Some(bound) = best.bound else { continue };
        bounded += 1;
        assert!(best.least <= bound);
        let kept = least(&piece, best.direction);
        assert!(
            kept <= bound + BETWEEN_SAMPLES,
            "seed {seed}: {kept} for {best:?}"
        );
        for _ in 0..30 {
            let near = best.direction.into_inner() * random.between(0.0, 6.0);
            let aside = Vector3::from_fn(|_, _| random.between(-1.0, 1.0));
            let found = least(&piece, Unit::new_normalize(near + aside));
            tried += 1;
            assert!(
                found <= bound + BETWEEN_SAMPLES,
                "seed {seed}: {found} for {best:?}"
            );
        }
    }
    println!("{bounded} pieces can be drawn, {tried} other directions");
    assert!(3 <= bounded);
}

#[test]
fn nothing_proved_is_seen_to_lack_draft() {
    let (mut asked, mut proved, mut near) = (0, 0, 0);
    let (mut drafted, mut undercut, mut open) = (0, 0, 0);
    for seed in 0..pieces() {
        let mut random = Random::new(31_000 + seed);
        let Some(piece) = piece(&mut random) else {
            continue;
        };
        let aslant = Vector3::new(random.between(-0.3, 0.3), random.between(-0.3, 0.3), 1.0);
        let mut direction = Unit::new_normalize(if random.chance(0.5) {
            aslant
        } else {
            Vector3::z()
        });
        if least(&piece, direction) < least(&piece, -direction) {
            direction = -direction;
        }
        let seen = least(&piece, direction);
        let draft = |least: f64| Draft {
            direction,
            halves: Halves::One,
            least,
        };
        for above in [1e-3, 0.1, 2.0] {
            assert!(
                !proves(&piece, &draft(seen.max(0.0) + above)),
                "seed {seed}: {seen} and {above} more"
            );
        }
        if 1.0 < seen {
            asked += 1;
            proved += usize::from(proves(&piece, &draft(seen - 0.5)));
            near += usize::from(proves(&piece, &draft(seen - 0.05)));
        }
        let limit = random.between(0.0, 10.0);
        for (cell, proof) in survey(&piece, &draft(limit)) {
            match proof {
                Proof::Open => open += 1,
                Proof::Drafted => drafted += 1,
                Proof::Undercut => undercut += 1,
            }
            for _ in 0..3 {
                let at = (random.unit(), random.unit());
                let Some(found) = draft_at(&piece, direction, cell.along, cell.across, at) else {
                    continue;
                };
                assert!(
                    proof != Proof::Drafted || limit - 1e-3 < found,
                    "seed {seed}: {cell:?} has {found} for {limit}"
                );
                assert!(
                    proof != Proof::Undercut || found < 1e-3,
                    "seed {seed}: {cell:?} has {found}"
                );
            }
        }
    }
    println!(
        "{proved} of {asked} proved half a degree below the least seen, {near} a twentieth; survey {drafted} {undercut} {open}"
    );
    assert!(0 < asked && 9 * asked <= 10 * proved);
}
