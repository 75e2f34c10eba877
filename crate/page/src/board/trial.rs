//! Changes on trial: shown and judged, but not yet a step of the history.
//!
//! While one is tried, board and table show the family after it. Keeping it is
//! one step; dropping it leaves all as it was.

use super::{Board, BoardError, Changes};
use loftkin_editor::edit::joints;
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Family;
use loftkin_kernel::profile::Node;
use loftkin_kernel::verdict::Remedy;
use loftkin_mend::Request;
use loftkin_work::{is_as_asked, same_drawing};
use nalgebra::Point2;

/// What is on trial.
#[derive(Clone, Debug)]
pub struct Preview {
    /// What is tried.
    pub tried: Tried,
    /// The family as it was.
    pub before: Family,
}

/// A change on trial.
#[derive(Clone, Debug)]
pub enum Tried {
    /// A change that costs nothing.
    Remedy(Remedy),
    /// Whatever a mend came to.
    Mend(Ghost),
}

/// A family that a mend offers, with what the board shows of it.
#[derive(Clone, Debug)]
pub struct Ghost {
    /// What the step of the history would be called.
    pub step: String,
    /// Whether all that was asked for is proved of it.
    pub proved: bool,
    /// The profiles that change, as they were.
    pub drawn: Vec<(usize, Option<Curve>)>,
    /// The nodes and joints that moved.
    pub shifts: Vec<Shift>,
}

/// A node or joint that moved, in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shift {
    /// Its profile, from 0.
    pub profile: usize,
    /// Where it was.
    pub from: Point2<f64>,
    /// Where it would be.
    pub to: Point2<f64>,
}

/// A family that a mend offers.
#[derive(Clone, Debug)]
pub struct Offer {
    /// The family it was asked for.
    pub asked: Family,
    /// The family after it.
    pub mended: Family,
    /// What was asked.
    pub request: Request,
    /// Whether it claims to be all that was asked for.
    pub claims_proved: bool,
    /// What the step of the history would be called.
    pub step: String,
}

impl Board {
    /// What is on trial.
    pub fn preview(&self) -> Option<&Preview> {
        self.preview.as_ref()
    }

    /// The mend on trial.
    pub fn ghost(&self) -> Option<&Ghost> {
        match &self.preview.as_ref()?.tried {
            Tried::Mend(ghost) => Some(ghost),
            Tried::Remedy(_) => None,
        }
    }

    /// Tries a remedy.
    ///
    /// # Errors
    /// A remedy that does not fit the family.
    pub fn try_remedy(&mut self, remedy: Remedy) -> Result<(), BoardError> {
        self.let_go();
        let before = self.family().clone();
        self.document.replace_all(remedy.made_in(&before)?)?;
        self.begin_trial(Tried::Remedy(remedy), before);
        Ok(())
    }

    /// Tries what a mend offers, once it is judged anew.
    ///
    /// # Errors
    /// [`BoardError::Outdated`] when another drawing stands on the board by
    /// now, [`BoardError::NotProved`] when the offer is not what it claims;
    /// nothing is changed then.
    pub fn try_offer(&mut self, offer: Offer) -> Result<(), BoardError> {
        self.let_go();
        let before = self.family().clone();
        if !same_drawing(&offer.asked, &before) {
            return Err(BoardError::Outdated);
        }
        // Names may have been given since it was asked.
        let mut mended = offer.mended;
        mended.name.clone_from(&before.name);
        for (profile, named) in mended.profiles.iter_mut().zip(&before.profiles) {
            profile.name.clone_from(&named.name);
        }
        let ghost = |proved| Ghost {
            step: offer.step,
            proved,
            drawn: changed(&before, &mended),
            shifts: shifts(&before, &mended),
        };
        self.document.replace_all(mended.clone())?;
        let table = self.document.table();
        let proved = table.is_some_and(|table| is_as_asked(table, &offer.request));
        if offer.claims_proved && !proved {
            self.document.revert();
            return Err(BoardError::NotProved);
        }
        let ghost = ghost(proved);
        self.begin_trial(Tried::Mend(ghost), before);
        Ok(())
    }

    fn begin_trial(&mut self, tried: Tried, before: Family) {
        self.preview = Some(Preview { tried, before });
        self.settle();
    }

    /// Keeps what is on trial: one step of the history.
    pub fn keep_trial(&mut self) {
        if let Some(preview) = self.preview.take() {
            self.document.record(&match preview.tried {
                Tried::Remedy(remedy) => step_name(remedy),
                Tried::Mend(ghost) => ghost.step,
            });
            self.settle();
        }
    }

    /// Ends the trial: all is as before.
    pub fn drop_trial(&mut self) {
        if self.preview.is_some() {
            self.let_go();
            self.changed(Changes::PAIR);
        }
    }
}

/// The profiles that differ, with their curves as they were.
fn changed(before: &Family, after: &Family) -> Vec<(usize, Option<Curve>)> {
    let pairs = before.profiles.iter().zip(&after.profiles).enumerate();
    pairs
        .filter(|(_, (old, new))| old.outline != new.outline)
        .map(|(index, (old, _))| (index, Curve::new(old, before.settings.pacing).ok()))
        .collect()
}

/// The nodes that stand elsewhere. A profile that was turned round or begins
/// elsewhere numbers its nodes anew: each is followed to where it stands then.
fn shifts(before: &Family, after: &Family) -> Vec<Shift> {
    let profiles = before.profiles.iter().zip(&after.profiles).enumerate();
    profiles
        .flat_map(|(profile, (old, new))| {
            let (from, to) = (joints(old), joints(new));
            let to = followed(&from, to, old.closed);
            let moved = from
                .into_iter()
                .zip(to)
                .filter(|(from, to)| from.at != to.at);
            moved.map(move |(from, to)| Shift {
                profile,
                from: in_mm(&from),
                to: in_mm(&to),
            })
        })
        .collect()
}

/// `to` in the order, either way round and for a closed profile from any node,
/// in which it lies nearest to `from` by the sum of squares.
fn followed(from: &[Node], mut to: Vec<Node>, closed: bool) -> Vec<Node> {
    let apart = |to: &[Node]| -> i64 {
        let steps = from.iter().zip(to).map(|(from, to)| {
            let right = i64::from(to.at.x - from.at.x);
            let up = i64::from(to.at.y - from.at.y);
            right * right + up * up
        });
        steps.sum()
    };
    let turns = if closed { to.len() } else { 1 };
    let mut nearest = (apart(&to), to.clone());
    for _ in 0..2 {
        for _ in 0..turns {
            let sum = apart(&to);
            if sum < nearest.0 {
                nearest = (sum, to.clone());
            }
            if closed {
                to.rotate_left(1);
            }
        }
        to.reverse();
    }
    nearest.1
}

fn in_mm(node: &Node) -> Point2<f64> {
    let (x, y) = node.at.to_mm();
    Point2::new(x, y)
}

fn step_name(remedy: Remedy) -> String {
    match remedy {
        Remedy::Reverse { profile } => format!("Reverse profile {}", profile + 1),
        Remedy::MoveSeam { profile, .. } => format!("Move the seam of profile {}", profile + 1),
        Remedy::SwapPacing => "Change the pacing".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::profile::Profile;
    use loftkin_kernel::verdict::Verdict;
    use loftkin_mend::Target;

    fn arch(rise: i32) -> Profile {
        let nodes = [(0, 0), (2000, rise), (4000, 0)];
        Profile::open(nodes.map(|(x, y)| Node::smooth(x, y)).to_vec())
    }

    fn family(second: Profile) -> Family {
        Family {
            profiles: vec![arch(1500), second],
            ..Family::default()
        }
    }

    fn offer(asked: Family, mended: Family) -> Offer {
        Offer {
            asked,
            mended,
            request: Request::new(Target::All),
            claims_proved: true,
            step: "Mend all pairs".to_owned(),
        }
    }

    fn verdict(board: &Board) -> Verdict {
        board.document().table().unwrap().cell(0, 1).verdict
    }

    #[test]
    fn an_offer_is_shown_kept_as_one_step_and_undone() {
        let before = family(arch(2500).reversed());
        let mut board = Board::new(before.clone()).unwrap();
        board
            .try_offer(offer(before.clone(), family(arch(2600))))
            .unwrap();
        assert_eq!(verdict(&board), Verdict::Clear);
        let ghost = board.ghost().unwrap();
        assert!(ghost.proved && ghost.drawn.len() == 1 && ghost.shifts.len() == 1);
        assert_eq!(*board.family_to_keep(), before);
        board.drop_trial();
        assert_eq!(*board.family(), before);
        assert_eq!(board.document().undo_step(), None);
        board
            .try_offer(offer(before.clone(), family(arch(2600))))
            .unwrap();
        board.keep_trial();
        assert_eq!(board.undo().as_deref(), Some("Mend all pairs"));
        assert_eq!(*board.family(), before);
    }

    #[test]
    fn an_offer_for_another_drawing_or_without_its_proof_changes_nothing() {
        let before = family(arch(2500).reversed());
        let mut board = Board::new(before.clone()).unwrap();
        let outdated = offer(family(arch(900)), family(arch(2600)));
        assert_eq!(board.try_offer(outdated), Err(BoardError::Outdated));
        let untrue = offer(before.clone(), family(arch(2700).reversed()));
        assert_eq!(board.try_offer(untrue), Err(BoardError::NotProved));
        assert!(board.preview().is_none());
        assert_eq!(*board.family(), before);
        assert_eq!(verdict(&board), Verdict::Faulty);
    }

    #[test]
    fn a_nearest_approach_is_shown_as_not_proved() {
        let before = family(arch(2500).reversed());
        let mut board = Board::new(before.clone()).unwrap();
        let nearest = Offer {
            claims_proved: false,
            ..offer(before, family(arch(2700).reversed()))
        };
        board.try_offer(nearest).unwrap();
        assert!(!board.ghost().unwrap().proved);
    }

    #[test]
    fn a_profile_that_is_turned_round_moves_no_node() {
        let (one, other) = (family(arch(2500).reversed()), family(arch(2500)));
        assert_eq!(shifts(&one, &other), []);
    }

    #[test]
    fn nodes_are_followed_through_a_new_seam() {
        let rim = |lift: i32| {
            let nodes = [(0, 0), (4000, 0), (4000, 3000), (0, 3000 + lift)];
            Profile::closed(nodes.map(|(x, y)| Node::smooth(x, y)).to_vec())
        };
        let before = family(rim(0));
        let after = family(rim(50).with_seam(2).unwrap().reversed());
        let moved = shifts(&before, &after);
        assert_eq!(moved.len(), 1);
        assert_eq!(
            (moved[0].from, moved[0].to),
            (Point2::new(0.0, 30.0), Point2::new(0.0, 30.5))
        );
    }
}
