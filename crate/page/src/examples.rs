//! The example families that come with the page: files of demo-curves.

/// One example.
pub struct Example {
    /// What the list calls it.
    pub name: &'static str,
    /// The family file.
    pub file: &'static str,
}

/// All examples, in the order of the list.
pub const EXAMPLES: [Example; 7] = [
    Example {
        name: "Hoods that agree",
        file: include_str!("../../../demo-curves/hoods-that-agree.json"),
    },
    Example {
        name: "Hoods with a fault of each kind",
        file: include_str!("../../../demo-curves/hoods-with-faults.json"),
    },
    Example {
        name: "Closed rims that agree",
        file: include_str!("../../../demo-curves/rims-that-agree.json"),
    },
    Example {
        name: "Closed rims, a seam turned and a direction wrong",
        file: include_str!("../../../demo-curves/rims-with-turned-seams.json"),
    },
    Example {
        name: "Closed rims that agree by pairs, and fail three at once",
        file: include_str!("../../../demo-curves/rims-by-thirds.json"),
    },
    Example {
        name: "A ring that reaches its axis",
        file: include_str!("../../../demo-curves/ring-through-the-axis.json"),
    },
    Example {
        name: "Wind vanes: real wing sections",
        file: include_str!("../../../demo-curves/wind-vanes.json"),
    },
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::Board;
    use loftkin_exchange::family_json;

    #[test]
    fn every_example_opens_without_a_note() {
        for example in &EXAMPLES {
            let import = family_json::read(example.file).unwrap();
            assert!(import.notes.is_empty(), "{}", example.name);
            let board = Board::new(import.family).unwrap();
            assert!(1 < board.family().profiles.len(), "{}", example.name);
        }
    }
}
