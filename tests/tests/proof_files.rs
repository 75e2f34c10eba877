//! Proof files of seeded clear pairs of all kinds, checked in exact rational arithmetic by an independent checker,
//! `tests/certificate/check_proof.py` (Python's own `fractions`): each of them has one claim, and every file is accepted.
//!
//! `LOFTKIN_PROOFS` sets another number of clear pairs than the usual 300, `LOFTKIN_SEED` the first seed.

use loftkin_exchange::proof_file;
use loftkin_kernel::verdict::Verdict;
use loftkin_tests::compare::pair_table;
use loftkin_tests::generate::case;
use loftkin_tests::setting::setting;
use std::io::Write;
use std::process::{Command, Stdio};

const PAIRS: u64 = 300;

const FOLDER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/certificate");

/// Checks one proof a line and prints what is refused; Python need not start anew for each.
const LOOP: &str = "
import contextlib, io, json, sys
sys.path.insert(0, sys.argv[1])
sys.setrecursionlimit(10_000)
from check_proof import check
for line in sys.stdin:
    seed, text = line.split(' ', 1)
    try:
        with contextlib.redirect_stdout(io.StringIO()):
            check(json.loads(text))
        print('proved', seed)
    except Exception as error:
        print('refused', seed, error)
";

#[test]
fn every_clear_pair_has_a_proof_that_is_accepted() {
    let (wanted, first) = (
        setting("LOFTKIN_PROOFS", PAIRS),
        setting("LOFTKIN_SEED", 10_000),
    );
    let mut checker = Command::new("python3")
        .args(["-c", LOOP, FOLDER])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("python3 runs the checker");
    let mut pipe = checker.stdin.take().expect("a pipe");
    let mut clear = 0;
    for seed in first.. {
        if clear == wanted {
            break;
        }
        let table = pair_table(&case(seed));
        if table.cell(0, 1).verdict != Verdict::Clear {
            continue;
        }
        clear += 1;
        let file = proof_file::write(&table);
        assert_eq!(file.claims, 1, "seed {seed}");
        let line = file.text.replace('\n', " ");
        writeln!(pipe, "{seed} {line}").expect("the checker reads");
    }
    drop(pipe);
    let output = checker.wait_with_output().expect("the checker ends");
    let said = String::from_utf8(output.stdout).expect("text");
    let refused: Vec<&str> = said
        .lines()
        .filter(|line| line.starts_with("refused"))
        .collect();
    assert!(
        output.status.success() && refused.is_empty(),
        "{}",
        refused.join("\n")
    );
    assert_eq!(said.lines().count() as u64, clear);
}
