//! Proof files of seeded clear pairs of all kinds, and of seeded families clear for any blend, checked in exact rational
//! arithmetic by an independent checker, `tests/certificate/check_proof.py`. Each of them has one claim, and every file is
//! accepted.
//!
//! `LOFTKIN_PROOFS` sets another number of clear pairs than the usual 300, `LOFTKIN_SEED` the first seed.

use loftkin_exchange::proof_file;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::{AnyBlend, Verdict};
use loftkin_tests::compare::{pair_table, table};
use loftkin_tests::families::family;
use loftkin_tests::generate::case;
use loftkin_tests::setting::setting;
use loftkin_tests::shapes::wide;
use std::io::Write;
use std::process::{Child, ChildStdin, Command, Stdio};

const PAIRS: u64 = 300;
const FAMILIES: u64 = 20;

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

/// A checker that runs beside the writing.
struct Checker {
    process: Child,
    pipe: ChildStdin,
    written: u64,
}

impl Checker {
    fn start() -> Self {
        let mut process = Command::new("python3")
            .args(["-c", LOOP, FOLDER])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("python3 runs the checker");
        let pipe = process.stdin.take().expect("a pipe");
        Self {
            process,
            pipe,
            written: 0,
        }
    }

    /// Hands over the proof of `table`, which has one claim.
    fn take(&mut self, seed: u64, table: &Table) {
        let file = proof_file::write(table);
        assert_eq!(file.claims, 1, "seed {seed}");
        let line = file.text.replace('\n', " ");
        writeln!(self.pipe, "{seed} {line}").expect("the checker reads");
        self.written += 1;
    }

    /// Holds that it accepted every proof.
    fn finish(self) {
        drop(self.pipe);
        let output = self.process.wait_with_output().expect("the checker ends");
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
        assert_eq!(said.lines().count() as u64, self.written);
    }
}

#[test]
fn every_clear_pair_has_a_proof_that_is_accepted() {
    let (wanted, first) = (
        setting("LOFTKIN_PROOFS", PAIRS),
        setting("LOFTKIN_SEED", 10_000),
    );
    let mut checker = Checker::start();
    for seed in first.. {
        if checker.written == wanted {
            break;
        }
        let table = pair_table(&case(seed));
        if table.cell(0, 1).verdict == Verdict::Clear {
            checker.take(seed, &table);
        }
    }
    checker.finish();
}

#[test]
fn every_family_proved_for_any_blend_has_a_proof_that_is_accepted() {
    let mut checker = Checker::start();
    for seed in 1.. {
        if checker.written == FAMILIES {
            break;
        }
        let (pacing, profiles) = family(seed);
        let table = table(wide(pacing), profiles);
        if table.any_blend() == AnyBlend::Proved {
            checker.take(seed, &table);
        }
    }
    checker.finish();
}
