//! The folding pair: its verdict changes at the turn that the closed form
//! gives (see [`loftkin_tests::shapes::folding`] for derivation and accuracy).

use loftkin_kernel::family::Pacing;
use loftkin_kernel::table::Table;
use loftkin_tests::compare::{Claim, claim, table};
use loftkin_tests::oracle::pair::OraclePair;
use loftkin_tests::oracle::search::{Sight, THOROUGH, search};
use loftkin_tests::shapes::{folding, wide};

fn turned(turn: f64) -> Table {
    table(wide(Pacing::Node), folding::pair(turn).to_vec())
}

#[test]
fn the_formula_gives_the_known_figures() {
    // Recomputed with a computer algebra system and by polygon intersection.
    assert!((folding::faulty_from(150.0) - 0.069_910_3).abs() < 1e-7);
    assert!((folding::critical_turn() - 122.376_55).abs() < 1e-5);
}

#[test]
fn the_oracle_sees_the_threshold() {
    let sight = |turn| {
        let [first, second] = folding::pair(turn);
        search(&OraclePair::new(&first, &second, Pacing::Node), THOROUGH)
    };
    assert_eq!(sight(folding::critical_turn() - 0.3), Sight::Nothing);
    assert!(!matches!(
        sight(folding::critical_turn() + 0.3),
        Sight::Nothing | Sight::Doubtful(..)
    ));
}

#[test]
fn the_verdict_changes_at_the_critical_turn() {
    // The twist passes through 180 degrees only with the fold, but comes close:
    // so it is the fold that is asked for.
    for off in [0.3, 0.1, 0.01] {
        let below = *turned(folding::critical_turn() - off).cell(0, 1);
        assert_eq!(
            claim(&below),
            Claim::Clear,
            "{off} degrees below: {below:?}"
        );
        let above = *turned(folding::critical_turn() + off).cell(0, 1);
        assert!(
            matches!(claim(&above), Claim::Faulty(_)),
            "{off} degrees above: {above:?}"
        );
    }
}
