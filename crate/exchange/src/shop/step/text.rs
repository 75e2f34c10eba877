//! The text of ISO 10303-21: numbered instances, reals and strings.

use std::fmt;
use std::fmt::Write as _;
use std::io::{self, Write};

/// The number of an instance.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reference(usize);

impl fmt::Display for Reference {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "#{}", self.0)
    }
}

/// Writes instances one after the other and numbers them.
pub struct Sheet<W: Write> {
    out: W,
    last: usize,
}

impl<W: Write> Sheet<W> {
    pub fn new(out: W) -> Self {
        Self { out, last: 0 }
    }

    /// Writes an instance; its number serves to refer to it.
    pub fn put(&mut self, instance: &str) -> io::Result<Reference> {
        self.last += 1;
        writeln!(self.out, "#{}={instance};", self.last)?;
        Ok(Reference(self.last))
    }

    /// Writes what is no instance.
    pub fn raw(&mut self, text: &str) -> io::Result<()> {
        self.out.write_all(text.as_bytes())
    }
}

/// A real number: the shortest that reads back as the same, with the decimal
/// point and the capital E that the format asks for.
pub fn real(value: f64) -> String {
    let shortest = format!("{value:?}");
    match shortest.split_once('e') {
        Some((digits, exponent)) if digits.contains('.') => format!("{digits}E{exponent}"),
        Some((digits, exponent)) => format!("{digits}.E{exponent}"),
        None => shortest,
    }
}

/// A list of whole numbers or references in parentheses.
pub fn list(items: impl IntoIterator<Item = impl fmt::Display>) -> String {
    let mut text = String::from("(");
    for item in items {
        if 1 < text.len() {
            text.push(',');
        }
        let _ = write!(text, "{item}");
    }
    text.push(')');
    text
}

/// A string: apostrophes and backslashes doubled, all beyond printable ASCII as
/// UTF-16 by \X2\ (clause 6.4.3).
pub fn string(text: &str) -> String {
    let mut out = String::from("'");
    let mut coded = false;
    for letter in text.chars() {
        let plain = (' '..='~').contains(&letter);
        if coded == plain {
            out.push_str(if plain { "\\X0\\" } else { "\\X2\\" });
            coded = !plain;
        }
        match letter {
            '\'' => out.push_str("''"),
            '\\' => out.push_str("\\\\"),
            _ if plain => out.push(letter),
            _ => {
                for unit in letter.encode_utf16(&mut [0; 2]) {
                    let _ = write!(out, "{unit:04X}");
                }
            }
        }
    }
    out.push_str(if coded { "\\X0\\'" } else { "'" });
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reals_have_a_point_and_read_back_as_they_were() {
        for (value, text) in [
            (1.0, "1.0"),
            (-0.1, "-0.1"),
            (1e-7, "1.E-7"),
            (2.5e-7, "2.5E-7"),
            (1e22, "1.E22"),
        ] {
            assert_eq!(real(value), text);
            assert_eq!(text.replace('E', "e").parse::<f64>(), Ok(value));
        }
    }

    #[test]
    fn strings_keep_to_printable_ascii() {
        assert_eq!(string("a'b\\c"), "'a''b\\\\c'");
        // U+00E9 is the standard's own sort of example; beyond the first plane by two units.
        assert_eq!(string("caf\u{e9} 1"), "'caf\\X2\\00E9\\X0\\ 1'");
        assert_eq!(string("\u{1F3EE}"), "'\\X2\\D83CDFEE\\X0\\'");
    }

    #[test]
    fn instances_are_numbered_from_one() {
        let mut out = Vec::new();
        let mut sheet = Sheet::new(&mut out);
        let first = sheet.put("A()").unwrap();
        sheet.put(&format!("B({})", list([first, first]))).unwrap();
        assert_eq!(out, b"#1=A();\n#2=B((#1,#1));\n");
    }
}
