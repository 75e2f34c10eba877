//! Rings: profiles must also stay off the axis.

use super::{Outcome, Profile, Verdict, arch, go, request};
use loftkin_kernel::family::{Family, Placement, Settings};
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::FaultKind;

fn ring(profiles: Vec<Profile>) -> Family {
    Family {
        profiles,
        settings: Settings {
            placement: Placement::Ring,
            ..Settings::default()
        },
        ..Family::default()
    }
}

fn is_mended(family: &Family) -> Vec<usize> {
    let outcome = go(family, &request());
    let Outcome::Moved(mended) = outcome else {
        panic!("{outcome:?}")
    };
    let after = Table::new(mended.family.clone()).unwrap();
    assert_eq!(after.verdict(), Verdict::Clear);
    mended.profiles_mended
}

fn upright(waist: i32) -> Profile {
    arch([
        (3000, 0),
        (2600, 1500),
        (waist, 3000),
        (2600, 4500),
        (3000, 6000),
    ])
}

#[test]
fn a_profile_through_the_axis_is_drawn_off_it() {
    let family = ring(vec![upright(1500), upright(-200), upright(900)]);
    let before = Table::new(family.clone()).unwrap();
    let worst = before.cell(1, 1).worst().map(|fault| fault.kind);
    assert_eq!(worst, Some(FaultKind::Axis));
    assert_eq!(is_mended(&family), [1]);
}

#[test]
fn a_single_profile_is_drawn_off_the_axis_too() {
    assert_eq!(is_mended(&ring(vec![upright(-50)])), [0]);
}

/// What untwists the pair would be cheapest towards the axis: it stays off it.
#[test]
fn a_twisted_pair_near_the_axis_is_mended_off_it() {
    let twisted = arch([
        (3000, 0),
        (80, 3400),
        (60, 2600),
        (2600, 4500),
        (3000, 6000),
    ]);
    let family = ring(vec![upright(1500), twisted]);
    assert_eq!(
        Table::new(family.clone()).unwrap().verdict(),
        Verdict::Faulty
    );
    is_mended(&family);
}
