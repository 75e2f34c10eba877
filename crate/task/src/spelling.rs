//! Finds words that are spelt wrongly, in prose and in names.
//!
//! The dictionary lists common mistakes rather than right words, so that terms of the trade pass.

use std::sync::LazyLock;
use typos::tokens::{Identifier, Tokenizer, TokenizerBuilder, Word};
use typos::{Dictionary, Status, check_str};
use unicase::UniCase;

/// Words that the dictionary takes for mistakes and that are right here: a method of compression, and an author.
const RIGHT: [&str; 2] = ["flate", "stoer"];

/// Shorter words are names of quantities and pieces of codes.
const SHORTEST: usize = 5;

static TOKENIZER: LazyLock<Tokenizer> = LazyLock::new(|| TokenizerBuilder::new().build());

/// One sentence for each mistake in a line.
pub fn mistakes(line: &str) -> impl Iterator<Item = String> {
    check_str(line, &TOKENIZER, &Mistakes).map(|found| match found.corrections {
        Status::Corrections(all) => format!("\"{}\" is spelt {}.", found.typo, all.join(" or ")),
        _ => format!("\"{}\" is no word.", found.typo),
    })
}

/// The common mistakes, less the words that are right here.
struct Mistakes;

impl Dictionary for Mistakes {
    fn correct_ident<'s>(&'s self, _: Identifier<'_>) -> Option<Status<'s>> {
        None
    }

    fn correct_word<'s>(&'s self, word: Word<'_>) -> Option<Status<'s>> {
        let token = word.token();
        let is_right = RIGHT.iter().any(|right| right.eq_ignore_ascii_case(token));
        if is_right || token.len() < SHORTEST {
            return None;
        }
        let corrections = typos_dict::WORD.find(&UniCase::new(token))?;
        Some(if corrections.is_empty() {
            Status::Invalid
        } else {
            Status::Corrections(corrections.iter().map(|&right| right.into()).collect())
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // The mistakes are parted, so that this file passes.
    #[test]
    fn mistakes_are_found_in_prose_and_in_names() {
        let prose = concat!("They rec", "ieve a part.");
        assert_eq!(
            mistakes(prose).collect::<Vec<_>>(),
            [concat!("\"rec", "ieve\" is spelt receive.")]
        );
        assert_eq!(mistakes(concat!("fn one_seper", "ate_name()")).count(), 1);
        assert_eq!(mistakes(concat!("oneSeper", "ateName")).count(), 1);
    }

    #[test]
    fn words_of_the_trade_pass() {
        let line = "A limaçon lofted to a cissoid; anodised, colour, mould, gauge, centre.";
        assert_eq!(mistakes(line).count(), 0);
    }
}
