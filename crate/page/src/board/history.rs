//! The states of a work as text and numbers, so that undo goes on after the page
//! is loaded again.

use super::{Board, Changes};
use loftkin_editor::history::History;
use loftkin_exchange::share;

/// Of each state of the work in force after the first `from` steps of all: a line
/// with its family as a share code, a line with the step that led to it.
pub fn lines(history: &History, from: usize) -> String {
    let mut text = String::new();
    for at in history.of_work(from) {
        let (step, family, _) = history.kept(at);
        for line in [&share::encode(&family), step] {
            text.push_str(line);
            text.push('\n');
        }
    }
    text
}

/// Which of these states is in force, and the numbers of the profiles of all.
pub fn numbers(history: &History, from: usize) -> Vec<u32> {
    let range = history.of_work(from);
    let mut numbers = vec![(history.done() - range.start) as u32];
    for at in range {
        numbers.extend_from_slice(history.kept(at).2);
    }
    numbers
}

impl Board {
    /// Takes up states, as [`lines`] and [`numbers`] tell them, where they led to
    /// the family on the board, and says whether they did.
    pub fn resume(&mut self, lines: &str, numbers: &[u32]) -> bool {
        let Some((&now, numbers)) = numbers.split_first() else {
            return false;
        };
        let mut kept = Vec::new();
        let mut lines = lines.lines();
        while let (Some(code), Some(step)) = (lines.next(), lines.next()) {
            match share::decode(code) {
                Ok(family) => kept.push((step.to_owned(), family)),
                Err(_) => return false,
            }
        }
        let resumed = self.document.resume(kept, numbers, now as usize);
        if resumed {
            self.changed(Changes::HISTORY);
        }
        resumed
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::family::Family;
    use loftkin_kernel::profile::{Node, Profile};

    fn line(rise: i32) -> Profile {
        Profile::open(vec![Node::smooth(0, 0), Node::smooth(1000, rise)])
    }

    #[test]
    fn steps_come_back_for_the_same_family_alone() {
        let mut board = Board::new(Family::default()).unwrap();
        for rise in [300, 400, 500] {
            board.add_profile(line(rise), "Draw").unwrap();
        }
        board.undo();
        let history = board.document().history();
        let (text, kept) = (lines(history, 0), numbers(history, 0));
        assert_eq!((kept[0], kept.len()), (2, 1 + 1 + 2 + 3));
        let mut again = Board::new(board.family().clone()).unwrap();
        assert!(again.resume(&text, &kept));
        assert_eq!(again.document().redo_step(), Some("Draw profile 3"));
        assert_eq!(again.undo().as_deref(), Some("Draw profile 2"));
        assert_eq!(again.undo().as_deref(), Some("Draw profile 1"));
        assert_eq!(again.undo(), None);
        assert!(again.family().profiles.is_empty());
        let mut other = Board::new(board.family().clone()).unwrap();
        for wrong in ["", "loft1.\nDraw\n", &text[..text.len() / 2], &text[1..]] {
            assert!(!other.resume(wrong, &kept), "{wrong}");
        }
        assert!(!other.resume(&text, &[]) && !other.resume(&text, &kept[..3]));
        assert!(!Board::new(Family::default()).unwrap().resume(&text, &kept));
        // From a bound on, and the state in force always.
        assert_eq!(lines(history, 2).lines().count(), 2 * 2);
        assert_eq!(numbers(history, 9)[0], 0);
    }
}
