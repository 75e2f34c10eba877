//! Escapes in XML text for the characters that XML reserves.

/// `text` as it may stand inside an element or an attribute.
pub(crate) fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            // XML 1.0 has no place for most control characters.
            c if c.is_control() => safe.push(' '),
            c => safe.push(c),
        }
    }
    safe
}
