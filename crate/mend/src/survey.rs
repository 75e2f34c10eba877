//! What there is to see at one setting: the rows of all that is in play, how far
//! it falls short, and whether the table proves it to be as asked.

use crate::field::Field;
use crate::freedom::Freedom;
use crate::holds;
use crate::remembered::{Remembered, places};
use crate::request::Request;
use crate::response::Response;
use crate::rows::{PairRows, Wish, rows_of};
use crate::scope::{InPlay, Pair};
use crate::together::mean_angles;
use crate::unwrap::Turns;
use crate::wishes::Row;
use loftkin_kernel::curve::Curve;
use loftkin_kernel::grid::STEPS_PER_MM;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::{AnyBlend, Verdict};
use std::collections::BTreeMap;

/// What rounding to the grid may cost, grid steps: a node moves by at most
/// 0.71, and control points of a spline by little more.
const ROUNDING: f64 = 0.7;
/// How clear pairs are kept that are to be no more than clear, grid steps.
const JUST_CLEAR: f64 = 1.0;
/// A pair with no more than this shortfall, in grid steps, ought to be clear.
const ALL_BUT: f64 = 0.5;

/// What is asked of a survey.
#[derive(Clone)]
pub struct Task {
    /// What to look after.
    pub in_play: Vec<InPlay>,
    /// The profiles that move.
    pub active: Vec<usize>,
    /// The mean angle of every profile with its whole turns, when any blend is
    /// to be free.
    pub together: Option<Vec<f64>>,
    /// Whether profiles may meet themselves on the way.
    pub may_meet: bool,
    /// Siblings that profiles which meet themselves are to run like.
    pub guides: BTreeMap<usize, Curve>,
}

/// A setting that the table proved to be as asked.
#[derive(Clone)]
pub struct Proved {
    /// The setting.
    pub setting: Vec<f64>,
    /// Its cost, steps squared.
    pub cost: f64,
    /// The least margin of the target pairs in mm, when asked for.
    pub margin: Option<f64>,
}

/// What there is to see at one setting.
pub struct Look {
    /// The setting.
    pub setting: Vec<f64>,
    /// The rows there.
    pub rows: Vec<Row>,
    /// Its cost, steps squared.
    pub cost: f64,
    /// The sum of the shortfalls of all that is in play, grid steps.
    pub shortfall: f64,
    /// The setting as a mend, if it is one.
    pub proved: Option<Proved>,
}

/// Looks at settings one after another and remembers what went wrong where.
pub struct Survey<'a> {
    freedom: &'a Freedom,
    request: &'a Request,
    task: Task,
    table: Table,
    drawn: Vec<Option<Curve>>,
    /// Profiles that stay.
    idle: BTreeMap<usize, Response>,
    remembered: Remembered,
}

impl<'a> Survey<'a> {
    /// Prepares to look at `table` as it changes.
    pub fn new(freedom: &'a Freedom, request: &'a Request, table: Table, task: Task) -> Self {
        let pacing = freedom.drawn.settings.pacing;
        let profiles = freedom.drawn.profiles.iter();
        let drawn = profiles.map(|profile| Curve::new(profile, pacing).ok());
        let drawn = drawn.collect();
        let nothing = vec![0.0; freedom.knobs.len()];
        let mut idle = BTreeMap::new();
        for play in &task.in_play {
            for index in [play.pair.0, play.pair.1] {
                if !task.active.contains(&index)
                    && let Ok(response) = Response::new(freedom, index, &nothing, pacing)
                {
                    idle.insert(index, response);
                }
            }
        }
        Self {
            freedom,
            request,
            task,
            table,
            drawn,
            idle,
            remembered: Remembered::default(),
        }
    }

    /// The size of the largest profile that moves, grid steps.
    pub fn largest(&self) -> f64 {
        let active = self.task.active.iter();
        active
            .filter_map(|&index| self.drawn[index].as_ref())
            .map(Curve::size)
            .fold(1.0, f64::max)
    }

    /// How many targets were not as asked at the setting looked at last.
    pub fn open_targets(&self) -> usize {
        let targets = self.task.in_play.iter().filter(|play| play.is_target);
        targets.filter(|play| !self.is_clear(play.pair)).count()
    }

    /// Puts the profiles at `setting` and sees what that comes to; none when a
    /// profile is not fit to be judged there. Places less than `band` clearer
    /// than wished become rows as well.
    pub fn look(&mut self, setting: Vec<f64>, band: f64) -> Option<Look> {
        if !self.place(&setting) {
            return None;
        }
        let responses = self.responses(&setting)?;
        let blend = self.blend();
        let suspected = self.suspected(blend.as_ref());
        let (mut rows, mut shortfall) = (Vec::new(), 0.0);
        for at in 0..self.task.in_play.len() {
            let play = self.task.in_play[at];
            let Some(found) = self.rows_of_pair(play, &responses, &suspected, band) else {
                continue;
            };
            rows.extend(found.rows);
            shortfall += found.shortfall;
            self.remembered.note(play.pair, found.noted);
        }
        let placement = self.freedom.drawn.settings.placement;
        for (&index, response) in &responses {
            let drawn = self.drawn[index].as_ref()?;
            let range = self.freedom.ranges[index].clone();
            let (more, short) =
                holds::rows_of(response, drawn, range, self.request, placement, band);
            rows.extend(more);
            shortfall += short;
        }
        let all_blends = blend.is_none_or(|blend| blend == AnyBlend::Proved);
        let proved = if all_blends {
            self.proved(&setting)
        } else {
            None
        };
        Some(Look {
            cost: self.freedom.cost(&setting),
            setting,
            rows,
            shortfall,
            proved,
        })
    }

    /// The mend that `setting` is, if the table proves it to be one.
    pub fn proved_at(&mut self, setting: &[f64]) -> Option<Proved> {
        if !self.place(setting) {
            return None;
        }
        let asks_blend = self.task.together.is_some();
        if asks_blend && self.blend() != Some(AnyBlend::Proved) {
            return None;
        }
        self.proved(setting)
    }

    fn responses(&self, setting: &[f64]) -> Option<BTreeMap<usize, Response>> {
        let pacing = self.freedom.drawn.settings.pacing;
        let active = self.task.active.iter();
        active
            .map(|&index| {
                let response = Response::new(self.freedom, index, setting, pacing);
                response.ok().map(|response| (index, response))
            })
            .collect()
    }

    /// Puts the profiles that move at `setting`; false when one is not fit to be
    /// judged there.
    fn place(&mut self, setting: &[f64]) -> bool {
        for at in 0..self.task.active.len() {
            let index = self.task.active[at];
            let profile = self.freedom.profile(index, setting);
            if self.table.family().profiles[index] != profile
                && self.table.replace_profile(index, profile).is_err()
            {
                return false;
            }
            let is_valid = self.table.prepared(index).curve().is_ok();
            if !is_valid || (!self.task.may_meet && !self.table.cell(index, index).is_simple()) {
                self.suspect(index);
                return false;
            }
        }
        true
    }

    /// What is known of any blend, where it is asked for and all pairs allow it.
    fn blend(&self) -> Option<AnyBlend> {
        self.task.together.as_ref()?;
        let mut in_play = self.task.in_play.iter();
        in_play
            .all(|play| self.is_clear(play.pair))
            .then(|| self.table.any_blend())
    }

    /// The pairs that are clear but have a part in a blend that is not proved
    /// free; its place is noted for them.
    fn suspected(&mut self, blend: Option<&AnyBlend>) -> Vec<Pair> {
        let all = || (0..self.table.size()).collect();
        let (profiles, places): (Vec<usize>, _) = match blend {
            Some(AnyBlend::Refuted(bad)) => (bad.profiles.clone(), [bad.along, bad.other_along]),
            Some(AnyBlend::Unproven { along, other_along }) => (all(), [*along, *other_along]),
            _ => return Vec::new(),
        };
        let pairs = self.task.in_play.iter().map(|play| play.pair);
        let suspected: Vec<Pair> = pairs
            .filter(|(low, high)| profiles.contains(low) && profiles.contains(high))
            .collect();
        for pair in &suspected {
            self.remembered.witness(*pair, places);
        }
        suspected
    }

    fn rows_of_pair(
        &mut self,
        play: InPlay,
        responses: &BTreeMap<usize, Response>,
        suspected: &[Pair],
        band: f64,
    ) -> Option<PairRows> {
        let (low, high) = play.pair;
        let cell = *self.table.cell(low, high);
        self.remembered.witness(play.pair, places(&cell));
        let find = |index: usize| responses.get(&index).or_else(|| self.idle.get(&index));
        let (one, other) = (find(low)?, find(high)?);
        let extra = self.remembered.witnesses(play.pair);
        let mut ranges = [low, high].map(|index| self.freedom.ranges[index].clone());
        let is_clear = cell.verdict == Verdict::Clear;
        let field = if low == high {
            // Both sides are the same knobs: they are counted once.
            ranges[1] = 0..0;
            Field::alone(one, self.task.guides.get(&low), extra)
        } else {
            Field::new([one, other], extra, self.turns(play.pair, is_clear))
        };
        let wish = self.wish(play, band);
        let noted = self.remembered.noted(play.pair);
        let found = rows_of(&field, ranges, &wish, noted);
        let is_doubted = !is_clear || suspected.contains(&play.pair);
        let is_undecided = cell.verdict == Verdict::Unproven;
        if is_doubted && (found.shortfall < ALL_BUT || is_undecided) {
            self.remembered.raise(play.pair);
        }
        Some(found)
    }

    fn turns(&self, (low, high): Pair, is_clear: bool) -> Turns {
        let about = self
            .task
            .together
            .as_ref()
            .map(|angles| angles[high] - angles[low]);
        match (about, is_clear) {
            (None, true) => Turns::None,
            (None, false) => Turns::Followed(0.0),
            (Some(about), true) => Turns::Same(about),
            (Some(about), false) => Turns::Followed(about),
        }
    }

    fn is_clear(&self, (low, high): Pair) -> bool {
        self.table.cell(low, high).verdict == Verdict::Clear
    }

    /// Notes where profile `index` meets itself, for all its pairs in play.
    fn suspect(&mut self, index: usize) {
        let ends = places(self.table.cell(index, index));
        for at in 0..self.task.in_play.len() {
            let pair = self.task.in_play[at].pair;
            if pair.0 == index || pair.1 == index {
                self.remembered.witness(pair, ends.iter().copied());
            }
        }
    }

    fn wish(&self, play: InPlay, band: f64) -> Wish {
        let settings = self.freedom.drawn.settings;
        let asked = self.request.margin_mm * STEPS_PER_MM;
        let raised = self.remembered.raised(play.pair);
        let least = if play.is_target {
            JUST_CLEAR.max(asked + ROUNDING)
        } else {
            JUST_CLEAR
        };
        Wish {
            clearance: least * raised,
            band,
            twist: settings.twist_limit.degrees().to_radians(),
            crease: settings.crease_limit.degrees().to_radians(),
            angle_slack: ROUNDING * raised,
        }
    }

    /// The setting as a proved mend, if the table says that it is one.
    fn proved(&mut self, setting: &[f64]) -> Option<Proved> {
        let mut in_play = self.task.in_play.iter();
        let all_clear = in_play.all(|play| self.is_clear(play.pair));
        if !all_clear || !self.task.active.iter().all(|&index| self.is_kept(index)) {
            return None;
        }
        Some(Proved {
            cost: self.freedom.cost(setting),
            margin: self.proved_margin()?,
            setting: setting.to_vec(),
        })
    }

    /// Whether profile `index` keeps by itself what was asked of it.
    fn is_kept(&self, index: usize) -> bool {
        match (self.table.prepared(index).curve(), &self.drawn[index]) {
            (Ok(curve), Some(drawn)) => holds::keeps(curve, drawn, self.request),
            _ => false,
        }
    }

    /// The least margin of the targets, where one is asked for, up to what is
    /// asked; none at all when it is too small.
    fn proved_margin(&mut self) -> Option<Option<f64>> {
        let asked = self.request.margin_mm;
        if asked <= 0.0 {
            return Some(None);
        }
        let mut least = f64::INFINITY;
        let mut enough = true;
        for play in self.task.in_play.iter().filter(|play| play.is_target) {
            let (low, high) = play.pair;
            let margin = self.table.margin_up_to(low, high, asked).unwrap_or(0.0);
            if margin < asked {
                enough = false;
                self.remembered.raise_to(play.pair, asked / margin);
            }
            least = least.min(margin);
        }
        enough.then_some(Some(least))
    }
}

/// The mean angles of all profiles of `freedom` at `setting`; none when one is
/// not valid there.
pub fn angles_together(freedom: &Freedom, setting: &[f64]) -> Option<Vec<f64>> {
    let pacing = freedom.drawn.settings.pacing;
    let responses =
        (0..freedom.ranges.len()).map(|index| Response::new(freedom, index, setting, pacing).ok());
    let responses: Vec<Response> = responses.collect::<Option<_>>()?;
    Some(mean_angles(&responses.iter().collect::<Vec<_>>()))
}
