//! The sheet: grid, tolerance, keys for choosing and placing.

use super::*;

#[test]
fn nodes_keep_to_the_step_that_is_chosen() {
    let mut board = board(vec![arch(2000)]);
    board.choose_grid_step(Some(2.504)).unwrap();
    assert_eq!(board.grid_step(), 2.5);
    board.set_snapping(true);
    drag(&mut board, (20.0, 20.0), (23.3, 17.7));
    let at = joints(&board.family().profiles[0])[1].at;
    assert_eq!((at.x, at.y), (2250, 1750));
    // The whole profile goes by whole steps.
    let middle = board.document().curve(0).unwrap().point_mm(0.5);
    let before = joints(&board.family().profiles[0])[0].at;
    drag(
        &mut board,
        (middle.x, middle.y),
        (middle.x + 6.2, middle.y + 0.9),
    );
    let after = joints(&board.family().profiles[0])[0].at;
    assert_eq!((after.x - before.x, after.y - before.y), (500, 0));
    for step in [0.0, -1.0, f64::NAN, 1e9] {
        let refused = board.choose_grid_step(Some(step));
        assert!(matches!(refused, Err(BoardError::GridStep(_))));
    }
    assert_eq!(board.chosen_grid_step(), Some(2.5));
    board.choose_grid_step(None).unwrap();
    board.zoom(None, 10.0);
    let near = board.grid_step();
    board.zoom(None, 0.01);
    assert!(near < board.grid_step());
}

#[test]
fn the_tolerance_of_a_stroke_is_stated_and_kept() {
    let nodes_at = |tolerance: Option<f64>| {
        let mut board = board(Vec::new());
        board.choose_tolerance(tolerance).unwrap();
        board.set_hand(Hand::Stroke);
        let wave = |i: i32| {
            let x = f64::from(i) * 3.0;
            (20.0 + x, 200.0 + 60.0 * (x / 40.0).sin())
        };
        let (x, y) = wave(0);
        board.press(pointer(1, x, y, 0.0)).unwrap();
        for i in 1..150 {
            let (x, y) = wave(i);
            board.steer(pointer(1, x, y, 0.0)).unwrap();
        }
        let said = board.release(pointer(1, 467.0, 200.0, 0.0)).unwrap();
        (board.family().profiles[0].node_count(), said.unwrap())
    };
    let (few, said) = nodes_at(Some(5.0));
    assert!(said.ends_with("the tolerance is 5.00 mm."), "{said}");
    let (many, _) = nodes_at(Some(0.1));
    assert!(few < many, "{few} and {many}");
    let mut board = board(Vec::new());
    for tolerance in [0.0, -2.0, f64::NAN, 1e6] {
        let refused = board.choose_tolerance(Some(tolerance));
        assert!(matches!(refused, Err(BoardError::Tolerance(_))));
    }
}

#[test]
fn keys_choose_on_from_the_chosen_nodes() {
    let mut board = board(vec![arch(2000), arch(2600)]);
    let chosen = |board: &Board| board.chosen().iter().copied().collect::<Vec<_>>();
    board.choose_next(true, false);
    board.choose_next(true, true);
    assert_eq!(chosen(&board), [0, 1]);
    board.choose_next(false, false);
    assert_eq!(chosen(&board), [3]);
    board.choose_next(true, false);
    assert_eq!(chosen(&board), [0]);
    assert_eq!(board.middle_of_chosen(), Some(Point2::origin()));
    board.activate_next(false);
    assert_eq!((board.active(), board.middle_of_chosen()), (Some(1), None));
    board.activate_next(true);
    assert_eq!(board.active(), Some(0));
}

#[test]
fn a_profile_is_sketched_by_keys_alone() {
    let mut board = board(Vec::new());
    board.choose_grid_step(Some(10.0)).unwrap();
    let start = board.move_cursor(1.0, 0.0);
    assert_eq!(board.cursor(), Some(start));
    board.place_at_cursor().unwrap();
    board.move_cursor(2.0, 3.0);
    board.place_at_cursor().unwrap();
    board.move_cursor(2.0, -3.0);
    board.place_at_cursor().unwrap();
    // Once more on the last node: the end.
    board.place_at_cursor().unwrap();
    let nodes = joints(&board.family().profiles[0]);
    let at: Vec<_> = nodes.iter().map(|node| (node.at.x, node.at.y)).collect();
    assert_eq!(at.len(), 3);
    assert_eq!((at[1].0 - at[0].0, at[1].1 - at[0].1), (2000, 3000));
    assert_eq!((at[2].0 - at[1].0, at[2].1 - at[1].1), (2000, -3000));
    board.set_hand(Hand::Move);
    assert_eq!(board.cursor(), None);
}

#[test]
fn what_is_shown_can_be_chosen() {
    let mut board = board(vec![arch(2000), arch(2600), arch(3000)]);
    let count = |board: &Board| crate::scene::scene(board).len();
    let plain = count(&board);
    let looks = board.looks();
    board.set_looks(Looks {
        tangents: true,
        ..looks
    });
    // Four nodes, an arm on each side.
    assert_eq!(count(&board), plain + 8);
    board.set_looks(Looks {
        siblings: false,
        ..looks
    });
    // The third profile with its number goes; the chosen pair stays.
    assert_eq!(count(&board), plain - 2);
    board.set_looks(Looks {
        bend: true,
        ..looks
    });
    assert!(plain + 3 < count(&board));
}

#[test]
fn turning_to_another_hand_keeps_what_is_drawn_and_undo_brings_a_given_up_sketch_back() {
    let mut board = board(Vec::new());
    click(&mut board, 10.0, 10.0, 0.0);
    click(&mut board, 50.0, 40.0, 1000.0);
    assert_eq!(board.undo_step(), Some("Set a node"));
    board.set_hand(Hand::Move);
    assert_eq!(board.family().profiles[0].node_count(), 2);
    assert_eq!(board.undo_step(), Some("Sketch profile 1"));
    board.set_hand(Hand::Place);
    for (time, x) in [5.0, 35.0, 65.0].into_iter().enumerate() {
        click(&mut board, x, 60.0, time as f64 * 1000.0);
    }
    board.drop_sketch();
    assert_eq!(board.undo_step(), Some("Give a sketch up"));
    assert_eq!(board.undo(), None);
    assert_eq!(board.sketch().unwrap().nodes.len(), 3);
    board.drop_sketch();
    board.mirror(Mirror::Sideways).unwrap();
    assert_eq!(board.undo().as_deref(), Some("Mirror profile 1"));
    assert!(board.sketch().is_none());
}

#[test]
fn the_placing_hand_drags_a_node_of_what_was_just_drawn_and_places_on_a_tap() {
    let mut board = board(vec![arch(2000), arch(2600)]);
    board.set_hand(Hand::Place);
    let (own, other) = (over(&board, 20.0, 20.0, 0.0), over(&board, 20.0, 26.0, 0.0));
    board.steer(own).unwrap();
    assert!(board.hover().is_some());
    board.steer(other).unwrap();
    assert_eq!(board.hover(), None);
    drag(&mut board, (20.0, 20.0), (22.0, 21.0));
    assert_eq!(
        board.document().undo_step(),
        Some("Move node 2 of profile 1")
    );
    assert!(board.sketch().is_none());
    let node = joints(&board.family().profiles[0])[1].at;
    assert_eq!((node.x, node.y), (2200, 2100));
    click(&mut board, 40.0, 20.0, 5000.0);
    assert_eq!(board.sketch().unwrap().nodes.len(), 1);
    // With a sketch in hand a press on an old node is a node of the new profile.
    click(&mut board, 0.0, 0.0, 9000.0);
    assert_eq!(board.sketch().unwrap().nodes.len(), 2);
}

#[test]
fn a_node_is_a_target_of_24_pixels() {
    // Web Content Accessibility Guidelines 2.2, success criterion 2.5.8.
    let mut board = board(vec![arch(2000), arch(2600)]);
    let node = over(&board, 60.0, 0.0, 0.0);
    let beside = pointer(1, node.at.x + 11.5, node.at.y, 0.0);
    board.press(beside).unwrap();
    board.release(beside).unwrap();
    assert_eq!(board.chosen().iter().collect::<Vec<_>>(), [&3]);
}
