//! Running text broken into lines for a terminal or a file.

/// The width that text is broken at, in characters.
const WIDTH: usize = 96;

/// `text` in lines with `first` before the first and `rest` before the others,
/// each ending in a line break. Words longer than a line stay whole.
pub fn wrapped(text: &str, first: &str, rest: &str) -> String {
    let mut lines = String::new();
    let mut line = first.to_owned();
    let mut empty = true;
    for word in text.split_whitespace() {
        if !empty && WIDTH < line.chars().count() + 1 + word.chars().count() {
            lines.push_str(&line);
            lines.push('\n');
            line = rest.to_owned();
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(word);
        empty = false;
    }
    lines + &line + "\n"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_keep_their_width_and_every_word() {
        let text = "one two three ".repeat(40);
        let broken = wrapped(&text, "- ", "  ");
        assert!(broken.lines().all(|line| line.len() <= WIDTH));
        let words: Vec<_> = broken.trim_start_matches('-').split_whitespace().collect();
        assert_eq!(words, text.split_whitespace().collect::<Vec<_>>());
        assert_eq!(wrapped("", "- ", "  "), "- \n");
    }
}
