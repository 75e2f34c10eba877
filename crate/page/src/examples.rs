//! The example families that come with the page: files of demo-curves.

/// One example.
pub struct Example {
    /// What the list calls it.
    pub name: &'static str,
    /// The family file.
    pub file: &'static str,
    /// The share code of its series; empty for none.
    pub series: &'static str,
}

const RIMS: &str = include_str!("../../../demo-curves/rims-that-agree.json");

/// All examples, in the order of the list.
pub const EXAMPLES: [Example; 8] = [
    Example {
        name: "Hoods that agree",
        file: include_str!("../../../demo-curves/hoods-that-agree.json"),
        series: "",
    },
    Example {
        name: "Hoods with a fault of each kind",
        file: include_str!("../../../demo-curves/hoods-with-faults.json"),
        series: "",
    },
    Example {
        name: "Closed rims that agree",
        file: RIMS,
        series: "",
    },
    Example {
        name: "One hood from curves to files",
        file: RIMS,
        // Of hoods-from-rims.series.json.
        series: "series1.amUpTrg4EUGjydBTo9ZfxGQHJcA",
    },
    Example {
        name: "Closed rims, a seam turned and a direction wrong",
        file: include_str!("../../../demo-curves/rims-with-turned-seams.json"),
        series: "",
    },
    Example {
        name: "Closed rims that agree by pairs, and fail three at once",
        file: include_str!("../../../demo-curves/rims-by-thirds.json"),
        series: "",
    },
    Example {
        name: "A ring that reaches its axis",
        file: include_str!("../../../demo-curves/ring-through-the-axis.json"),
        series: "",
    },
    Example {
        name: "Wind vanes: real wing sections",
        file: include_str!("../../../demo-curves/wind-vanes.json"),
        series: "",
    },
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::Board;
    use loftkin_exchange::{family_json, series, share};

    #[test]
    fn every_example_opens_without_a_note() {
        for example in &EXAMPLES {
            let import = family_json::read(example.file).unwrap();
            assert!(import.notes.is_empty(), "{}", example.name);
            let board = Board::new(import.family).unwrap();
            assert!(1 < board.family().profiles.len(), "{}", example.name);
        }
    }

    #[test]
    fn the_series_is_that_of_its_file() {
        let file = include_str!("../../../demo-curves/hoods-from-rims.series.json");
        let code = share::encode_series(&series::read(file).unwrap());
        let codes: Vec<_> = EXAMPLES.iter().map(|example| example.series).collect();
        assert_eq!(codes.iter().filter(|series| !series.is_empty()).count(), 1);
        assert!(codes.contains(&code.as_str()), "{code}");
    }
}
