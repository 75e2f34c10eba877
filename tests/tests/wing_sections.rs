//! NACA four-digit sections (NACA Report 460, 1933; the formula is used, for
//! the tables in later books are known to hold misprints).
//!
//! Two symmetrical sections at the same stations blend into a section of the
//! blended thickness: y is proportional to the thickness at every x. So any
//! two are clear; one run backwards, or with its seam moved, is not.

use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::Profile;
use loftkin_kernel::verdict::Verdict;
use loftkin_tests::compare::table;
use loftkin_tests::shapes::{half_thickness, wide, wing_nodes};

/// A chord of 250 mm.
const CHORD: f64 = 25_000.0;
const THICKNESSES: [f64; 7] = [0.06, 0.09, 0.12, 0.15, 0.18, 0.21, 0.24];

fn open_section(thickness: f64) -> Profile {
    Profile::open(wing_nodes(thickness, CHORD, 20))
}

/// Closed over the blunt trailing edge, which stands open by .252 % at 0012:
/// both its ends are corners.
fn closed_section(thickness: f64) -> Profile {
    let mut nodes = wing_nodes(thickness, CHORD, 20);
    let last = nodes.len() - 1;
    nodes[0].corner = true;
    nodes[last].corner = true;
    Profile::closed(nodes)
}

#[test]
fn the_formula_gives_the_published_ordinates() {
    // Per cent of the chord, section 0012, computed from the formula.
    let ordinates = [
        (0.5, 1.2213),
        (1.25, 1.8939),
        (5.0, 3.5547),
        (30.0, 6.0017),
        (60.0, 4.5634),
        (100.0, 0.1260),
    ];
    for (x, y) in ordinates {
        assert!(
            (100.0 * half_thickness(0.12, x / 100.0) - y).abs() < 5e-5,
            "{x}"
        );
    }
}

#[test]
fn any_two_thicknesses_are_clear_at_equal_stations() {
    for section in [open_section, closed_section] {
        let table = table(wide(Pacing::Node), THICKNESSES.map(section).to_vec());
        for second in 0..table.size() {
            for first in 0..=second {
                let judgement = table.cell(first, second);
                assert_eq!(
                    judgement.verdict,
                    Verdict::Clear,
                    "{first} {second} {judgement:?}"
                );
            }
        }
    }
}

#[test]
fn a_section_run_backwards_is_faulty() {
    for section in [open_section, closed_section] {
        let table = table(
            wide(Pacing::Node),
            vec![section(0.12), section(0.18).reversed()],
        );
        assert_eq!(table.cell(0, 1).verdict, Verdict::Faulty);
    }
}

#[test]
fn a_section_with_its_seam_moved_is_faulty() {
    for seam in [5, 12, 20, 30] {
        let moved = closed_section(0.18)
            .with_seam(seam)
            .expect("there is such a node");
        let table = table(wide(Pacing::Node), vec![closed_section(0.12), moved]);
        assert_eq!(table.cell(0, 1).verdict, Verdict::Faulty, "seam {seam}");
    }
}
