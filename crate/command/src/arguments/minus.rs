//! Values that begin with a minus sign: `--at -10,20` is read as `--at=-10,20`.
//!
//! An argument that begins with a minus and a digit or decimal mark is a number or a
//! list of numbers, for no option is called so. Behind a long option it is that
//! option's value; it is joined to it here, once for all options of all orders, so
//! that no option takes the name of the next one for its value.

use std::ffi::OsString;

/// `arguments` with every negative value joined to the option before it.
pub fn joined(arguments: impl IntoIterator<Item = OsString>) -> Vec<OsString> {
    let mut joined: Vec<OsString> = Vec::new();
    let mut options = true;
    for argument in arguments {
        let before = joined.last_mut();
        match before.filter(|before| options && is_open(before) && is_negative(&argument)) {
            Some(before) => {
                before.push("=");
                before.push(&argument);
            }
            None => {
                options &= argument != "--";
                joined.push(argument);
            }
        }
    }
    joined
}

/// Whether an argument is a long option without a value of its own.
fn is_open(argument: &OsString) -> bool {
    let text = argument.to_string_lossy();
    text.strip_prefix("--")
        .is_some_and(|name| !name.is_empty() && !name.contains('='))
}

/// Whether an argument begins as a negative number does, of any decimal mark.
fn is_negative(argument: &OsString) -> bool {
    let text = argument.to_string_lossy();
    let mut behind = text.strip_prefix('-').unwrap_or_default().chars();
    match behind.next() {
        Some('.' | ',') => behind.next().is_some_and(|next| next.is_ascii_digit()),
        first => first.is_some_and(|first| first.is_ascii_digit()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::arguments::Arguments;
    use clap::CommandFactory;
    use clap::error::ErrorKind;

    fn shown(arguments: &[&str]) -> Vec<String> {
        let joined = joined(arguments.iter().map(OsString::from));
        let shown = joined.iter().map(|one| one.to_string_lossy().into_owned());
        shown.collect()
    }

    #[test]
    fn only_a_number_behind_a_long_option_is_joined() {
        assert_eq!(
            shown(&["x", "--at", "-10,20", "--draw", "-.5,0,1", "--room"]),
            ["x", "--at=-10,20", "--draw=-.5,0,1", "--room"]
        );
        for alone in [
            &["-", "-o", "-5"][..],
            &["--at=1", "-5"],
            &["--at", "--scales", "-"],
            &["--", "--at", "-5"],
            &["--at", "-x", "-.", "-"],
        ] {
            assert_eq!(shown(alone), alone);
        }
    }

    /// An option called by a digit would be taken for a number.
    #[test]
    fn no_option_is_called_by_a_digit() {
        for order in Arguments::command().get_subcommands() {
            for option in order.get_arguments() {
                let short = option.get_short();
                assert!(short.is_none_or(|name| !name.is_ascii_digit()), "{option}");
            }
        }
    }

    /// What an option makes of it is its own affair; that it gets it is asked here.
    #[test]
    fn every_option_with_a_value_takes_a_minus_before_it() {
        for order in Arguments::command().get_subcommands() {
            let options = order.get_arguments().filter_map(|option| option.get_long());
            let with_value = options.filter(|name| {
                let mut own = order.get_arguments();
                own.any(|option| {
                    option.get_long() == Some(name) && option.get_action().takes_values()
                })
            });
            for name in with_value {
                let option = format!("--{name}");
                let given = ["loftkin", order.get_name(), &option, "-1,2"].map(OsString::from);
                let read = Arguments::command().try_get_matches_from(joined(given));
                let kind = read.map_err(|error| error.kind()).err();
                assert_ne!(kind, Some(ErrorKind::UnknownArgument), "{option}");
            }
        }
    }
}
