//! The proof of a family as a file, for a checker that trusts no code of ours.

use loftkin_exchange::proof_file;
use loftkin_exchange::words;
use loftkin_kernel::family::{Family, FamilyError};
use loftkin_kernel::table::Table;
use serde::Serialize;

/// A proof file, and what is to be said of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ProofMessage {
    /// The file; none when no claim of it could be written.
    pub text: Option<String>,
    /// What it holds and what it does not, a sentence an entry.
    pub sentences: Vec<String>,
}

/// Writes out what is proved of `family`.
///
/// # Errors
/// Whatever [`Family::validate`] finds.
pub fn proof(family: Family) -> Result<ProofMessage, FamilyError> {
    let table = Table::new(family)?;
    let file = proof_file::write(&table);
    let mut sentences = vec![match file.claims {
        0 => "No proof is written: nothing of this family is proved.".to_owned(),
        claims => format!(
            "The proof is written: {}.",
            words::counted(claims, "claim", "claims")
        ),
    }];
    let open = table.totals();
    let unproved = open.faulty + open.unproven;
    if 0 < unproved {
        sentences.push(format!(
            "It says nothing of {} that {} not clear.",
            words::counted(unproved, "pair", "pairs"),
            if unproved == 1 { "is" } else { "are" }
        ));
    }
    Ok(ProofMessage {
        text: (0 < file.claims).then_some(file.text),
        sentences,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::profile::{Node, Profile};

    fn arch(rise: i32) -> Profile {
        let nodes = [(0, 0), (2000, rise), (4000, 0)];
        Profile::open(nodes.map(|(x, y)| Node::smooth(x, y)).to_vec())
    }

    #[test]
    fn a_clear_pair_is_written_and_a_faulty_one_is_named_as_missing() {
        let mut family = Family {
            profiles: vec![arch(1500), arch(2500)],
            ..Family::default()
        };
        let whole = proof(family.clone()).unwrap();
        assert!(whole.text.is_some());
        assert_eq!(whole.sentences, ["The proof is written: 1 claim."]);
        family.profiles.push(arch(2500).reversed());
        let part = proof(family).unwrap();
        assert!(part.text.is_some());
        assert!(part.sentences[1].contains("2 pairs that are not clear"));
    }
}
