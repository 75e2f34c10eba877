//! Counts tests from what test programs print, so that the last line of a run can give the sum.
//!
//! It reads the closing lines of cargo's test programs and of Node.js' test runner; it judges nothing, for
//! that is what exit codes are for.

/// How many tests passed and failed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// Tests that passed.
    pub passed: u64,
    /// Tests that failed.
    pub failed: u64,
}

impl Tally {
    /// Adds what one printed line reports, if it is a closing line.
    pub fn take(&mut self, line: &str) {
        let line = line.trim();
        if let Some(counts) = line.strip_prefix("test result: ") {
            let counts = counts.split_once(". ").map_or("", |(_, counts)| counts);
            for count in counts.split(';') {
                let mut words = count.split_whitespace();
                self.add(words.next(), words.next());
            }
        } else if let Some(count) = line.strip_prefix("ℹ ").or(line.strip_prefix("# ")) {
            let mut words = count.split_whitespace();
            let word = words.next();
            self.add(words.next(), word);
        }
    }

    fn add(&mut self, number: Option<&str>, word: Option<&str>) {
        let Some(number) = number.and_then(|number| number.parse::<u64>().ok()) else {
            return;
        };
        match word {
            Some("passed" | "pass") => self.passed += number,
            Some("failed" | "fail") => self.failed += number,
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closing_lines_are_added_up_and_others_left() {
        let mut tally = Tally::default();
        for line in [
            "test a_test ... ok",
            "test result: ok. 12 passed; 0 failed; 1 ignored; 0 measured; 0 filtered out; finished in 0.01s",
            "test result: FAILED. 3 passed; 2 failed; 0 ignored; 0 measured; 0 filtered out",
            "ℹ tests 9",
            "ℹ pass 8",
            "ℹ fail 1",
            "# pass 1",
        ] {
            tally.take(line);
        }
        let expected = Tally {
            passed: 24,
            failed: 3,
        };
        assert_eq!(tally, expected);
    }
}
