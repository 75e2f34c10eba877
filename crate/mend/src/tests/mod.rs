//! Whole mends: what is asked for holds afterwards, and is proved.

mod alone;
mod any_blend;
mod blame;
mod holding;
mod paths;
mod properties;
mod refused;
mod rings;

use crate::*;
use loftkin_kernel::family::Settings;
use loftkin_kernel::profile::{Node, Profile};
use loftkin_kernel::verdict::Verdict;
use nalgebra::Vector2;

/// The direction `degrees` anticlockwise from the x axis.
pub fn ray(degrees: f64) -> Vector2<f64> {
    let angle = degrees.to_radians();
    Vector2::new(libm::cos(angle), libm::sin(angle))
}

fn arch(points: [(i32, i32); 5]) -> Profile {
    Profile::open(points.map(|(x, y)| Node::smooth(x, y)).to_vec())
}

/// Two arches; the second leans so far that it twists beyond the limit.
fn faulty() -> Family {
    Family {
        profiles: vec![
            arch([(0, 0), (1500, 3000), (4000, 4200), (6500, 3000), (8000, 0)]),
            arch([(0, 0), (4500, 2500), (3000, 4500), (6800, 3200), (8000, 0)]),
            arch([(0, 0), (1400, 2800), (4100, 4000), (6400, 2900), (8000, 0)]),
        ],
        settings: Settings::default(),
        ..Family::default()
    }
}

fn go(family: &Family, request: &Request) -> Outcome {
    mend(family, request, &mut |_| ControlFlow::Continue(())).unwrap()
}

fn moved(request: &Request) -> Mended {
    match go(&faulty(), request) {
        Outcome::Moved(mended) => *mended,
        other => panic!("{other:?}"),
    }
}

fn request() -> Request {
    Request {
        remedies_first: false,
        ..Request::new(Target::All)
    }
}

#[test]
fn a_mended_family_is_proved() {
    let before = Table::new(faulty()).unwrap();
    assert_eq!(before.verdict(), Verdict::Faulty);
    let mended = moved(&request());
    let after = Table::new(mended.family).unwrap();
    assert_eq!(after.verdict(), Verdict::Clear);
    assert!(0.0 < mended.largest_mm && !mended.moves.is_empty());
}

#[test]
fn a_clear_family_moves_nothing() {
    let mut family = faulty();
    family.profiles.remove(1);
    assert_eq!(go(&family, &request()), Outcome::AlreadyClear);
}

#[test]
fn the_margin_asked_for_is_proved() {
    let request = Request {
        margin_mm: 0.2,
        ..request()
    };
    let mended = moved(&request);
    assert!(0.2 <= mended.margin_mm.unwrap());
}

#[test]
fn nothing_that_may_move_is_no_mend() {
    let request = Request {
        pinned: (0..15).map(|k| (k / 5, k % 5)).collect(),
        ..request()
    };
    let Outcome::NotFound(approach) = go(&faulty(), &request) else {
        panic!("nothing may move")
    };
    assert_eq!(approach.hindrance, Hindrance::NothingMayMove);
}

/// Whenever the caller breaks off, nothing is handed back, and it is not asked
/// again.
#[test]
fn the_caller_may_stop_it_before_any_round() {
    let mut rounds = 0;
    let outcome = mend(&faulty(), &request(), &mut |told| {
        rounds += 1;
        assert_eq!(told.round, rounds);
        assert!(told.round <= told.most_rounds);
        ControlFlow::Continue(())
    });
    assert!(matches!(outcome, Ok(Outcome::Moved(_))));
    for last in 1..=rounds {
        let mut asked = 0;
        let outcome = mend(&faulty(), &request(), &mut |_| {
            asked += 1;
            if asked == last {
                ControlFlow::Break(())
            } else {
                ControlFlow::Continue(())
            }
        });
        assert_eq!((outcome.unwrap(), asked), (Outcome::Cancelled, last));
    }
}
