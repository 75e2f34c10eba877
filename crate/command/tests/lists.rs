//! Lists of profiles, pairs and nodes behind options: parted by semicolons, white space or commas, as lists of lengths are.

mod common;

use common::loftkin;

const AGREE: &str = "hoods-that-agree.json";

#[test]
fn lists_of_whole_numbers_are_parted_as_all_lists_are() {
    let told = |allow: &str, arrangement: &str| {
        let stations = ["series", AGREE, "--at", "0;90;180", "--allow", allow];
        let run = loftkin(
            &[&stations[..], &["--arrangement", arrangement]].concat(),
            "",
        );
        assert_eq!(run.code, 0, "{}", run.err);
        run.out
    };
    let by_commas = told("1:1+2,2:4", "1,4,2");
    assert_eq!(told("1:1+2;2:4", "1;4;2"), by_commas);
    assert_eq!(told("1:1+2 2:4", "1 4 2"), by_commas);
    let refused = loftkin(&["mend", AGREE, "--only", "1;;3"], "");
    assert_eq!(refused.code, 2);
    assert!(
        refused.err.contains("whole numbers from 1"),
        "{}",
        refused.err
    );
    let mended = loftkin(
        &[
            "mend", AGREE, "--pair", "1-2;3-4", "--only", "1 2", "--pin", "1:1;2:1",
        ],
        "",
    );
    assert_eq!(mended.code, 0, "{}", mended.err);
}
