//! What is quoted in a refusal: short, and with everything in it to be seen.
//!
//! A refusal repeats what it is about, so that the place is found. What is
//! repeated may be anything, such as a number of 200 digits, a line of control
//! characters or letters that turn the reading direction, and none of that may
//! drown the sentence or steer the terminal that shows it.

/// The most characters of a quotation; one more says that it was cut.
pub const MOST_CHARACTERS: usize = 40;

/// `text` for a quotation: invisible characters as escapes such as `\n` and
/// `\u{202e}`, cut with "…" behind [`MOST_CHARACTERS`] characters.
pub fn quoted(text: &str) -> String {
    let mut quoted = String::new();
    let mut count = 0;
    for c in text.chars() {
        let escape = is_invisible(c).then(|| c.escape_default());
        let length = escape.as_ref().map_or(1, |escape| escape.len());
        if MOST_CHARACTERS < count + length {
            quoted.push('…');
            break;
        }
        match escape {
            Some(escape) => quoted.extend(escape),
            None => quoted.push(c),
        }
        count += length;
    }
    quoted
}

/// Control characters, white space but the plain one, and what Unicode calls
/// ignorable by default: format characters, fillers, selectors and tags
/// (DerivedCoreProperties.txt of the Unicode Character Database, from memory).
fn is_invisible(c: char) -> bool {
    c.is_control()
        || (c.is_whitespace() && c != ' ')
        || matches!(c,
            '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}'..='\u{1160}'
            | '\u{17b4}'..='\u{17b5}' | '\u{180b}'..='\u{180f}'
            | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}'
            | '\u{3164}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{ffa0}'
            | '\u{fff0}'..='\u{fffb}' | '\u{1bca0}'..='\u{1bca3}' | '\u{1d173}'..='\u{1d17a}'
            | '\u{e0000}'..='\u{e0fff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_short_and_visible_stands_as_it_is() {
        for text in ["", "12,5", "“Haube” – größer", "\\u", "'a' \"b\""] {
            assert_eq!(quoted(text), text);
        }
        let just = "é".repeat(MOST_CHARACTERS);
        assert_eq!(quoted(&just), just);
    }

    #[test]
    fn what_is_long_is_cut() {
        let digits = "1".repeat(200);
        assert_eq!(quoted(&digits), format!("{}…", &digits[..MOST_CHARACTERS]));
        let controls = quoted(&"\u{1b}".repeat(99));
        assert_eq!(controls, format!("{}…", "\\u{1b}".repeat(6)));
    }

    #[test]
    fn what_is_invisible_is_escaped() {
        assert_eq!(
            quoted("1\t2\u{202e}3\u{a0}4\u{200b}\r\n"),
            "1\\t2\\u{202e}3\\u{a0}4\\u{200b}\\r\\n"
        );
    }

    /// The standard library keeps Unicode's tables for the escapes of its own
    /// debug form: whatever is white space, a control or a format character to
    /// it must be escaped here.
    #[test]
    fn the_standard_library_finds_no_other_invisible_character() {
        let blocks = [
            '\0'..='\u{2fff}',
            '\u{fe00}'..='\u{ffff}',
            '\u{e0000}'..='\u{e007f}',
        ];
        for c in blocks.into_iter().flatten() {
            let seen = quoted(&c.to_string());
            let is_space = c.is_whitespace() || c.is_control();
            assert_eq!(
                is_space && c != ' ',
                is_space && seen.starts_with('\\'),
                "{c:?}"
            );
            if ('\u{2000}'..='\u{206f}').contains(&c) && c.escape_debug().len() != 1 {
                assert!(seen.starts_with('\\'), "{c:?}");
            }
        }
    }
}
