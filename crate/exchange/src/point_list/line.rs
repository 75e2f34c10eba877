//! What one line of a point list is, and the columns that a head names.
//!
//! A comma is a decimal mark wherever semicolons, tabs or spaces part x and y,
//! see [`crate::number`]. Exponents are read too, for programs write them.

use crate::number::{NumberError, entries, number};
use crate::words::counted;
use loftkin_kernel::quote::quoted;

/// A line for what it holds.
#[derive(Debug, PartialEq)]
pub(super) enum Line {
    Blank,
    Remark,
    /// Names of columns, x and y among them.
    Head(Columns),
    Name(String),
    Point([f64; 2]),
    /// Meant as a point, but for a problem.
    Wrong(String),
}

/// Which columns hold x and y.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Columns {
    x: usize,
    y: usize,
    count: usize,
}

impl Columns {
    /// What is told of them.
    pub(super) fn told(self, line: usize) -> String {
        let others = match self.count {
            2 => "",
            _ => "; the others were left out",
        };
        let (x, y) = (self.x + 1, self.y + 1);
        format!(
            "Line {line} was read as the head of the columns: x stands in column {x}, y in column {y}{others}."
        )
    }

    /// The point of a line below the head, if it is one.
    fn point(self, fields: &[&str]) -> Option<Line> {
        // A spreadsheet may end each line with the mark.
        let fields = match fields {
            [fields @ .., ""] if fields.len() == self.count => fields,
            fields => fields,
        };
        if !fields.iter().any(|field| is_meant(field)) {
            return None;
        }
        if fields.len() != self.count {
            let given = counted(fields.len(), "field", "fields");
            let columns = self.count;
            return Some(Line::Wrong(format!(
                "{given}, but the head names {columns} columns"
            )));
        }
        Some(point([fields[self.x], fields[self.y]]))
    }

    fn of(fields: &[&str]) -> Option<Self> {
        let only = |letter| {
            let mut found = (0..fields.len()).filter(|&index| is_headed(fields[index], letter));
            found.next().filter(|_| found.next().is_none())
        };
        Some(Self {
            x: only('x')?,
            y: only('y')?,
            count: fields.len(),
        })
    }
}

/// Whether a column is called by `letter`, with a unit or the like behind it if
/// any: `x`, `X [mm]`, `y_mm`, `"y"`.
fn is_headed(field: &str, letter: char) -> bool {
    let mut letters = field.trim_matches(['"', '\'']).chars();
    let is_called = letters
        .next()
        .is_some_and(|c| c.eq_ignore_ascii_case(&letter));
    is_called && !letters.next().is_some_and(char::is_alphanumeric)
}

/// What parts the fields of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Parted {
    Semicolons,
    Tabs,
    Commas,
    Spaces,
}

/// The fields of a line and what parts them.
pub(super) fn fields(text: &str) -> Result<(Vec<&str>, Parted), NumberError> {
    let split = |mark: char| text.split(mark).map(str::trim).collect::<Vec<_>>();
    let (fields, parted) = if text.contains(';') {
        (split(';'), Parted::Semicolons)
    } else if text.contains('\t') {
        (split('\t'), Parted::Tabs)
    } else {
        let fields = entries(text)?;
        let spaces = fields.len() == text.split_whitespace().count() && !text.contains(',');
        let inner = fields.iter().any(|field| field.contains(','));
        let parted = if spaces || inner {
            Parted::Spaces
        } else {
            Parted::Commas
        };
        (fields, parted)
    };
    Ok((fields, parted))
}

/// What `text` is, below the head `columns` if there was one.
pub(super) fn line(text: &str, columns: Option<Columns>) -> Line {
    let text = text.trim();
    if text.is_empty() {
        return Line::Blank;
    }
    if text.starts_with(['#', '%', ';']) {
        return Line::Remark;
    }
    let (fields, parted) = match fields(text) {
        Ok(fields) => fields,
        Err(problem) if text.chars().all(is_of_numbers) => return Line::Wrong(problem.to_string()),
        Err(_) => return Line::Name(text.to_owned()),
    };
    if let Some(line) = columns
        .filter(|_| parted != Parted::Spaces)
        .and_then(|columns| columns.point(&fields))
    {
        return line;
    }
    let fields: Vec<&str> = (fields.into_iter())
        .filter(|field| !field.is_empty())
        .collect();
    let is_list = fields.iter().all(|field| is_meant(field));
    match fields[..] {
        [x, y] if is_list => match columns {
            Some(columns) if columns.y < columns.x => point([y, x]),
            _ => point([x, y]),
        },
        [one] if figure(one).is_err() => Line::Name(text.to_owned()),
        _ if is_list => Line::Wrong(count_of(text, fields.len())),
        _ => Columns::of(&fields).map_or_else(|| Line::Name(text.to_owned()), Line::Head),
    }
}

fn point([x, y]: [&str; 2]) -> Line {
    match figure(x).and_then(|x| Ok([x, figure(y)?])) {
        Ok(point) => Line::Point(point),
        Err(problem) => Line::Wrong(problem.to_string()),
    }
}

fn count_of(text: &str, count: usize) -> String {
    let numbers = counted(count, "number", "numbers");
    let way = match text.contains(',') {
        true => ": where commas are decimal marks, put a semicolon between x and y",
        false => ": head the columns, two of them x and y, to choose those",
    };
    match count {
        1 => format!("{numbers} instead of x and y"),
        _ => format!("{numbers} instead of x and y{way}"),
    }
}

/// A number that may have an exponent.
fn figure(text: &str) -> Result<f64, NumberError> {
    match number(text) {
        Err(NumberError::Exponent { .. }) => {
            let value = text.replace(',', ".").parse::<f64>().ok();
            let value = value.filter(|value| value.is_finite());
            value.ok_or_else(|| NumberError::Other { text: quoted(text) })
        }
        read => read,
    }
}

/// Whether a field begins like a number and is no date, time or fraction.
fn is_meant(field: &str) -> bool {
    let digits = field.trim_start_matches(['+', '-', '−']);
    let first = digits.trim_start_matches(['.', ',']);
    first.starts_with(|c: char| c.is_ascii_digit()) && !parts_a_date(digits)
}

/// Signs stand only behind an exponent within a number.
fn parts_a_date(digits: &str) -> bool {
    let is_parted = |(at, c): (usize, char)| match c {
        ':' | '/' => true,
        '-' => !digits[..at].ends_with(['e', 'E']),
        _ => false,
    };
    digits.char_indices().any(is_parted)
}

fn is_of_numbers(c: char) -> bool {
    c.is_ascii_digit() || c.is_whitespace() || "+-−.,eE".contains(c)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_told_by_what_it_holds() {
        let point = |x, y| Line::Point([x, y]);
        let name = |text: &str| Line::Name(text.to_owned());
        for (text, expected) in [
            ("12.5 -3.75", point(12.5, -3.75)),
            ("12,5 -3,75", point(12.5, -3.75)),
            ("12,5;-3,75", point(12.5, -3.75)),
            ("12,5;-3,75;", point(12.5, -3.75)),
            ("12,5\t-3,75", point(12.5, -3.75)),
            ("12,5\t\t-3,75", point(12.5, -3.75)),
            ("12.5,-3.75", point(12.5, -3.75)),
            ("12.5, -3.75", point(12.5, -3.75)),
            ("12,5", point(12.0, 5.0)),
            ("1.25E+01 -37,5e-1", point(12.5, -3.75)),
            ("3. 3.", point(3.0, 3.0)),
            ("Quay", name("Quay")),
            ("Vane, NACA 0012", name("Vane, NACA 0012")),
            ("2 hoods", name("2 hoods")),
            ("2nd", name("2nd")),
            ("2024-05-01 12:30", name("2024-05-01 12:30")),
            ("nan nan", name("nan nan")),
            ("; x y", Line::Remark),
        ] {
            assert_eq!(line(text, None), expected, "{text}");
        }
        for text in [
            "1 2 3",
            "3",
            "1.234,5;3",
            "12.5 -3.7x",
            "12,5,3,75",
            "1, 2,5",
        ] {
            assert!(matches!(line(text, None), Line::Wrong(_)), "{text}");
        }
    }

    #[test]
    fn a_head_names_the_columns() {
        for text in [
            "x;y",
            "X [mm];Y [mm]",
            "x y",
            "\"x\",\"y\"",
            "x_mm\ty_mm",
            "x/c y/c",
        ] {
            let expected = Columns {
                x: 0,
                y: 1,
                count: 2,
            };
            assert_eq!(line(text, None), Line::Head(expected), "{text}");
        }
        let Line::Head(columns) = line("nr;y;x;note", None) else {
            panic!("no head");
        };
        let below = |text| line(text, Some(columns));
        assert_eq!(below("1;3,5;12,5;foot"), Line::Point([12.5, 3.5]));
        assert_eq!(below("3,5 12,5"), Line::Point([12.5, 3.5]));
        assert_eq!(below("1;3,5;12,5;;"), Line::Point([12.5, 3.5]));
        assert!(matches!(below("1;3,5;"), Line::Wrong(_)));
        assert!(matches!(below("1;;12,5;foot"), Line::Wrong(_)));
        assert_eq!(below("Mole"), Line::Name("Mole".to_owned()));
        assert!(
            columns
                .told(4)
                .contains("x stands in column 3, y in column 2; the others")
        );
        for text in ["xylem yard", "x x y", "x z", "Brim y"] {
            assert!(!matches!(line(text, None), Line::Head(_)), "{text}");
        }
    }
}
