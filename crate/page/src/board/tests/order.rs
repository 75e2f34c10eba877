//! Which profile is which, through every step that adds, deletes or moves some.

use super::*;
use loftkin_editor::edit::{About, Reshape};

fn keys(board: &Board) -> Vec<u32> {
    board.document().identity().profiles().to_vec()
}

#[test]
fn every_step_takes_the_numbers_of_profiles_along_and_the_history_brings_them_back() {
    let mut board = board(vec![arch(1000), arch(2000), arch(3000)]);
    let [one, two, three] = keys(&board).try_into().unwrap();
    let mut seen = vec![keys(&board)];
    board.activate(1);
    board.copy_profile().unwrap();
    seen.push(keys(&board));
    let copy = keys(&board)[2];
    assert_eq!(keys(&board), [one, two, copy, three]);
    // A copy is like its original: only the step tells which of them is deleted.
    board.activate(1);
    board.delete_profile().unwrap();
    seen.push(keys(&board));
    assert_eq!(keys(&board), [one, copy, three]);
    board.activate(0);
    board.reorder(true).unwrap();
    seen.push(keys(&board));
    assert_eq!(keys(&board), [copy, one, three]);
    board.nudge(1, 0).unwrap_err();
    board.choose(0, false);
    board.nudge(1, 0).unwrap();
    board.rename(Some(0), "Wide");
    assert_eq!(keys(&board), [copy, one, three]);
    let copies = Copies {
        count: 2,
        change: Reshape {
            about: About::Foot,
            ..Reshape::NONE
        },
        wander: 0.0,
    };
    board.add_copies(&copies).unwrap();
    assert_eq!(keys(&board).len(), 5);
    assert_eq!(
        [keys(&board)[0], keys(&board)[1], keys(&board)[4]],
        [copy, one, three]
    );
    board.undo();
    board.undo();
    board.undo();
    while let Some(kept) = seen.pop() {
        assert_eq!(keys(&board), kept);
        board.undo();
    }
    board.go_to_step(2);
    assert_eq!(keys(&board), [one, copy, three]);
    let added = Family {
        profiles: vec![arch(4000), arch(5000)],
        ..Family::default()
    };
    board.add_profiles_from(&added, "Add").unwrap();
    board.add_profile(arch(6000), "Draw").unwrap();
    assert_eq!(keys(&board)[..3], [one, copy, three]);
    let mut all = keys(&board);
    all.sort_unstable();
    all.dedup();
    assert_eq!(all.len(), 6);
}

#[test]
fn profiles_that_are_alike_change_places_without_a_step() {
    let mut board = board(vec![arch(1000), arch(1000)]);
    let before = keys(&board);
    board.reorder(true).unwrap();
    assert_eq!(keys(&board), [before[1], before[0]]);
    assert_eq!(board.document().undo_step(), None);
    board.choose(0, false);
    board.nudge(1, 0).unwrap();
    board.undo();
    assert_eq!(keys(&board), [before[1], before[0]]);
}

#[test]
fn another_family_is_another_work_and_the_same_one_is_not() {
    let mut board = board(vec![arch(1000), arch(2000)]);
    let work = |board: &Board| board.document().identity().work();
    let (first, before) = (work(&board), keys(&board));
    let same = board.family().clone();
    board.open(same, "Open").unwrap();
    assert_eq!((work(&board), keys(&board)), (first, before.clone()));
    let other = Family {
        profiles: vec![arch(1000)],
        ..Family::default()
    };
    board.open(other, "Open").unwrap();
    assert!(work(&board) != first && !before.contains(&keys(&board)[0]));
    let second = work(&board);
    board.undo();
    assert_eq!((work(&board), keys(&board)), (first, before));
    board.redo();
    assert_eq!(work(&board), second);
}
