//! The cases: what is judged, what the answer must be, and how long it may take.

use crate::clock::microseconds;
use crate::families::{self, Shape};
use crate::thin::{self, Kind};
use loftkin_kernel::family::{Family, MOST_PROFILES};
use loftkin_kernel::profile::Profile;
use loftkin_kernel::table::{Table, Totals};
use loftkin_kernel::verdict::{AnyBlend, Verdict};
use std::hint::black_box;

/// The time a case may take, in microseconds; what a goal is for stands in DEVELOPERS.md.
#[derive(Clone, Copy, Debug, Default)]
pub struct Goal {
    /// In native code.
    pub native: Option<f64>,
    /// In WebAssembly.
    pub wasm: Option<f64>,
}

/// One thing to measure.
pub struct Case {
    /// What a person calls it.
    pub name: &'static str,
    /// How long it may take.
    pub goal: Goal,
    /// Makes what is needed for it.
    pub work: fn() -> Work,
}

/// What is done over and over.
pub enum Work {
    /// Preparing the profiles of a family and judging all its pairs.
    Table {
        /// The family.
        family: Family,
    },
    /// Judging one pair: the time to put a profile into the table of a family and judge its row, less the time to
    /// put it into a table of its own, shared out over the row. So preparing the profile is left out.
    Row {
        /// The table of the whole family; the profile is its first.
        table: Box<Table>,
        /// The table of the profile alone.
        alone: Box<Table>,
    },
    /// Putting a profile with one node moved into a table, as a drag does.
    Drag {
        /// The table of the family.
        table: Box<Table>,
        /// Two states of its middle profile, taken in turn.
        states: [Profile; 2],
    },
    /// Proving a family for any blend.
    AnyBlend {
        /// The table of the family.
        table: Box<Table>,
    },
    /// Working out the least margin of a family.
    Tolerance {
        /// The table of the family.
        table: Box<Table>,
    },
    /// Judging all pairs of a family and working out all there is to say about those that are not clear, as a report
    /// does.
    Report {
        /// The family.
        family: Family,
    },
    /// Working out all there is to say about one pair: regions, margin, remedies.
    Finding {
        /// The table of the family; its first and its last profile are the pair.
        table: Box<Table>,
    },
}

/// Every case.
pub const CASES: &[Case] = &[
    Case {
        name: "clear pair, closed, 12 spans",
        goal: PAIR_CLEAR,
        work: || row_clear(Shape::Closed, 12),
    },
    Case {
        name: "clear pair, hooks, 12 spans",
        goal: PAIR_CLEAR,
        work: || row_clear(Shape::Hook, 12),
    },
    Case {
        name: "clear pair, closed, 32 spans",
        goal: PAIR_CLEAR,
        work: || row_clear(Shape::Closed, 32),
    },
    Case {
        name: "clear pair, closed, 128 spans",
        goal: PAIR_CLEAR,
        work: || row_clear(Shape::Closed, 128),
    },
    Case {
        name: "faulty pair, closed, 12 spans",
        goal: PAIR_FAULTY,
        work: || row_faulty(12),
    },
    Case {
        name: "faulty pair, closed, 128 spans",
        goal: PAIR_FAULTY,
        work: || row_faulty(128),
    },
    Case {
        name: "table of 8, clear, 12 spans",
        goal: wasm_goal(300.0),
        work: || table(families::clear(Shape::Closed, 8, 12)),
    },
    Case {
        name: "table of 8, half faulty, 12 spans",
        goal: wasm_goal(300.0),
        work: || table(families::two_parts(4, 4, 12)),
    },
    Case {
        name: "drag step in a table of 8",
        goal: wasm_goal(100.0),
        work: drag,
    },
    Case {
        name: "table of 64, clear, 12 spans",
        goal: wasm_goal(10_000.0),
        work: || table(families::clear(Shape::Closed, 64, 12)),
    },
    Case {
        name: "table of 128, clear, 12 spans",
        goal: NO_GOAL,
        work: || table(families::clear(Shape::Closed, 128, 12)),
    },
    Case {
        name: "table of 256, clear, 12 spans",
        goal: wasm_goal(200_000.0),
        work: || table(families::clear(Shape::Closed, 256, 12)),
    },
    Case {
        name: "any blend of 8, 12 spans",
        goal: wasm_goal(200.0),
        work: || any_blend(8),
    },
    Case {
        name: "any blend of 64, 12 spans",
        goal: wasm_goal(2_000.0),
        work: || any_blend(64),
    },
    Case {
        name: "tolerance of 8, 12 spans",
        goal: NO_GOAL,
        work: || Work::Tolerance {
            table: Box::new(judged(&families::clear(Shape::Closed, 8, 12))),
        },
    },
    Case {
        name: "finding of a clear pair",
        goal: wasm_goal(FRAME),
        work: || finding(families::clear(Shape::Closed, 2, 12)),
    },
    Case {
        name: "finding of a faulty pair",
        goal: wasm_goal(FRAME),
        work: || finding(families::two_parts(1, 1, 12)),
    },
    Case {
        name: "table of 6 thin triangles",
        goal: NO_GOAL,
        work: || table(thin::family(Kind::Triangles, 6, 0)),
    },
    Case {
        name: "report on 6 thin triangles",
        goal: NO_GOAL,
        work: || report(Kind::Triangles),
    },
    Case {
        name: "report on 6 hairpins",
        goal: NO_GOAL,
        work: || report(Kind::Hairpins),
    },
    Case {
        name: "report on 6 spirals",
        goal: NO_GOAL,
        work: || report(Kind::Spirals),
    },
];

const NO_GOAL: Goal = Goal {
    native: None,
    wasm: None,
};
const PAIR_CLEAR: Goal = Goal {
    native: Some(3.0),
    wasm: Some(4.5),
};
const PAIR_FAULTY: Goal = Goal {
    native: Some(10.0),
    wasm: Some(15.0),
};

/// One frame at 60 a second, in microseconds.
const FRAME: f64 = 16_667.0;

const fn wasm_goal(microseconds: f64) -> Goal {
    Goal {
        native: None,
        wasm: Some(microseconds),
    }
}

fn table(family: Family) -> Work {
    Work::Table { family }
}

fn row_clear(shape: Shape, spans: usize) -> Work {
    row(families::clear(shape, MOST_PROFILES, spans))
}

fn row_faulty(spans: usize) -> Work {
    row(families::two_parts(1, MOST_PROFILES - 1, spans))
}

fn row(family: Family) -> Work {
    let alone = Family {
        profiles: family.profiles[..1].to_vec(),
        ..Family::default()
    };
    Work::Row {
        table: Box::new(judged(&family)),
        alone: Box::new(judged(&alone)),
    }
}

fn drag() -> Work {
    let family = families::clear(Shape::Closed, 8, 12);
    let profile = &family.profiles[MIDDLE];
    let states = [20, -20].map(|shift| families::with_node_moved(profile, 5, shift));
    Work::Drag {
        table: Box::new(judged(&family)),
        states,
    }
}

fn finding(family: Family) -> Work {
    Work::Finding {
        table: Box::new(judged(&family)),
    }
}

fn report(kind: Kind) -> Work {
    Work::Report {
        family: thin::family(kind, 6, 0),
    }
}

fn any_blend(profiles: usize) -> Work {
    Work::AnyBlend {
        table: Box::new(judged(&families::clear(Shape::Closed, profiles, 12))),
    }
}

/// The profile that is dragged, of eight.
const MIDDLE: usize = 3;

fn judged(family: &Family) -> Table {
    Table::new(family.clone()).expect("the families are well formed")
}

impl Case {
    /// How long the case takes, in microseconds, by a clock that counts milliseconds.
    pub fn measure(&self, now: &dyn Fn() -> f64) -> f64 {
        match (self.work)() {
            Work::Row {
                mut table,
                mut alone,
            } => {
                let pairs = table.size() - 1;
                let works: [&mut dyn FnMut(); 2] =
                    [&mut || put_again(&mut table), &mut || put_again(&mut alone)];
                let [row, rest] = microseconds(works, now);
                (row - rest) / pairs as f64
            }
            mut work => microseconds([&mut || work.step()], now)[0],
        }
    }
}

impl Work {
    /// Does the work once; of a row, all its pairs.
    pub fn step(&mut self) {
        match self {
            Self::Table { family } => drop(judged(black_box(family))),
            Self::Row { table, .. } => put_again(table),
            Self::Drag { table, states } => {
                states.swap(0, 1);
                table
                    .replace_profile(MIDDLE, states[0].clone())
                    .expect("the profile is closed like the others");
            }
            Self::AnyBlend { table } => {
                let answer = black_box(table.any_blend());
                assert_eq!(answer, AnyBlend::Proved, "these families blend in any way");
            }
            Self::Tolerance { table } => {
                let tolerance = black_box(table.tolerance());
                assert!(tolerance.is_some(), "these families have a tolerance");
            }
            Self::Report { family } => {
                let mut table = judged(black_box(family));
                for second in 0..table.size() {
                    for first in 0..=second {
                        if table.cell(first, second).verdict != Verdict::Clear {
                            black_box(table.finding(first, second));
                        }
                    }
                }
            }
            Self::Finding { table } => {
                let last = table.size() - 1;
                black_box(table.finding(0, last));
            }
        }
    }

    /// The verdicts that the work comes to.
    pub fn totals(&mut self) -> Totals {
        self.step();
        match self {
            Self::Table { family } | Self::Report { family } => judged(family).totals(),
            Self::Row { table, .. }
            | Self::Drag { table, .. }
            | Self::AnyBlend { table }
            | Self::Tolerance { table }
            | Self::Finding { table } => table.totals(),
        }
    }
}

/// Puts the first profile into its table once more.
fn put_again(table: &mut Table) {
    let profile = table.family().profiles[0].clone();
    table
        .replace_profile(0, black_box(profile))
        .expect("the profile was in this table before");
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Faulty pairs of a case, from how its families are made.
    fn faulty_pairs(name: &str) -> usize {
        match name {
            "table of 8, half faulty, 12 spans" => 16,
            "finding of a faulty pair" => 1,
            name if name.starts_with("faulty pair") => MOST_PROFILES - 1,
            _ => 0,
        }
    }

    #[test]
    fn every_case_comes_to_the_verdicts_it_was_made_for() {
        for case in CASES {
            let totals = (case.work)().totals();
            if case.name.contains("of 6 ") || case.name.contains("on 6 ") {
                assert_thin(case.name, totals);
                continue;
            }
            let found = (totals.faulty, totals.unproven);
            assert_eq!(found, (faulty_pairs(case.name), 0), "{}", case.name);
            assert!(0 < totals.clear + totals.faulty, "{}", case.name);
        }
    }

    /// How thin outlines come out is known from the proof alone: no fewer may be decided, by and by more.
    fn assert_thin(name: &str, totals: Totals) {
        let kind = [
            ("triangles", (5, 9)),
            ("hairpins", (2, 4)),
            ("spirals", (7, 8)),
        ]
        .into_iter()
        .find(|(kind, _)| name.ends_with(kind));
        let (clear, faulty) = kind.expect("a kind of thin outlines").1;
        println!("{name}: {totals:?}");
        assert!(
            clear <= totals.clear && faulty <= totals.faulty,
            "{name}: {totals:?}"
        );
    }
}
