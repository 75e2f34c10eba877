//! The hands that choose by a frame, scale by grips, drag the seam, and move the picture.

use super::*;
use loftkin_editor::grip::Grip;
use loftkin_editor::hit::seam_mark;
use loftkin_kernel::grid::GridPoint;

fn square() -> Profile {
    Profile::closed(vec![
        Node::corner(0, 0),
        Node::corner(4000, 0),
        Node::corner(4000, 4000),
        Node::corner(0, 4000),
    ])
}

fn chosen(board: &Board) -> Vec<usize> {
    board.chosen().iter().copied().collect()
}

/// Drags from one place of the screen to another.
fn pull(board: &mut Board, from: Point2<f64>, to: Point2<f64>, beside: bool) {
    let at = |place: Point2<f64>, time| Pointer {
        beside,
        ..pointer(1, place.x, place.y, time)
    };
    board.press(at(from, 0.0)).unwrap();
    board.steer(at(nalgebra::center(&from, &to), 20.0)).unwrap();
    board.steer(at(to, 40.0)).unwrap();
    board.release(at(to, 60.0)).unwrap();
}

fn screen(board: &Board, x: f64, y: f64) -> Point2<f64> {
    board.view().to_screen(Point2::new(x, y))
}

#[test]
fn a_frame_chooses_the_nodes_in_it_and_shift_adds_others() {
    let mut board = board(vec![arch(2000), arch(2600)]);
    board.set_hand(Hand::Frame);
    let (from, to) = (screen(&board, 15.0, 25.0), screen(&board, 45.0, 15.0));
    pull(&mut board, from, to, false);
    assert_eq!(chosen(&board), [1, 2]);
    let (from, to) = (screen(&board, -5.0, -5.0), screen(&board, 5.0, 5.0));
    pull(&mut board, from, to, true);
    assert_eq!(chosen(&board), [0, 1, 2]);
    pull(&mut board, from, to, false);
    assert_eq!(chosen(&board), [0]);
    assert_eq!(board.document().undo_step(), None);
}

#[test]
fn a_frame_that_holds_only_nodes_of_another_profile_takes_that_one() {
    let mut board = board(vec![arch(2000), arch(2600)]);
    board.set_hand(Hand::Frame);
    let (from, to) = (screen(&board, 15.0, 28.0), screen(&board, 45.0, 24.0));
    pull(&mut board, from, to, false);
    assert_eq!((board.active(), chosen(&board)), (Some(1), vec![1, 2]));
}

#[test]
fn shift_draws_a_frame_in_the_moving_hand_too() {
    let mut board = board(vec![arch(2000), arch(2600)]);
    let (from, to) = (screen(&board, 4.0, 23.0), screen(&board, 48.0, 14.0));
    pull(&mut board, from, to, true);
    assert_eq!(chosen(&board), [1, 2]);
    assert_eq!(board.hand(), Hand::Move);
}

#[test]
fn touches_in_the_framing_hand_add_nodes_leave_them_out_and_drag_them_all() {
    let mut board = board(vec![arch(2000), arch(2600)]);
    board.set_hand(Hand::Frame);
    click(&mut board, 20.0, 20.0, 0.0);
    click(&mut board, 40.0, 20.0, 1000.0);
    assert_eq!(chosen(&board), [1, 2]);
    click(&mut board, 20.0, 20.0, 2000.0);
    assert_eq!(chosen(&board), [2]);
    click(&mut board, 20.0, 20.0, 3000.0);
    drag(&mut board, (40.0, 20.0), (41.0, 19.0));
    assert_eq!(
        board.document().undo_step(),
        Some("Move 2 nodes of profile 1")
    );
    let nodes = joints(&board.family().profiles[0]);
    assert_eq!(nodes[1].at, GridPoint::new(2100, 1900));
    assert_eq!(nodes[2].at, GridPoint::new(4100, 1900));
}

#[test]
fn a_press_on_one_of_several_chosen_nodes_chooses_it_alone() {
    let mut board = board(vec![arch(2000), arch(2600)]);
    board.choose_all();
    assert_eq!(chosen(&board), [0, 1, 2, 3]);
    click(&mut board, 20.0, 20.0, 0.0);
    assert_eq!(chosen(&board), [1]);
}

#[test]
fn a_grip_scales_about_the_opposite_end_or_the_middle_as_one_step() {
    let mut board = board(vec![square()]);
    board.set_hand(Hand::Scale);
    let bounds = board.scale_bounds().unwrap();
    let right = bounds.shown(board.view(), Grip { x: 1, y: 0 });
    let by = 10.0 * board.view().scale;
    let to = Point2::new(right.x + by, right.y);
    pull(&mut board, right, to, false);
    assert_eq!(board.document().undo_step(), Some("Scale profile 1"));
    let at = |board: &Board| {
        let nodes = joints(&board.family().profiles[0]).into_iter();
        nodes.map(|node| (node.at.x, node.at.y)).collect::<Vec<_>>()
    };
    assert_eq!(at(&board), [(0, 0), (5000, 0), (5000, 4000), (0, 4000)]);
    board.undo();
    board.set_about_middle(true);
    pull(&mut board, right, to, false);
    assert_eq!(
        at(&board),
        [(-1000, 0), (5000, 0), (5000, 4000), (-1000, 4000)]
    );
    board.undo();
    assert_eq!(board.family().profiles, [square()]);
    assert_eq!(board.document().undo_step(), None);
}

#[test]
fn shift_keeps_the_proportions_at_a_corner() {
    let mut board = board(vec![square()]);
    board.set_hand(Hand::Scale);
    let bounds = board.scale_bounds().unwrap();
    let corner = bounds.shown(board.view(), Grip { x: 1, y: 1 });
    let by = 20.0 * board.view().scale;
    pull(
        &mut board,
        corner,
        Point2::new(corner.x + by, corner.y),
        true,
    );
    let nodes = joints(&board.family().profiles[0]);
    assert_eq!(nodes[2].at.x, nodes[2].at.y);
    assert_eq!(nodes[2].at.x, 5000);
}

#[test]
fn the_inside_of_the_box_moves_the_profile_for_a_finger_too() {
    let mut board = board(vec![arch(2000), arch(2600)]);
    board.set_hand(Hand::Scale);
    let finger = |at: Point2<f64>, time| Pointer {
        contact: Contact::Finger,
        ..pointer(1, at.x, at.y, time)
    };
    let (from, to) = (screen(&board, 30.0, 8.0), screen(&board, 35.0, 8.0));
    board.press(finger(from, 0.0)).unwrap();
    board.steer(finger(to, 1.0)).unwrap();
    board.release(finger(to, 2.0)).unwrap();
    assert_eq!(board.document().undo_step(), Some("Move profile 1"));
    assert_eq!(joints(&board.family().profiles[0])[0].at.x, 500);
}

#[test]
fn the_seam_is_dragged_to_another_node_as_one_step_and_judged_on_the_way() {
    let mut board = board(vec![square(), square().named("twin")]);
    board.activate(0);
    let twist = |board: &Board| board.document().table().unwrap().cell(0, 1).verdict;
    let before = twist(&board);
    let curve = board.document().curve(0).unwrap();
    let [_, mark] = seam_mark(curve, board.view()).unwrap();
    let (there, back) = (screen(&board, 38.0, 41.0), screen(&board, 1.0, 1.0));
    let at = |place: Point2<f64>, time| pointer(1, place.x, place.y, time);
    board.press(at(mark, 0.0)).unwrap();
    board.steer(at(there, 1.0)).unwrap();
    assert!(board.is_dragging_seam());
    // Half a turn between like squares: every ruling goes through the middle.
    assert_ne!(twist(&board), before);
    board.steer(at(back, 2.0)).unwrap();
    assert_eq!(board.family().profiles[0], square());
    board.steer(at(there, 3.0)).unwrap();
    board.release(at(there, 4.0)).unwrap();
    assert_eq!(
        board.document().undo_step(),
        Some("Move the seam of profile 1")
    );
    let first = joints(&board.family().profiles[0])[0].at;
    assert_eq!(first, GridPoint::new(4000, 4000));
    board.undo();
    assert_eq!(board.family().profiles[0], square());
}

#[test]
fn an_open_profile_has_no_seam_to_drag() {
    let board = board(vec![arch(2000)]);
    let curve = board.document().curve(0).unwrap();
    assert!(seam_mark(curve, board.view()).is_none());
}

#[test]
fn the_picture_is_moved_and_pulled_and_is_no_step() {
    let mut board = board(vec![arch(2000)]);
    board.lay_reference(400.0, 200.0).unwrap();
    board.set_hand(Hand::Picture);
    let laid = *board.reference().unwrap();
    assert!((laid.bounds().middle() - board.view().centre).norm() < 1e-9);
    let middle = board.view().to_screen(laid.bounds().middle());
    pull(
        &mut board,
        middle,
        middle + nalgebra::Vector2::new(30.0, 0.0),
        false,
    );
    let moved = *board.reference().unwrap();
    assert!((moved.low.x - laid.low.x - 30.0 / board.view().scale).abs() < 1e-9);
    let corner = moved.bounds().shown(board.view(), Grip { x: 1, y: 1 });
    let half = nalgebra::Vector2::new(-moved.width, moved.width * moved.aspect) / 2.0;
    let to = corner + half * board.view().scale;
    pull(&mut board, corner, to, false);
    let pulled = *board.reference().unwrap();
    assert!((pulled.width - moved.width / 2.0).abs() < 1e-6);
    assert!((pulled.low - moved.low).norm() < 1e-9);
    assert_eq!(pulled.aspect, 0.5);
    assert_eq!(board.document().undo_step(), None);
    board.remove_reference();
    assert_eq!((board.reference(), board.hand()), (None, Hand::Move));
    assert_eq!(board.lay_reference(0.0, 10.0), Err(BoardError::Picture));
}

#[test]
fn two_fingers_on_the_picture_leave_it_where_it_was() {
    let mut board = board(vec![arch(2000)]);
    board.lay_reference(400.0, 200.0).unwrap();
    board.set_hand(Hand::Picture);
    let laid = *board.reference().unwrap();
    let at = board.view().to_screen(laid.bounds().middle());
    board.press(pointer(1, at.x, at.y, 0.0)).unwrap();
    board.steer(pointer(1, at.x + 40.0, at.y, 1.0)).unwrap();
    board.press(pointer(2, at.x + 100.0, at.y, 2.0)).unwrap();
    assert_eq!(board.reference(), Some(&laid));
}

#[test]
fn a_drag_that_makes_a_pair_faulty_shows_it_when_it_ends() {
    let mut board = board(vec![arch(1000), arch(2000), arch(3000)]);
    board.activate(2);
    assert_eq!(board.pair(), Some((0, 1)));
    let from = over(&board, 20.0, 30.0, 0.0);
    let to = over(&board, 50.0, 30.0, 50.0);
    board.press(from).unwrap();
    board.steer(to).unwrap();
    assert_eq!(board.pair(), Some((0, 1)), "not while it is dragged");
    board.release(to).unwrap();
    let (first, second) = board.pair().unwrap();
    assert_eq!((second, board.active()), (2, Some(2)));
    let table = board.document().table().unwrap();
    assert_eq!(table.cell(first, second).verdict, Verdict::Faulty);
}

#[test]
fn an_edit_shows_the_pair_it_makes_faulty_and_leaves_one_that_was_so_before() {
    let mut board = board(vec![arch(1000), arch(2000), arch(3000)]);
    board.activate(2);
    board.reverse().unwrap();
    assert_eq!(board.pair(), Some((0, 2)));
    board.choose_pair(0, 1).unwrap();
    board.activate(2);
    board.choose(1, false);
    board.nudge(1, 0).unwrap();
    assert_eq!(board.pair(), Some((0, 1)), "nothing new is faulty");
}

#[test]
fn a_drag_on_another_profile_chooses_it_and_moves_it_whole() {
    for hand in [Hand::Move, Hand::Scale] {
        let mut board = board(vec![arch(2000), arch(4000)]);
        board.set_hand(hand);
        board.choose(1, false);
        let centre = board.view().centre;
        // By its curve and, since its nodes are not shown, by a node alike.
        drag(&mut board, (20.0, 40.0), (22.0, 41.0));
        assert_eq!((board.active(), chosen(&board)), (Some(1), vec![]));
        assert_eq!(board.document().undo_step(), Some("Move profile 2"));
        let at: Vec<_> = joints(&board.family().profiles[1])
            .iter()
            .map(|node| (node.at.x, node.at.y))
            .collect();
        assert_eq!(at, [(200, 100), (2200, 4100), (4200, 4100), (6200, 100)]);
        assert_eq!(board.family().profiles[0], arch(2000));
        assert_eq!(board.view().centre, centre);
        board.undo();
        assert_eq!(board.family().profiles[1], arch(4000));
    }
}

#[test]
fn a_finger_on_another_profile_moves_what_is_seen_and_shift_draws_a_frame() {
    let mut board = board(vec![arch(2000), arch(4000)]);
    let (from, to) = (screen(&board, 21.0, 40.0), screen(&board, 15.0, 15.0));
    let finger = |at: Point2<f64>| Pointer {
        contact: Contact::Finger,
        ..pointer(1, at.x, at.y, 0.0)
    };
    let centre = board.view().centre;
    board.press(finger(from)).unwrap();
    board.steer(finger(to)).unwrap();
    board.release(finger(to)).unwrap();
    assert_ne!(board.view().centre, centre);
    board.fit();
    pull(&mut board, from, to, true);
    assert_eq!((board.active(), chosen(&board)), (Some(0), vec![1]));
    assert_eq!(board.document().undo_step(), None);
}

#[test]
fn what_is_panned_out_of_sight_is_said_to_be() {
    let mut board = board(vec![arch(2000), arch(2600)]);
    assert!(board.in_sight());
    board.pan(5000.0, 0.0);
    assert!(!board.in_sight());
    board.fit();
    assert!(board.in_sight());
    let mut empty = super::board(Vec::new());
    empty.pan(5000.0, 0.0);
    assert!(empty.in_sight(), "there is nothing to miss");
}
