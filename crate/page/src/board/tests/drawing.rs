//! Steps on whole profiles: scaled by figures, copied and varied, added from elsewhere.

use super::*;
use loftkin_editor::edit::{About, Reshape};
use loftkin_kernel::family::MOST_PROFILES;
use nalgebra::Vector2;

fn ring() -> Profile {
    Profile::closed(vec![
        Node::smooth(0, 0),
        Node::smooth(1000, 0),
        Node::smooth(500, 800),
    ])
}

fn family_of(profiles: Vec<Profile>) -> Family {
    Family {
        profiles,
        ..Family::default()
    }
}

#[test]
fn typed_figures_reshape_the_active_profile_and_name_the_step() {
    let mut board = board(vec![arch(2000)]);
    let change = Reshape {
        about: About::Foot,
        scale: Vector2::new(0.5, 2.0),
        ..Reshape::NONE
    };
    board.reshape(&change).unwrap();
    assert_eq!(board.document().undo_step(), Some("Scale profile 1"));
    let nodes = joints(&board.family().profiles[0]);
    assert_eq!((nodes[1].at.x, nodes[1].at.y), (2500, 4000));
    let shift = Reshape {
        shift: Vector2::new(1.5, 0.0),
        ..Reshape::NONE
    };
    board.reshape(&shift).unwrap();
    assert_eq!(board.document().undo_step(), Some("Shift profile 1"));
    // What changes nothing is no step.
    board.reshape(&Reshape::NONE).unwrap();
    board.undo();
    board.undo();
    assert_eq!(board.family().profiles, [arch(2000)]);
}

#[test]
fn copies_change_step_by_step_and_are_one_step() {
    let mut board = board(vec![arch(2000)]);
    let copies = Copies {
        count: 3,
        change: Reshape {
            about: About::Foot,
            scale: Vector2::new(1.0, 2.0),
            shift: Vector2::new(5.0, 0.0),
            ..Reshape::NONE
        },
        wander: 0.0,
    };
    board.add_copies(&copies).unwrap();
    let tops = board.family().profiles.iter().map(|p| joints(p)[1].at);
    let tops: Vec<_> = tops.map(|at| (at.x, at.y)).collect();
    assert_eq!(
        tops,
        [(2000, 2000), (2500, 4000), (3000, 8000), (3500, 16_000)]
    );
    assert_eq!(
        board.document().undo_step(),
        Some("Copy and vary profile 1 3 times")
    );
    assert_eq!((board.active(), board.pair()), (Some(1), Some((0, 1))));
    board.undo();
    assert_eq!(board.family().profiles, [arch(2000)]);
    let none = Copies { count: 0, ..copies };
    assert_eq!(board.add_copies(&none), Err(BoardError::Copies(0)));
    let far = Copies {
        count: 40,
        ..copies
    };
    assert!(matches!(board.add_copies(&far), Err(BoardError::Edit(_))));
    assert_eq!(board.family().profiles, [arch(2000)]);
}

#[test]
fn wandering_copies_differ_from_each_other() {
    let mut board = board(vec![arch(2000)]);
    board
        .add_copies(&Copies {
            count: 2,
            change: Reshape::NONE,
            wander: 0.3,
        })
        .unwrap();
    let [first, second, third] = board.family().profiles.as_slice() else {
        panic!("three profiles")
    };
    assert!(first != second && second != third && first != third);
}

#[test]
fn profiles_of_another_family_are_added_as_one_step() {
    let mut board = board(vec![arch(2000)]);
    let other = family_of(vec![arch(2500), ring(), arch(3000)]);
    let added = board.add_profiles_from(&other, "Add from a file").unwrap();
    assert_eq!(added.count, 2);
    assert_eq!(
        added.notes,
        ["1 of its 3 profiles are closed: this family has open profiles only."]
    );
    assert_eq!(
        board.family().profiles,
        [arch(2000), arch(2500), arch(3000)]
    );
    assert_eq!(board.active(), Some(1));
    assert_eq!(board.document().undo_step(), Some("Add from a file"));
    board.undo();
    assert_eq!(board.family().profiles, [arch(2000)]);
}

#[test]
fn what_cannot_stand_in_the_family_changes_nothing() {
    let mut board = board(vec![arch(2000)]);
    for other in [family_of(vec![ring()]), Family::default()] {
        let refused = board.add_profiles_from(&other, "Add");
        assert!(matches!(refused, Err(BoardError::NothingAdded(_))));
    }
    assert_eq!(board.document().undo_step(), None);
    let many = family_of(vec![arch(2200); MOST_PROFILES]);
    let added = board.add_profiles_from(&many, "Add").unwrap();
    assert_eq!(added.count, MOST_PROFILES - 1);
    assert_eq!(added.notes.len(), 1);
    assert!(matches!(
        board.add_profiles_from(&many, "Add"),
        Err(BoardError::NothingAdded(_))
    ));
}

#[test]
fn an_empty_family_takes_the_kind_of_what_is_added_first() {
    let mut board = board(Vec::new());
    let other = family_of(vec![ring(), arch(2000)]);
    let added = board.add_profiles_from(&other, "Add").unwrap();
    assert_eq!((added.count, board.family().profiles[0].closed), (1, true));
}

#[test]
fn any_step_of_the_list_can_be_gone_to() {
    let mut board = board(vec![arch(2000)]);
    board.choose(1, false);
    board.put_node(1, 21.0, 20.0).unwrap();
    board.mirror(Mirror::Upright).unwrap();
    board.delete_nodes().unwrap();
    let steps: Vec<String> = board.document().steps().map(str::to_owned).collect();
    assert_eq!(
        steps,
        [
            "Put node 2 of profile 1",
            "Mirror top to bottom: profile 1",
            "Delete nodes of profile 1"
        ]
    );
    board.go_to_step(1);
    assert_eq!(board.document().steps_done(), 1);
    assert_eq!(joints(&board.family().profiles[0])[1].at.x, 2100);
    board.go_to_step(0);
    assert_eq!(board.family().profiles, [arch(2000)]);
    board.go_to_step(3);
    assert_eq!(board.family().profiles[0].node_count(), 3);
    board.go_to_step(9);
    assert_eq!(board.document().steps_done(), 3);
}
