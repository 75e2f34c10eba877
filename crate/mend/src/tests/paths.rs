//! Exact paths: joints with their handles, and creases.

use super::{Mended, MovedPoint, Outcome, Profile, Request, Verdict, go, request};
use loftkin_kernel::family::Family;
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Outline, PathSpan};
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::FaultKind;

fn point((x, y): (i32, i32)) -> GridPoint {
    GridPoint { x, y }
}

/// A path of cubic spans from `start`, each as two handles and an end.
fn path(closed: bool, start: (i32, i32), spans: &[[(i32, i32); 3]]) -> Profile {
    let cubic = |span: &[(i32, i32); 3]| {
        let [first, second, to] = span.map(point);
        PathSpan::Cubic { first, second, to }
    };
    Profile {
        outline: Outline::Path {
            start: point(start),
            spans: spans.iter().map(cubic).collect(),
        },
        closed,
        ..Profile::open(Vec::new())
    }
}

/// Two spans over an arch 80 mm wide.
fn arch(handles: [(i32, i32); 4], top: (i32, i32)) -> Profile {
    let [first, second, third, fourth] = handles;
    let spans = [[first, second, top], [third, fourth, (8000, 0)]];
    path(false, (0, 0), &spans)
}

fn upright() -> Profile {
    let handles = [(0, 2000), (2000, 4000), (6000, 4000), (8000, 2000)];
    arch(handles, (4000, 4000))
}

/// An arch whose first handle leans back and whose top is crossed early.
fn leaning() -> Profile {
    let handles = [(3000, -600), (1500, 4200), (6500, 4200), (8000, 2000)];
    arch(handles, (4000, 4200))
}

fn family(profiles: Vec<Profile>) -> Family {
    Family {
        profiles,
        ..Family::default()
    }
}

fn mended(family: &Family, request: &Request) -> Mended {
    let outcome = go(family, request);
    let Outcome::Moved(mended) = outcome else {
        panic!("{outcome:?}")
    };
    let after = Table::new(mended.family.clone()).unwrap();
    assert_eq!(after.verdict(), Verdict::Clear);
    *mended
}

fn kinds(family: &Family) -> Vec<FaultKind> {
    let table = Table::new(family.clone()).unwrap();
    table.cell(0, 1).faults().map(|fault| fault.kind).collect()
}

#[test]
fn an_open_path_is_mended_and_stays_a_path() {
    let family = family(vec![upright(), leaning()]);
    assert!(kinds(&family).contains(&FaultKind::Twist));
    let mended = mended(&family, &request());
    for profile in &mended.family.profiles {
        assert!(matches!(profile.outline, Outline::Path { .. }));
    }
    let is_handle = |point| {
        matches!(
            point,
            MovedPoint::FirstHandle(_) | MovedPoint::SecondHandle(_)
        )
    };
    assert!(mended.moves.iter().any(|moved| is_handle(moved.point)));
}

/// A pinned joint takes its handles with it, so nothing of the path is left.
#[test]
fn pinned_joints_keep_their_handles() {
    let family = family(vec![upright(), leaning()]);
    let mended = mended(
        &family,
        &Request {
            pinned: vec![(1, 1), (1, 2), (0, 0)],
            ..request()
        },
    );
    for moved in &mended.moves {
        let held = match (moved.profile, moved.point) {
            (0, point) => matches!(point, MovedPoint::Node(0) | MovedPoint::FirstHandle(0)),
            (_, MovedPoint::Node(0) | MovedPoint::FirstHandle(0)) => false,
            _ => true,
        };
        assert!(!held, "{moved:?}");
    }
}

/// A closed path of four quarter rounds, each handle at the usual .5523 of the
/// radius (Riškus, Information Technology and Control 35, 2006); turned by a
/// quarter for every step of the seam.
fn round(radius: f64, seam: usize) -> Profile {
    let at = |x: f64, y: f64| {
        let turned = (0..seam).fold((x, y), |(x, y), _| (-y, x));
        (
            libm::round(radius * turned.0) as i32,
            libm::round(radius * turned.1) as i32,
        )
    };
    let k = 0.5523;
    let spans = [
        [at(1.0, k), at(k, 1.0), at(0.0, 1.0)],
        [at(-k, 1.0), at(-1.0, k), at(-1.0, 0.0)],
        [at(-1.0, -k), at(-k, -1.0), at(0.0, -1.0)],
        [at(k, -1.0), at(1.0, -k), at(1.0, 0.0)],
    ];
    path(true, at(1.0, 0.0), &spans)
}

#[test]
fn a_closed_path_is_mended_and_stays_closed() {
    // A quarter turn is at the twist limit of 90 degrees.
    let family = family(vec![round(4000.0, 0), round(5000.0, 1)]);
    assert_ne!(
        Table::new(family.clone()).unwrap().verdict(),
        Verdict::Clear
    );
    let mended = mended(&family, &request());
    for profile in &mended.family.profiles {
        let Outline::Path { start, spans } = &profile.outline else {
            panic!("it was a path")
        };
        assert_eq!(spans.last().map(|span| span.to()), Some(*start));
    }
}

/// Through the top the first path slows down while the second, which rises
/// there, speeds up: halfway the section breaks at the smooth joint.
#[test]
fn a_crease_is_smoothed() {
    let level = arch(
        [(0, 2000), (3600, 4000), (6800, 4000), (8000, 2000)],
        (4000, 4000),
    );
    let rising = arch(
        [(0, 2000), (2200, 2800), (4300, 4200), (8000, 2000)],
        (4000, 4000),
    );
    let family = family(vec![level, rising]);
    assert_eq!(kinds(&family), [FaultKind::Crease]);
    mended(&family, &request());
}
