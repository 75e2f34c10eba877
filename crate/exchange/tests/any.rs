//! Whatever bytes come, reading ends in a family or in a sentence.

use loftkin_exchange::any::read;
use loftkin_exchange::family_json;
use loftkin_exchange::import::Take;
use loftkin_exchange::point_list::Reading;
use loftkin_kernel::table::Table;
use proptest::prelude::*;

fn reading() -> impl Strategy<Value = Reading> {
    (
        prop::option::of(any::<f64>()),
        prop::option::of(any::<bool>()),
        prop::option::of(prop::sample::select(vec![Take::Open, Take::Closed])),
    )
        .prop_map(|(scale, closed, take)| Reading {
            scale,
            closed,
            take,
        })
}

/// Reads, and where that works goes all the way to a table and back to text.
fn follow(bytes: &[u8], reading: Reading) -> Result<(), TestCaseError> {
    match read("some.file", bytes, reading) {
        Err(error) => prop_assert!(!error.to_string().is_empty()),
        Ok(import) => {
            let text = family_json::write(&import.family);
            prop_assert_eq!(
                family_json::read(&text).unwrap().family,
                import.family.clone()
            );
            if let Ok(table) = Table::new(import.family) {
                table.verdict();
            }
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..300), reading in reading()) {
        follow(&bytes, reading)?;
    }

    #[test]
    fn any_list(text in "([#%;]? ?[a-z]{0,3} ?-?[0-9]{0,7}[.,]?[0-9e]{0,4}[ ,;\t]-?[0-9.,]{0,9}\r?\n{0,2}){0,30}", reading in reading()) {
        follow(text.as_bytes(), reading)?;
    }

    #[test]
    fn any_damage_to_a_family_file(at in any::<prop::sample::Index>(), cut in 0..20_usize, patch in "[\\PC]{0,6}") {
        let sound = include_str!("../../../demo-curves/hoods-with-faults.json");
        let from = at.index(sound.len());
        let to = (from + cut).min(sound.len());
        let damaged = format!("{}{patch}{}", &sound[..from], &sound[to..]);
        follow(damaged.as_bytes(), Reading::default())?;
    }

    #[test]
    fn any_damage_to_a_drawing(at in any::<prop::sample::Index>(), cut in 0..20_usize, patch in "[MCAQZ0-9 .<>\"-]{0,6}") {
        let sound = include_str!("../../../demo-curves/brims-traced.svg");
        let from = at.index(sound.len());
        let to = (from + cut).min(sound.len());
        let damaged = format!("{}{patch}{}", &sound[..from], &sound[to..]);
        follow(damaged.as_bytes(), Reading::default())?;
    }
}
