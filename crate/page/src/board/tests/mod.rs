//! The board as a hand meets it: presses, moves and releases in pixels.

mod drawing;
mod hands;
mod order;
mod sheet;

use super::*;
use loftkin_editor::edit::{Mirror, joints};
use loftkin_kernel::profile::{Node, Profile};
use loftkin_kernel::verdict::{Remedy, Verdict};

fn arch(rise: i32) -> Profile {
    Profile::open(vec![
        Node::smooth(0, 0),
        Node::smooth(2000, rise),
        Node::smooth(4000, rise),
        Node::smooth(6000, 0),
    ])
}

fn board(profiles: Vec<Profile>) -> Board {
    let mut board = Board::new(Family {
        profiles,
        ..Family::default()
    })
    .unwrap();
    board.resize(600.0, 400.0);
    board.fit();
    board.take_changes();
    board
}

fn pointer(id: i32, x: f64, y: f64, time: f64) -> Pointer {
    Pointer {
        id,
        at: Point2::new(x, y),
        contact: Contact::Fine,
        beside: false,
        panning: false,
        time,
    }
}

/// The pointer at a place of the drawing, in mm.
fn over(board: &Board, x: f64, y: f64, time: f64) -> Pointer {
    let at = board.view().to_screen(Point2::new(x, y));
    pointer(1, at.x, at.y, time)
}

fn drag(board: &mut Board, from: (f64, f64), to: (f64, f64)) {
    let (from, to) = (
        over(board, from.0, from.1, 0.0),
        over(board, to.0, to.1, 50.0),
    );
    board.press(from).unwrap();
    board.steer(to).unwrap();
    board.release(to).unwrap();
}

fn click(board: &mut Board, x: f64, y: f64, time: f64) {
    let pointer = over(board, x, y, time);
    board.press(pointer).unwrap();
    board.release(pointer).unwrap();
}

#[test]
fn a_dragged_node_is_one_step_and_changes_verdicts_on_the_way() {
    let mut board = board(vec![arch(2000), arch(2600)]);
    let verdict = |board: &Board| board.document().table().unwrap().cell(0, 1).verdict;
    assert_eq!(verdict(&board), Verdict::Clear);
    let (from, to) = (
        over(&board, 20.0, 20.0, 0.0),
        over(&board, 75.0, 30.0, 10.0),
    );
    board.press(from).unwrap();
    board.steer(to).unwrap();
    assert!(board.is_dragging());
    assert_ne!(verdict(&board), Verdict::Clear);
    board.steer(from).unwrap();
    assert_eq!(verdict(&board), Verdict::Clear);
    board.steer(to).unwrap();
    board.release(to).unwrap();
    assert_eq!(
        board.document().undo_step(),
        Some("Move node 2 of profile 1")
    );
    board.undo();
    assert_eq!(board.family().profiles[0], arch(2000));
    assert_eq!(verdict(&board), Verdict::Clear);
    board.redo();
    assert_ne!(verdict(&board), Verdict::Clear);
}

#[test]
fn a_press_that_stays_still_moves_nothing() {
    let mut board = board(vec![arch(2000), arch(2600)]);
    click(&mut board, 20.0, 20.0, 0.0);
    assert_eq!(board.chosen().iter().collect::<Vec<_>>(), [&1]);
    assert_eq!(board.document().undo_step(), None);
    click(&mut board, 60.0, 60.0, 1000.0);
    assert!(board.chosen().is_empty());
}

#[test]
fn a_sketch_grows_by_presses_and_ends_on_its_last_node() {
    let mut board = board(Vec::new());
    assert_eq!(board.hand(), Hand::Place);
    for (time, (x, y)) in [(10.0, 10.0), (30.0, 40.0), (60.0, 40.0), (90.0, 10.0)]
        .into_iter()
        .enumerate()
    {
        click(&mut board, x, y, time as f64 * 1000.0);
    }
    assert!(board.family().profiles.is_empty());
    click(&mut board, 90.0, 10.0, 9000.0);
    assert!(board.sketch().is_none());
    let nodes = joints(&board.family().profiles[0]);
    assert_eq!(nodes.len(), 4);
    assert!(!board.family().profiles[0].closed);
    assert_eq!(board.document().undo_step(), Some("Sketch profile 1"));
}

#[test]
fn a_first_sketch_closes_on_its_first_node_and_later_ones_follow() {
    let mut board = board(Vec::new());
    for (x, y) in [(10.0, 10.0), (50.0, 60.0), (90.0, 10.0), (10.0, 10.0)] {
        click(&mut board, x, y, x);
    }
    assert!(board.family().profiles[0].closed);
    assert_eq!(board.family().profiles[0].node_count(), 3);
    board.set_hand(Hand::Place);
    for (x, y) in [(20.0, 20.0), (50.0, 50.0), (80.0, 20.0)] {
        click(&mut board, x, y, x);
    }
    board.end_sketch().unwrap();
    assert!(board.family().profiles[1].closed);
    assert_eq!(board.pair(), Some((0, 1)));
}

#[test]
fn a_short_sketch_stays_in_hand() {
    let mut board = board(Vec::new());
    click(&mut board, 10.0, 10.0, 0.0);
    assert_eq!(board.end_sketch(), Err(BoardError::SketchTooShort(2)));
    assert_eq!(board.sketch().unwrap().nodes.len(), 1);
    board.sketch_back();
    assert!(board.sketch().is_none());
}

#[test]
fn a_freehand_stroke_becomes_a_profile_and_says_how_true_it_is() {
    let mut board = board(Vec::new());
    board.set_hand(Hand::Stroke);
    let wave = |i: i32| {
        let x = f64::from(i) * 3.0;
        (20.0 + x, 200.0 + 60.0 * (x / 70.0).sin())
    };
    let (x, y) = wave(0);
    board.press(pointer(1, x, y, 0.0)).unwrap();
    for i in 1..150 {
        let (x, y) = wave(i);
        board.steer(pointer(1, x, y, 0.0)).unwrap();
    }
    let (x, y) = wave(149);
    let said = board.release(pointer(1, x, y, 0.0)).unwrap().unwrap();
    assert!(said.contains("nodes keep within"), "{said}");
    assert!(board.family().profiles[0].node_count() < 20);
}

#[test]
fn a_double_press_on_the_curve_inserts_a_node() {
    let mut board = board(vec![arch(2000), arch(2600)]);
    let curve = board.document().curve(0).unwrap();
    let middle = curve.point_mm(0.5);
    click(&mut board, middle.x, middle.y, 0.0);
    click(&mut board, middle.x, middle.y, 200.0);
    assert_eq!(board.family().profiles[0].node_count(), 5);
    assert_eq!(board.chosen().iter().collect::<Vec<_>>(), [&2]);
}

#[test]
fn a_press_on_another_profile_makes_it_active() {
    let mut board = board(vec![arch(2000), arch(2600)]);
    click(&mut board, 20.0, 26.0, 0.0);
    assert_eq!(board.active(), Some(1));
}

#[test]
fn two_fingers_zoom_about_their_middle_and_undo_the_drag() {
    let mut board = board(vec![arch(2000), arch(2600)]);
    let node = over(&board, 20.0, 20.0, 0.0);
    board.press(node).unwrap();
    board
        .steer(pointer(1, node.at.x + 20.0, node.at.y, 1.0))
        .unwrap();
    let scale = board.view().scale;
    board
        .press(pointer(2, node.at.x + 100.0, node.at.y, 2.0))
        .unwrap();
    assert_eq!(board.family().profiles[0], arch(2000));
    board
        .steer(pointer(2, node.at.x + 200.0, node.at.y, 3.0))
        .unwrap();
    assert!((board.view().scale / scale - 2.0).abs() < 1e-9);
    board
        .release(pointer(2, node.at.x + 200.0, node.at.y, 4.0))
        .unwrap();
    assert_eq!(board.document().undo_step(), None);
}

#[test]
fn dragging_the_empty_board_pans() {
    let mut board = board(vec![arch(2000), arch(2600)]);
    let before = board.view().centre;
    board.press(pointer(1, 5.0, 5.0, 0.0)).unwrap();
    board.steer(pointer(1, 45.0, 5.0, 0.0)).unwrap();
    board.release(pointer(1, 45.0, 5.0, 0.0)).unwrap();
    let moved = (before.x - board.view().centre.x) * board.view().scale;
    assert!((moved - 40.0).abs() < 1e-9);
}

#[test]
fn nudges_in_a_row_are_one_step() {
    let mut board = board(vec![arch(2000), arch(2600)]);
    assert_eq!(board.nudge(1, 0), Err(BoardError::NoNode));
    board.choose(2, false);
    for _ in 0..5 {
        board.nudge(10, -10).unwrap();
    }
    let at = joints(&board.family().profiles[0])[2].at;
    assert_eq!((at.x, at.y), (4050, 1950));
    board.undo();
    assert_eq!(board.family().profiles[0], arch(2000));
}

#[test]
fn snapping_keeps_to_the_visible_grid() {
    let mut board = board(vec![arch(2000), arch(2600)]);
    board.set_snapping(true);
    let step = (board.grid_step() * 100.0).round() as i32;
    drag(&mut board, (20.0, 20.0), (23.3, 17.7));
    let at = joints(&board.family().profiles[0])[1].at;
    assert_eq!((at.x % step, at.y % step), (0, 0));
    assert_ne!((at.x, at.y), (2000, 2000));
}

#[test]
fn a_remedy_on_trial_is_dropped_or_kept_as_one_step() {
    let mut board = board(vec![arch(2000), arch(2600).reversed()]);
    let verdict = |board: &Board| board.document().table().unwrap().cell(0, 1).verdict;
    assert_eq!(verdict(&board), Verdict::Faulty);
    let remedy = Remedy::Reverse { profile: 1 };
    board.try_remedy(remedy).unwrap();
    assert_eq!(verdict(&board), Verdict::Clear);
    assert_eq!(board.family_to_keep().profiles[1], arch(2600).reversed());
    board.drop_trial();
    assert_eq!(verdict(&board), Verdict::Faulty);
    assert_eq!(board.document().undo_step(), None);
    board.try_remedy(remedy).unwrap();
    board.keep_trial();
    assert_eq!(verdict(&board), Verdict::Clear);
    assert_eq!(board.document().undo_step(), Some("Reverse profile 2"));
    board.undo();
    assert_eq!(verdict(&board), Verdict::Faulty);
}

#[test]
fn deleting_profiles_keeps_the_choices_valid() {
    let mut board = board(vec![arch(2000), arch(2600), arch(3000)]);
    board.choose_pair(1, 2).unwrap();
    board.activate(2);
    board.choose(3, false);
    board.delete_profile().unwrap();
    assert_eq!(board.active(), Some(1));
    assert_eq!(board.pair(), Some((0, 1)));
    assert!(board.chosen().is_empty());
    board.delete_profile().unwrap();
    board.delete_profile().unwrap();
    assert_eq!((board.active(), board.pair()), (None, None));
    assert_eq!(board.delete_profile(), Err(BoardError::NoProfile));
    board.undo();
    assert_eq!(board.family().profiles.len(), 1);
}

#[test]
fn a_family_that_does_not_fit_leaves_the_board_alone() {
    let mut board = board(vec![arch(2000)]);
    let mut closed = arch(2000);
    closed.closed = true;
    assert!(board.add_profile(closed, "Add").is_err());
    assert_eq!(board.family().profiles, [arch(2000)]);
    assert_eq!(board.document().undo_step(), None);
}

#[test]
fn a_handle_of_an_exact_path_is_dragged_alone() {
    use loftkin_kernel::grid::GridPoint;
    use loftkin_kernel::profile::{Outline, PathSpan};
    let path = Profile {
        name: String::new(),
        closed: false,
        outline: Outline::Path {
            start: GridPoint::new(0, 0),
            spans: vec![PathSpan::Cubic {
                first: GridPoint::new(1000, 2000),
                second: GridPoint::new(3000, 2000),
                to: GridPoint::new(4000, 0),
            }],
        },
    };
    let mut board = board(vec![path]);
    // Not before its joint is chosen.
    drag(&mut board, (10.0, 20.0), (12.0, 30.0));
    assert_eq!(board.document().undo_step(), None);
    board.fit();
    click(&mut board, 0.0, 0.0, 5000.0);
    drag(&mut board, (10.0, 20.0), (12.0, 30.0));
    assert_eq!(
        board.document().undo_step(),
        Some("Move a handle of profile 1")
    );
    let Outline::Path { spans, start } = &board.family().profiles[0].outline else {
        panic!("still a path")
    };
    let PathSpan::Cubic { first, second, .. } = spans[0] else {
        panic!("still a cubic")
    };
    assert!((first.x - 1200).abs() <= 1 && (first.y - 3000).abs() <= 1);
    assert_eq!(
        (second, *start),
        (GridPoint::new(3000, 2000), GridPoint::new(0, 0))
    );
}

#[test]
fn undo_takes_back_what_is_unfinished_before_any_step() {
    let mut board = board(vec![arch(2000), arch(2600).reversed()]);
    board.activate(0);
    board.mirror(Mirror::Sideways).unwrap();
    let kept = board.family().clone();
    board.try_remedy(Remedy::Reverse { profile: 1 }).unwrap();
    assert_eq!(board.undo(), None);
    assert_eq!(*board.family(), kept);
    board.set_hand(Hand::Place);
    click(&mut board, 5.0, 5.0, 0.0);
    click(&mut board, 50.0, 5.0, 1000.0);
    assert_eq!(board.undo(), None);
    assert_eq!(board.sketch().unwrap().nodes.len(), 1);
    assert_eq!(board.undo(), None);
    assert_eq!(board.undo().as_deref(), Some("Mirror profile 1"));
}

#[test]
fn a_profile_without_nodes_harms_nothing() {
    let mut board = board(vec![Profile::open(Vec::new()), arch(2000)]);
    board.activate(0);
    board.choose_next(true, false);
    board.choose_next(false, false);
    assert!(board.chosen().is_empty());
    assert_eq!(board.nudge(1, 1), Err(BoardError::NoNode));
    board.reverse().unwrap();
    board.mirror(Mirror::Sideways).unwrap();
    board.fit();
    assert!(!crate::scene::scene(&board).is_empty());
    assert!(board.finding().is_some());
    board.delete_profile().unwrap();
    assert_eq!(board.family().profiles, [arch(2000)]);
}
