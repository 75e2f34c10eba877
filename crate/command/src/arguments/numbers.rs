//! Numbers and lists of them behind options: comma and point are decimal marks
//! alike. One list is one value, for only the whole of it tells what parts it.

use loftkin_exchange::number::{self, NumberError};

pub use loftkin_exchange::number::number as decimal;

/// The entries of one value.
#[derive(Clone, Debug)]
pub struct List<T>(pub Vec<T>);

/// The entries of all values of an option, in order.
pub fn all<T: Clone>(lists: &[List<T>]) -> Vec<T> {
    let entries = lists.iter().flat_map(|List(entries)| entries);
    entries.cloned().collect()
}

/// A list of numbers.
pub fn list(text: &str) -> Result<List<f64>, NumberError> {
    number::numbers(text).map(List)
}

/// A list whose entries `entry` reads.
pub fn list_of<T>(
    text: &str,
    entry: impl Fn(&str) -> Result<T, String>,
) -> Result<List<T>, String> {
    let entries = number::entries(text).map_err(|error| error.to_string())?;
    let read: Result<_, _> = entries.into_iter().map(entry).collect();
    read.map(List)
}

/// What reads a list whose entries `entry` reads.
pub fn list_by<T: 'static>(
    entry: fn(&str) -> Result<T, String>,
) -> impl Fn(&str) -> Result<List<T>, String> + Clone + Send + Sync + 'static {
    move |text| list_of(text, entry)
}

/// What reads a whole number from `least` to `most`.
pub fn whole<T: TryFrom<u64>>(
    least: u64,
    most: u64,
) -> impl Fn(&str) -> Result<T, String> + Clone + Send + Sync + 'static {
    move |text| {
        let value = number::whole(text).map_err(|error| error.to_string())?;
        let within = (least..=most).contains(&value);
        let read = T::try_from(value).ok().filter(|_| within);
        read.ok_or_else(|| format!("give a whole number from {least} to {most}"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::arguments::Arguments;
    use clap::builder::ValueParser;
    use clap::error::ErrorKind;
    use clap::{Arg, CommandFactory};

    /// How clap refuses `--option=value`; that more is needed beside it is no
    /// matter here.
    fn is_refused(order: &str, option: &Arg, value: &str) -> bool {
        let given = format!("--{}={value}", option.get_long().unwrap());
        let read = Arguments::command().try_get_matches_from(["loftkin", order, &given]);
        read.is_err_and(|error| error.kind() == ErrorKind::ValueValidation)
    }

    /// Every option of every order that takes a number with decimals.
    fn with_decimals(check: impl Fn(&str, &Arg, &dyn Fn(&str) -> String)) -> usize {
        let mut count = 0;
        for order in Arguments::command().get_subcommands() {
            for option in order.get_arguments() {
                let kind = option.get_value_parser().type_id();
                let stops = ValueParser::new(crate::arguments::finish::stops).type_id();
                let weights = ValueParser::new(crate::arguments::mend::weights);
                let of = |parser: ValueParser| parser.type_id() == kind;
                let entry: &dyn Fn(&str) -> String = if kind == stops || of(weights) {
                    &|number| format!("1:{number};2:3")
                } else if of(ValueParser::new(list)) {
                    &|number| format!("{number};7")
                } else if of(ValueParser::new(decimal)) {
                    &|number| number.to_owned()
                } else {
                    continue;
                };
                check(order.get_name(), option, entry);
                count += 1;
            }
        }
        count
    }

    #[test]
    fn comma_and_point_are_decimal_marks_in_every_option() {
        let count = with_decimals(|order, option, entry| {
            let name = option.get_id();
            for number in ["0.8", "0,8", "112,5", ",5"] {
                assert!(
                    !is_refused(order, option, &entry(number)),
                    "{name} {number}"
                );
            }
            for number in ["1.234,5", "1.2.3", "1e5", "12mm", "NaN", "inf"] {
                assert!(is_refused(order, option, &entry(number)), "{name} {number}");
            }
        });
        assert!(60 < count, "{count}");
    }

    #[test]
    fn lists_are_parted_by_semicolons_and_spaces_too() {
        for text in ["0,90", "0;90", "0 90", "0, 90"] {
            assert_eq!(all(&[list(text).unwrap()]), [0.0, 90.0], "{text}");
        }
        let stops = crate::arguments::finish::stops("0,5:20;180:90,25").unwrap();
        assert_eq!(stops.0, [(0.5, 20.0), (180.0, 90.25)]);
        let stops = crate::arguments::finish::stops("0:20,180:90").unwrap();
        assert_eq!(stops.0, [(0.0, 20.0), (180.0, 90.0)]);
    }

    #[test]
    fn whole_numbers_keep_their_range() {
        let rows = whole::<u16>(2, 2000);
        assert_eq!(rows("2000"), Ok(2000));
        for text in ["1", "2001", "70000", "2,5", "1e3", ""] {
            assert!(rows(text).is_err(), "{text}");
        }
    }
}
