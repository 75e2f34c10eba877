//! The manifest of a selection: one line a file, as comma-separated values.
//!
//! Lines and quotes follow RFC 4180. A checksum (CRC-32, as in zip) tells whether a
//! file came through whole.

use std::fmt::Write;

/// The lines of a manifest.
#[derive(Clone, Debug)]
pub struct Manifest {
    text: String,
}

impl Manifest {
    /// A manifest whose lines tell piece, profiles and what `figures` names, then
    /// the file, its length in bytes and its checksum.
    pub fn new(figures: &[&str]) -> Self {
        let mut manifest = Self {
            text: String::new(),
        };
        let names = ["piece", "profiles"].iter().chain(figures);
        manifest.line(names.chain(&["file", "bytes", "crc32"]));
        manifest
    }

    /// Adds the file `name` of piece `piece`, with a value for each figure.
    pub fn add(
        &mut self,
        piece: &str,
        profiles: &str,
        figures: &[String],
        name: &str,
        content: &[u8],
    ) {
        let length = content.len().to_string();
        let checksum = format!("{:08x}", crc32fast::hash(content));
        let figures = figures.iter().map(String::as_str);
        let fields = [piece, profiles].into_iter().chain(figures);
        self.line(fields.chain([name, &length, &checksum]));
    }

    /// The whole text.
    pub fn text(&self) -> &str {
        &self.text
    }

    fn line(&mut self, fields: impl Iterator<Item = impl AsRef<str>>) {
        for (index, field) in fields.enumerate() {
            let field = field.as_ref();
            if 0 < index {
                self.text.push(',');
            }
            if field.contains([',', '"', '\r', '\n']) {
                let _ = write!(self.text, "\"{}\"", field.replace('"', "\"\""));
            } else {
                self.text.push_str(field);
            }
        }
        self.text.push_str("\r\n");
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fields_with_commas_and_quotes_are_quoted() {
        let mut manifest = Manifest::new(&["area_mm2"]);
        // 0xcbf43926 is the check value of CRC-32 for these nine digits.
        manifest.add(
            "12",
            "1, 2 \"x\"",
            &["3.5".to_owned()],
            "12.stl",
            b"123456789",
        );
        assert_eq!(
            manifest.text(),
            "piece,profiles,area_mm2,file,bytes,crc32\r\n12,\"1, 2 \"\"x\"\"\",3.5,12.stl,9,cbf43926\r\n"
        );
    }
}
