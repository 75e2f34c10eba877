//! Reading JSON text into a tree.
//!
//! A recursive descent over bytes: what is not text in quotes is ASCII. Lists and
//! records may stand 128 deep, so that no text can exhaust the stack.

use super::{Item, Value};

/// As deep as serde_json goes by default.
const DEEPEST: usize = 128;

/// What is no JSON, and where.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Syntax {
    /// The byte of the text.
    pub at: usize,
    /// What is wrong there and what was expected.
    pub problem: &'static str,
}

/// Reads one value that is the whole text.
pub(crate) fn read(text: &str) -> Result<Item, Syntax> {
    let mut reader = Reader { text, at: 0 };
    let item = reader.item(0)?;
    reader.skip_space();
    match reader.peek() {
        None => Ok(item),
        Some(_) => Err(reader.refuse("nothing more is expected after the end")),
    }
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
}

impl Reader<'_> {
    fn peek(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    fn refuse(&self, problem: &'static str) -> Syntax {
        let problem = match self.peek() {
            None => "the text ends in the middle",
            Some(_) => problem,
        };
        Syntax {
            at: self.at,
            problem,
        }
    }

    fn skip_space(&mut self) {
        while let Some(b' ' | b'\t' | b'\n' | b'\r') = self.peek() {
            self.at += 1;
        }
    }

    /// Whether `byte` stands next; it is passed then.
    fn takes(&mut self, byte: u8) -> bool {
        let is_next = self.peek() == Some(byte);
        self.at += usize::from(is_next);
        is_next
    }

    fn item(&mut self, depth: usize) -> Result<Item, Syntax> {
        self.skip_space();
        let at = self.at;
        let value = match self.peek() {
            Some(b'{' | b'[') if depth == DEEPEST => {
                return Err(self.refuse("lists and records stand too deep in each other"));
            }
            Some(b'{') => self.record(depth + 1)?,
            Some(b'[') => self.list(depth + 1)?,
            Some(b'"') => Value::Text(self.quoted()?),
            Some(b'-' | b'0'..=b'9') => self.number()?,
            _ => self.word()?,
        };
        Ok(Item { at, value })
    }

    fn word(&mut self) -> Result<Value, Syntax> {
        let words = [
            ("true", Value::Flag(true)),
            ("false", Value::Flag(false)),
            ("null", Value::Null),
        ];
        for (word, value) in words {
            if self.text[self.at..].starts_with(word) {
                self.at += word.len();
                return Ok(value);
            }
        }
        Err(self.refuse("a value is expected: a number, a text in quotes, a list or a record"))
    }

    fn list(&mut self, depth: usize) -> Result<Value, Syntax> {
        let mut items = Vec::new();
        self.at += 1;
        self.skip_space();
        if self.takes(b']') {
            return Ok(Value::List(items));
        }
        loop {
            items.push(self.item(depth)?);
            self.skip_space();
            if self.takes(b']') {
                return Ok(Value::List(items));
            }
            if !self.takes(b',') {
                return Err(self.refuse("a comma or the list's end is expected"));
            }
        }
    }

    fn record(&mut self, depth: usize) -> Result<Value, Syntax> {
        let mut fields = Vec::new();
        self.at += 1;
        self.skip_space();
        if self.takes(b'}') {
            return Ok(Value::Record(fields));
        }
        loop {
            self.skip_space();
            if self.peek() != Some(b'"') {
                return Err(self.refuse("the name of a field in quotes is expected"));
            }
            let name = self.quoted()?;
            self.skip_space();
            if !self.takes(b':') {
                return Err(self.refuse("a colon is expected after the name of a field"));
            }
            fields.push((name, self.item(depth)?));
            self.skip_space();
            if self.takes(b'}') {
                return Ok(Value::Record(fields));
            }
            if !self.takes(b',') {
                return Err(self.refuse("a comma or the record's end is expected"));
            }
        }
    }

    /// An optional sign; zero or digits that do not begin with it; a fraction; an exponent.
    fn number(&mut self) -> Result<Value, Syntax> {
        let start = self.at;
        self.takes(b'-');
        if !self.takes(b'0') {
            self.digits()?;
        }
        if self.takes(b'.') {
            self.digits()?;
        }
        if let Some(b'e' | b'E') = self.peek() {
            self.at += 1;
            if !self.takes(b'+') {
                self.takes(b'-');
            }
            self.digits()?;
        }
        match self.text[start..self.at].parse::<f64>() {
            Ok(number) if number.is_finite() => Ok(Value::Number(number)),
            _ => Err(Syntax {
                at: start,
                problem: "the number is too large",
            }),
        }
    }

    fn digits(&mut self) -> Result<(), Syntax> {
        if !matches!(self.peek(), Some(b'0'..=b'9')) {
            return Err(self.refuse("a digit is expected"));
        }
        while let Some(b'0'..=b'9') = self.peek() {
            self.at += 1;
        }
        Ok(())
    }

    fn quoted(&mut self) -> Result<String, Syntax> {
        let mut text = String::new();
        self.at += 1;
        loop {
            let start = self.at;
            while self
                .peek()
                .is_some_and(|byte| byte != b'"' && byte != b'\\' && b' ' <= byte)
            {
                self.at += 1;
            }
            text.push_str(&self.text[start..self.at]);
            match self.peek() {
                Some(b'"') => {
                    self.at += 1;
                    return Ok(text);
                }
                Some(b'\\') => text.push(self.escape()?),
                _ => {
                    return Err(self.refuse(
                        "a line or a control character does not stand in a text as it is",
                    ));
                }
            }
        }
    }

    fn escape(&mut self) -> Result<char, Syntax> {
        self.at += 1;
        let escaped = match self.peek() {
            Some(byte @ (b'"' | b'\\' | b'/')) => char::from(byte),
            Some(b'b') => '\u{8}',
            Some(b'f') => '\u{c}',
            Some(b'n') => '\n',
            Some(b'r') => '\r',
            Some(b't') => '\t',
            Some(b'u') => {
                self.at += 1;
                return self.code_point();
            }
            _ => return Err(self.refuse("after \\ one of \" \\ / b f n r t u is expected")),
        };
        self.at += 1;
        Ok(escaped)
    }

    /// Four digits, or twice four for what lies beyond them (a surrogate pair).
    fn code_point(&mut self) -> Result<char, Syntax> {
        let start = self.at;
        let first = self.code_unit();
        let is_half = first.is_some_and(|unit| (0xd800..0xdc00).contains(&unit));
        let second = if is_half && self.text[self.at..].starts_with("\\u") {
            self.at += 2;
            self.code_unit()
        } else {
            None
        };
        let mut decoded = char::decode_utf16(first.into_iter().chain(second));
        match (decoded.next(), decoded.next()) {
            (Some(Ok(c)), None) => Ok(c),
            _ => Err(Syntax {
                at: start,
                problem: "after \\u four digits of a character are expected",
            }),
        }
    }

    /// Four hexadecimal digits, if they stand next.
    fn code_unit(&mut self) -> Option<u16> {
        let digits = self.text.get(self.at..self.at + 4)?;
        if !digits.bytes().all(|byte| byte.is_ascii_hexdigit()) {
            return None;
        }
        self.at += 4;
        u16::from_str_radix(digits, 16).ok()
    }
}
