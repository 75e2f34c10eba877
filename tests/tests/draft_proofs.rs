//! Proofs of draft against dense samples: where every place is said to be proved
//! above a limit, none may be found below it; parts said to be undercut must look
//! away everywhere. Normals come from differences of points of the piece.

use loftkin_form::blend::{Blend, Degree, Layout};
use loftkin_form::making::band::band;
use loftkin_form::making::draft::{Draft, Halves, best_direction};
use loftkin_form::making::draft_proof::{Proof, proves, survey};
use loftkin_form::piece::{Arrangement, Piece};
use loftkin_form::stations::{Station, Stations};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::Profile;
use loftkin_tests::generate::{moved, shape};
use loftkin_tests::random::Random;
use loftkin_tests::setting::setting;
use nalgebra::{Point3, Unit, UnitVector3, Vector3};

/// Pieces in CI; a longer run sets LOFTKIN_DRAFTS.
const PIECES: u64 = 40;
/// Samples along and across each cell.
const SAMPLES: usize = 9;

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
    for seed in 0..setting("LOFTKIN_DRAFTS", PIECES) {
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
    for seed in 0..setting("LOFTKIN_DRAFTS", PIECES) {
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

/// Where the draft is seen below the limit of two halves: no cell that is proved to
/// keep it has such a place, and none is farther from a change of sides than the bound
/// says.
#[test]
fn no_place_without_draft_is_farther_from_a_parting_line_than_proved() {
    let (mut bounded, mut tight, mut places) = (0, 0, 0);
    for seed in 0..setting("LOFTKIN_DRAFTS", PIECES) {
        let mut random = Random::new(47_000 + seed);
        let Some(piece) = piece(&mut random) else {
            continue;
        };
        let sideways = Vector3::from_fn(|_, _| random.between(-1.0, 1.0));
        let draft = Draft {
            direction: Unit::new_normalize(sideways),
            halves: Halves::Two,
            least: random.between(0.5, 8.0),
        };
        let band = band(&piece, &draft);
        for (cell, kept) in &band.cells {
            for _ in 0..3 {
                let at = (random.unit(), random.unit());
                let found = draft_at(&piece, draft.direction, cell.along, cell.across, at);
                let least = found.map_or(f64::INFINITY, f64::abs);
                assert!(
                    !kept || draft.least - 1e-3 < least,
                    "seed {seed}: {cell:?} has {least} for {}",
                    draft.least
                );
            }
        }
        let Some(bound) = band.bound else { continue };
        bounded += 1;
        tight += usize::from(bound <= 1.5 * band.width + 0.1);
        let seen = sides(&piece, &draft);
        for place in &seen.short {
            places += 1;
            let nearest = seen.changes.iter().map(|change| (change - place).norm());
            let nearest = nearest.fold(f64::INFINITY, f64::min);
            assert!(
                nearest <= bound + seen.step,
                "seed {seed}: {place} is {nearest} from the line, proved {bound}"
            );
        }
    }
    println!("{bounded} bands bounded, {tight} tightly, {places} places in them");
    assert!(5 <= bounded && bounded <= 2 * tight && 100 < places);
}

/// What dense samples see of two halves.
struct Sides {
    /// Places with less than the least draft.
    short: Vec<Point3<f64>>,
    /// Places between which the skin changes from facing one half to facing the other.
    changes: Vec<Point3<f64>>,
    /// The longest step from sample to sample, mm.
    step: f64,
}

fn sides(piece: &Piece, draft: &Draft) -> Sides {
    let (along, across) = (
        samples(piece.breaks_along()),
        samples(&piece.breaks_across()),
    );
    let inside = |(from, to): (f64, f64), t: f64| from + (to - from) * t;
    let at = |(u, x): &((f64, f64), f64), (v, y): &((f64, f64), f64)| {
        let draft = draft_at(piece, draft.direction, *u, *v, (*x, *y));
        // Where the skin is too short to tell, no draft is missed.
        (
            draft.unwrap_or(90.0),
            piece.point(inside(*u, *x), inside(*v, *y)),
        )
    };
    let rows = across
        .iter()
        .map(|v| along.iter().map(|u| at(u, v)).collect());
    let rows: Vec<Vec<(f64, Point3<f64>)>> = rows.collect();
    let after = |index: usize, count: usize, is_closed: bool| match index + 1 {
        next if next < count => Some(next),
        _ => is_closed.then_some(0),
    };
    let mut seen = Sides {
        short: Vec::new(),
        changes: Vec::new(),
        step: 0.0,
    };
    for (j, row) in rows.iter().enumerate() {
        for (i, &(here, point)) in row.iter().enumerate() {
            let right = after(i, row.len(), piece.is_closed_along()).map(|i| row[i]);
            let above = after(j, rows.len(), piece.is_closed_across()).map(|j| rows[j][i]);
            for (value, there) in [right, above].into_iter().flatten() {
                seen.step = seen.step.max((there - point).norm());
                if (here < 0.0) != (value < 0.0) {
                    seen.changes.push(nalgebra::center(&point, &there));
                }
            }
            if here.abs() < draft.least {
                seen.short.push(point);
            }
        }
    }
    seen
}

/// Even places of all intervals between breaks, each with its interval.
fn samples(breaks: &[f64]) -> Vec<((f64, f64), f64)> {
    const STEPS: usize = 10;
    let ends = breaks.windows(2).map(|ends| (ends[0], ends[1]));
    let wide = ends.filter(|(from, to)| 1e-9 < to - from);
    wide.flat_map(|ends| (0..STEPS).map(move |k| (ends, (k as f64 + 0.5) / STEPS as f64)))
        .collect()
}
