//! Elements with more attributes than any drawing needs.
//!
//! The XML parser compares every attribute with all others of its element, so
//! 80,000 of them take it seconds; they are refused here in one pass over the
//! text, before it is parsed.

/// The most attributes of one element, name spaces among them.
pub(super) const MOST_ATTRIBUTES: usize = 250;

/// The line, from 1, of the first element with more than [`MOST_ATTRIBUTES`].
/// What is no well-formed XML is left for the parser to refuse.
pub(super) fn found(text: &str) -> Option<usize> {
    let mut rest = text;
    while let Some(start) = rest.find('<') {
        let tag = &rest[start..];
        let after = |begin: &str, end: &str| {
            let inner = tag.strip_prefix(begin)?;
            Some(inner.find(end).map_or("", |at| &inner[at + end.len()..]))
        };
        let skipped = after("<!--", "-->")
            .or_else(|| after("<![CDATA[", "]]>"))
            .or_else(|| after("<?", "?>"));
        rest = match skipped {
            Some(rest) => rest,
            None => {
                let (attributes, behind) = attributes(tag);
                if MOST_ATTRIBUTES < attributes {
                    let line = text[..text.len() - tag.len()].matches('\n').count() + 1;
                    return Some(line);
                }
                behind
            }
        };
    }
    None
}

/// How many values in quotes stand in the tag that `text` begins with, and what
/// stands behind it.
fn attributes(text: &str) -> (usize, &str) {
    let mut count = 0;
    let mut rest = &text[1..];
    while let Some(at) = rest.find(['"', '\'', '>', '<']) {
        let mark = &rest[at..=at];
        if mark == "<" {
            return (count, &rest[at..]);
        }
        rest = &rest[at + 1..];
        if mark == ">" {
            return (count, rest);
        }
        count += 1;
        rest = rest.find(mark).map_or("", |end| &rest[end + 1..]);
    }
    (count, "")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn element(count: usize) -> String {
        let attributes: String = (0..count).map(|n| format!(" a{n}='>\"<'")).collect();
        format!("<path{attributes}/>")
    }

    #[test]
    fn only_attributes_of_one_element_count() {
        let most = element(MOST_ATTRIBUTES);
        let more = element(MOST_ATTRIBUTES + 1);
        assert_eq!(found(&format!("<svg>\n{most}{most}</svg>")), None);
        assert_eq!(found(&format!("<svg>\n{most}\n{more}</svg>")), Some(3));
        for (begin, end) in [("<!--", "-->"), ("<![CDATA[", "]]>"), ("<?x ", "?>")] {
            assert_eq!(found(&format!("<svg>{begin}{more}{end}{most}</svg>")), None);
            assert_eq!(found(&format!("<svg>{begin}{end}\n{more}")), Some(2));
        }
        for text in ["", "<", "<a b='", "<a b=\"x\" <c", "text \" more", "<!--"] {
            assert_eq!(found(text), None, "{text}");
        }
    }
}
