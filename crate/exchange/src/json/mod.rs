//! JSON (RFC 8259) as a tree whose values know their place in the text.
//!
//! Not serde: its typed reading of a family file took 38 kB of what a visitor
//! of the page is sent, a tenth of all that may be; this takes 4. The tests hold
//! it against serde_json.

pub(crate) mod form;
mod read;

pub(crate) use read::read;

/// A value and where it begins.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Item {
    /// The byte of the text where it begins.
    pub at: usize,
    /// The value.
    pub value: Value,
}

/// What a value is.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Value {
    Null,
    Flag(bool),
    Number(f64),
    Text(String),
    List(Vec<Item>),
    /// The fields in their order; a name may stand twice.
    Record(Vec<(String, Item)>),
}

impl Value {
    /// What it is, in words.
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Null => "null",
            Self::Flag(_) => "true or false",
            Self::Number(_) => "a number",
            Self::Text(_) => "a text",
            Self::List(_) => "a list",
            Self::Record(_) => "a record",
        }
    }
}

/// `text` in quotes.
pub(crate) fn quoted(text: &str) -> String {
    let mut safe = String::with_capacity(text.len() + 2);
    safe.push('"');
    for c in text.chars() {
        match c {
            '"' => safe.push_str("\\\""),
            '\\' => safe.push_str("\\\\"),
            '\n' => safe.push_str("\\n"),
            c if c < ' ' => safe.push_str(&format!("\\u{:04x}", u32::from(c))),
            c => safe.push(c),
        }
    }
    safe.push('"');
    safe
}

/// Line and column of a byte of `text`, from 1; columns count characters.
pub(crate) fn line_and_column(text: &str, at: usize) -> (usize, usize) {
    let before = text.get(..at).unwrap_or(text);
    let line = before.matches('\n').count() + 1;
    let start = before.rfind('\n').map_or(0, |end| end + 1);
    (line, before[start..].chars().count() + 1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn as_serde(value: &Value) -> serde_json::Value {
        match value {
            Value::Null => serde_json::Value::Null,
            Value::Flag(flag) => (*flag).into(),
            Value::Number(number) => (*number).into(),
            Value::Text(text) => text.clone().into(),
            Value::List(items) => items.iter().map(|item| as_serde(&item.value)).collect(),
            Value::Record(fields) => fields
                .iter()
                .map(|(name, item)| (name.clone(), as_serde(&item.value)))
                .collect(),
        }
    }

    /// Every number as f64, as this reader has them.
    fn as_floats(value: serde_json::Value) -> serde_json::Value {
        match value {
            serde_json::Value::Number(number) => number.as_f64().into(),
            serde_json::Value::Array(items) => items.into_iter().map(as_floats).collect(),
            serde_json::Value::Object(fields) => fields
                .into_iter()
                .map(|(name, value)| (name, as_floats(value)))
                .collect(),
            other => other,
        }
    }

    /// Text that is nearly JSON: its pieces in any order.
    fn nearly_json() -> impl Strategy<Value = String> {
        let pieces = [
            "{",
            "}",
            "[",
            "]",
            ",",
            ":",
            "\"a\"",
            "\"",
            "\\",
            "\\u00e9",
            "\\ud83d\\ude00",
            "\\ud800",
            "1",
            "-",
            "0",
            ".5",
            "e3",
            "E-2",
            "true",
            "null",
            "fals",
            " ",
            "\n",
            "\u{1}",
            "é",
            "\"b\":",
        ];
        prop::collection::vec(prop::sample::select(pieces.to_vec()), 0..14)
            .prop_map(|parts| parts.concat())
    }

    fn json() -> impl Strategy<Value = serde_json::Value> {
        let leaf = prop_oneof![
            Just(serde_json::Value::Null),
            any::<bool>().prop_map(Into::into),
            any::<i32>().prop_map(Into::into),
            prop::num::f64::NORMAL.prop_map(Into::into),
            any::<String>().prop_map(Into::into),
        ];
        leaf.prop_recursive(4, 40, 6, |inner| {
            prop_oneof![
                prop::collection::vec(inner.clone(), 0..6).prop_map(Into::into),
                prop::collection::btree_map(any::<String>(), inner, 0..6)
                    .prop_map(|fields| fields.into_iter().collect()),
            ]
        })
    }

    proptest! {
        /// The reference is serde_json, version 1.
        #[test]
        fn reads_what_serde_json_writes(value in json(), pretty: bool) {
            let text = match pretty {
                true => serde_json::to_string_pretty(&value).unwrap(),
                false => value.to_string(),
            };
            // serde_json's own reading may round a number in its last digit: compare with the value itself.
            let read = read(&text).map_err(|error| error.problem);
            prop_assert_eq!(read.map(|item| as_serde(&item.value)), Ok(as_floats(value)));
        }

        #[test]
        fn takes_and_refuses_what_serde_json_does(text in nearly_json()) {
            let theirs: Result<serde_json::Value, _> = serde_json::from_str(&text);
            let ours = read(&text);
            prop_assert_eq!(ours.is_ok(), theirs.is_ok(), "{:?} {:?} {:?}", text, ours, theirs);
        }

        #[test]
        fn quotes_so_that_serde_json_reads_it(text: String) {
            prop_assert_eq!(serde_json::from_str::<String>(&quoted(&text)).unwrap(), text);
        }
    }

    #[test]
    fn places_count_lines_and_characters() {
        assert_eq!(line_and_column("é: 1\n äb", 9), (2, 3));
        assert_eq!(line_and_column("", 0), (1, 1));
    }
}
