//! Strict reading of a record: what a field must be, and where it is not.
//!
//! Shared by the files of this crate, so that all of them refuse unknown fields
//! and wrong kinds of value in the same words, with the place.

use super::read::Syntax;
use super::{Item, Value, line_and_column};
use loftkin_kernel::quote::quoted;

/// A part of the file that breaks the required form.
pub(crate) struct Misfit {
    /// The byte of the text.
    pub at: usize,
    /// The profile, node or field in words, outermost first.
    pub place: Vec<String>,
    /// What is wrong and what was expected.
    pub problem: String,
}

/// What was read, or where it is not of the form.
pub(crate) type Fit<T> = Result<T, Misfit>;

/// The fields `format` and `version`, read before the strict form so that a
/// newer file is called newer and not wrong.
pub(crate) fn head(item: &Item) -> (Option<&str>, Option<u32>) {
    let Value::Record(fields) = &item.value else {
        return (None, None);
    };
    let field = |name: &str| fields.iter().find(|(field, _)| field == name);
    let format = match field("format") {
        Some((
            _,
            Item {
                value: Value::Text(text),
                ..
            },
        )) => Some(text.as_str()),
        _ => None,
    };
    (format, field("version").and_then(|(_, item)| whole(item)))
}

/// A whole number that is not negative; casts cut, so they are compared.
pub(crate) fn whole(item: &Item) -> Option<u32> {
    match item.value {
        Value::Number(number) if f64::from(number as u32) == number => Some(number as u32),
        _ => None,
    }
}

/// A list of members, each told by its number.
pub(crate) fn list<T>(item: &Item, member: &str, each: fn(&Item) -> Fit<T>) -> Fit<Vec<T>> {
    let members = list_of(item)?.iter().enumerate();
    members
        .map(|(index, item)| {
            each(item).map_err(|misfit| misfit.within(&format!("{member} {}", index + 1)))
        })
        .collect()
}

/// The members of a list.
pub(crate) fn list_of(item: &Item) -> Fit<&[Item]> {
    match &item.value {
        Value::List(items) => Ok(items),
        _ => Err(misfit(item, "a list in [ ]")),
    }
}

/// The value of one of the `words`.
pub(crate) fn one_of<T, const COUNT: usize>(item: &Item, words: [(&str, T); COUNT]) -> Fit<T> {
    let told = words
        .each_ref()
        .map(|(word, _)| format!("\"{word}\""))
        .join(" or ");
    let wanted = text(item)?;
    let found = words.into_iter().find(|(word, _)| *word == wanted);
    found.map(|(_, value)| value).ok_or_else(|| {
        refusal(
            item,
            format!("expected {told}, found \"{}\"", quoted(&wanted)),
        )
    })
}

/// A text.
pub(crate) fn text(item: &Item) -> Fit<String> {
    match &item.value {
        Value::Text(text) => Ok(text.clone()),
        _ => Err(misfit(item, "a text in quotes")),
    }
}

/// A number.
pub(crate) fn number(item: &Item) -> Fit<f64> {
    match item.value {
        Value::Number(number) => Ok(number),
        _ => Err(misfit(item, "a number")),
    }
}

/// True or false.
pub(crate) fn flag(item: &Item) -> Fit<bool> {
    match item.value {
        Value::Flag(flag) => Ok(flag),
        _ => Err(misfit(item, "true or false")),
    }
}

/// Something else was `expected` at `item`.
pub(crate) fn misfit(item: &Item, expected: &str) -> Misfit {
    refusal(
        item,
        format!("expected {expected}, found {}", item.value.kind()),
    )
}

/// A `problem` with `item`.
pub(crate) fn refusal(item: &Item, problem: String) -> Misfit {
    Misfit {
        at: item.at,
        place: Vec::new(),
        problem,
    }
}

impl From<Syntax> for Misfit {
    fn from(syntax: Syntax) -> Self {
        Self {
            at: syntax.at,
            place: Vec::new(),
            problem: syntax.problem.to_owned(),
        }
    }
}

impl Misfit {
    /// The place in words, then line and column in `text`.
    pub(crate) fn told(&self, text: &str) -> (String, usize, usize) {
        let place = match self.place.is_empty() {
            true => "the file".to_owned(),
            false => self.place.join(", "),
        };
        let (line, column) = line_and_column(text, self.at);
        (place, line, column)
    }

    fn within(mut self, place: &str) -> Self {
        self.place.insert(0, place.to_owned());
        self
    }
}

/// The fields of a record, each to be asked for once.
pub(crate) struct Fields<'a> {
    record: &'a Item,
    fields: &'a [(String, Item)],
}

impl<'a> Fields<'a> {
    /// Refuses fields that are not `known`, and those that stand twice.
    pub(crate) fn of(record: &'a Item, known: &[&str]) -> Fit<Self> {
        let Value::Record(fields) = &record.value else {
            return Err(misfit(record, "a record in { }"));
        };
        for (index, (name, item)) in fields.iter().enumerate() {
            let problem = if !known.contains(&name.as_str()) {
                format!(
                    "there is no field \"{}\" here, only \"{}\"",
                    quoted(name),
                    known.join("\", \"")
                )
            } else if fields[..index].iter().any(|(earlier, _)| earlier == name) {
                format!("the field \"{}\" stands twice", quoted(name))
            } else {
                continue;
            };
            return Err(refusal(item, problem));
        }
        Ok(Self { record, fields })
    }

    /// The field `name`, which must be there.
    pub(crate) fn needed<T>(&self, name: &str, read: impl Fn(&Item) -> Fit<T>) -> Fit<T> {
        self.optional(name, read)?
            .ok_or_else(|| refusal(self.record, format!("the field \"{name}\" is missing")))
    }

    /// The field `name`, if it is there.
    pub(crate) fn optional<T>(&self, name: &str, read: impl Fn(&Item) -> Fit<T>) -> Fit<Option<T>> {
        let Some((_, item)) = self.fields.iter().find(|(field, _)| field == name) else {
            return Ok(None);
        };
        // "node 3" is enough, and stands for the field "nodes" as well.
        let is_told = |place: &str| {
            place
                .split(' ')
                .next()
                .is_some_and(|member| name == format!("{member}s"))
        };
        read(item)
            .map(Some)
            .map_err(|misfit| match misfit.place.first() {
                Some(first) if is_told(first) => misfit,
                _ => misfit.within(name),
            })
    }
}
