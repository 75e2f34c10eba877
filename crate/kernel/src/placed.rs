//! Judging curves that stand otherwise than drawn.
//!
//! A table judges profiles as they are drawn. A profile that is turned at its
//! station, or scaled and shifted in a ring, is another curve; it is judged here
//! by the control points that it has there.

use crate::curve::Curve;
use crate::family::Settings;
use crate::proof::any_blend::{Answer, any_blend};
use crate::proof::{Memory, Prepared, Ready, judge_pair, judge_profile};
use crate::verdict::{Doubt, Judgement};

/// Judges curves by given settings, outside a table.
pub struct Judge {
    settings: Settings,
    memory: Memory,
}

impl Judge {
    /// A judge by `settings`; its placement adds the question of the axis.
    pub fn new(settings: Settings) -> Self {
        Self {
            settings,
            memory: Memory::default(),
        }
    }

    /// `curve` made ready for the proof.
    pub fn prepare(&self, curve: Curve) -> Prepared {
        Prepared::of(curve, self.settings.placement)
    }

    /// Judges one curve by itself.
    pub fn alone(&mut self, one: &Prepared) -> Judgement {
        match one.ready() {
            Ok(ready) => judge_profile(ready, &mut self.memory),
            Err(error) => Judgement::doubtful(Doubt::ProfileInvalid { profile: 0, error }),
        }
    }

    /// Judges two curves, each proved simple by [`Self::alone`]; doubts call
    /// them 0 and 1.
    pub fn pair(&mut self, first: &Prepared, second: &Prepared) -> Judgement {
        match (first.ready(), second.ready()) {
            (Ok(first), Ok(second)) => judge_pair(first, second, &self.settings, &mut self.memory),
            (Err(error), _) => Judgement::doubtful(Doubt::ProfileInvalid { profile: 0, error }),
            (_, Err(error)) => Judgement::doubtful(Doubt::ProfileInvalid { profile: 1, error }),
        }
    }

    /// Whether it is proved that no blend of `members` folds or crosses itself;
    /// false is no proof that one does.
    pub fn proves_any_blend(&self, members: &[&Prepared]) -> bool {
        let ready: Option<Vec<&Ready>> = members.iter().map(|one| one.ready().ok()).collect();
        ready.is_some_and(|ready| any_blend(&ready).0 == Answer::Proved)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::curve::Stand;
    use crate::family::{Pacing, TenthsOfDegree};
    use crate::profile::{Node, Profile};
    use crate::verdict::{FaultKind, Verdict};

    fn turned(judge: &Judge, degrees: f64) -> Prepared {
        let nodes = (0..12)
            .map(|k| {
                let angle = (30.0 * f64::from(k)).to_radians();
                let at = |value: f64| libm::round(10_000.0 * value) as i32;
                Node::smooth(at(libm::cos(angle)), at(libm::sin(angle)))
            })
            .collect();
        let drawn = Curve::new(&Profile::closed(nodes), Pacing::Parameter).unwrap();
        let angle = degrees.to_radians();
        judge.prepare(drawn.placed(&Stand {
            turn: (libm::cos(angle), libm::sin(angle)),
            ..Stand::DRAWN
        }))
    }

    fn judge() -> Judge {
        Judge::new(Settings {
            twist_limit: TenthsOfDegree(1799),
            ..Settings::default()
        })
    }

    #[test]
    fn turned_circles_are_judged_as_they_stand() {
        let mut judge = judge();
        let drawn = turned(&judge, 0.0);
        for degrees in [30.0, 90.0, 170.0] {
            let other = turned(&judge, degrees);
            assert_eq!(judge.alone(&other).verdict, Verdict::Clear);
            assert_eq!(judge.pair(&drawn, &other).verdict, Verdict::Clear);
        }
        // A half turn by rounded sines is a half turn nearly: never clear.
        let half = turned(&judge, 180.0);
        assert_ne!(judge.pair(&drawn, &half).verdict, Verdict::Clear);
    }

    /// Such a curve has no direction and no extent that could be compared.
    #[test]
    fn what_a_placement_destroys_is_never_clear() {
        let mut judge = judge();
        let whole = turned(&judge, 0.0);
        for scale in [0.0, 1e-300, 1e300, f64::INFINITY, f64::NAN] {
            let stand = Stand {
                scale,
                ..Stand::DRAWN
            };
            let destroyed = judge.prepare(whole.curve().unwrap().placed(&stand));
            assert!(!judge.alone(&destroyed).is_clear(), "{scale}");
            assert!(!judge.pair(&whole, &destroyed).is_clear(), "{scale}");
            assert!(!judge.proves_any_blend(&[&whole, &destroyed]), "{scale}");
        }
    }

    /// The ends of the one are a joint, those of the other are not: there is no
    /// loft to speak of, and the joint must not excuse the open ends.
    #[test]
    fn an_open_curve_is_not_closed_by_its_partner() {
        let mut judge = judge();
        let round = turned(&judge, 0.0);
        let nodes = (0..12).map(|k| {
            let angle = (29.0 * f64::from(k)).to_radians();
            let at = |value: f64| libm::round(9000.0 * value) as i32;
            Node::smooth(at(libm::cos(angle)), at(libm::sin(angle)))
        });
        let arc = Curve::new(&Profile::open(nodes.collect()), Pacing::Parameter).unwrap();
        let arc = judge.prepare(arc);
        assert_eq!(judge.alone(&arc).verdict, Verdict::Clear);
        assert!(!judge.pair(&round, &arc).is_clear());
        assert!(!judge.pair(&arc, &round).is_clear());
        assert!(!judge.proves_any_blend(&[&round, &arc]));
    }

    #[test]
    fn thirds_of_a_turn_blend_by_two_only() {
        let judge = judge();
        let thirds = [0.0, 120.0, 240.0].map(|degrees| turned(&judge, degrees));
        assert!(judge.proves_any_blend(&[&thirds[0], &thirds[1]]));
        assert!(!judge.proves_any_blend(&[&thirds[0], &thirds[1], &thirds[2]]));
    }

    #[test]
    fn the_axis_is_asked_of_the_curve_as_it_stands() {
        let mut judge = Judge::new(Settings {
            placement: crate::family::Placement::Ring,
            ..Settings::default()
        });
        let drawn = turned(&judge, 0.0);
        let worst = judge.alone(&drawn).worst().map(|fault| fault.kind);
        assert_eq!(worst, Some(FaultKind::Axis));
        let curve = drawn.curve().unwrap().placed(&Stand {
            shift: nalgebra::Vector2::new(150.0, 0.0),
            ..Stand::DRAWN
        });
        let shifted = judge.prepare(curve);
        assert_eq!(judge.alone(&shifted).verdict, Verdict::Clear);
    }
}
