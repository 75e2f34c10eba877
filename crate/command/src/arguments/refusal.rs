//! Refusals of wrong use: what was typed is quoted short and to be seen whole.

use clap::Error;
use clap::error::{ContextKind, ContextValue, ErrorKind};
use loftkin_kernel::quote::quoted;

/// `error` with what it repeats of the arguments as it may be quoted.
pub fn shortened(mut error: Error) -> Error {
    let mut typed = vec![ContextKind::InvalidValue, ContextKind::InvalidSubcommand];
    // Else it is an option as the help has it.
    if error.kind() == ErrorKind::UnknownArgument {
        typed.push(ContextKind::InvalidArg);
    }
    for kind in typed {
        if let Some(ContextValue::String(text)) = error.get(kind) {
            let short = quoted(text);
            if short != *text {
                // The advice repeats it whole.
                error.remove(ContextKind::Suggested);
            }
            error.insert(kind, ContextValue::String(short));
        }
    }
    error
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::arguments::Arguments;
    use clap::Parser;

    fn refused(arguments: &[&str]) -> String {
        let error = Arguments::try_parse_from(arguments).err().unwrap();
        shortened(error).to_string()
    }

    /// A number of 200 digits, and a line of control characters.
    #[test]
    fn what_is_typed_is_cut_and_escaped() {
        let digits = "7".repeat(200);
        let controls = "\u{1b}[2J".repeat(20);
        for wrong in [digits.as_str(), &controls] {
            for arguments in [
                vec!["loftkin", "series", "a", "--choose", wrong],
                vec!["loftkin", "series", "a", "--blend", wrong],
                vec!["loftkin", "series", "a", "--at", &format!("{wrong}x")],
                vec!["loftkin", "series", "a", &format!("--{wrong}")],
                vec!["loftkin", wrong],
            ] {
                let words = refused(&arguments);
                assert!(!words.contains('\u{1b}'), "{words:?}");
                assert!(words.contains('…'), "{words}");
                assert!(!words.contains(&"7".repeat(41)), "{words}");
            }
        }
    }

    #[test]
    fn what_is_short_stands_as_it_was() {
        let words = refused(&["loftkin", "series", "a", "--at", "1e5"]);
        assert!(words.contains("'1e5' for '--at <PLACES>'"), "{words}");
        assert!(words.contains("“1e5” has an exponent"), "{words}");
    }
}
