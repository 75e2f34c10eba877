//! What a request is about: the pairs and profiles to be clear, what of them is
//! not yet so, what may move, and what must not become worse.

use crate::request::{Hindrance, Request, Target};
use loftkin_kernel::family::Family;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::{AnyBlend, BadBlend, Doubt, Verdict};

/// Lower and higher index of a pair; the same twice is a profile with itself.
pub type Pair = (usize, usize);

/// The targets of a request.
pub struct Scope {
    /// The pairs that are to be clear, each once, the lower index first.
    pub pairs: Vec<Pair>,
    /// The profiles that are to be clear themselves.
    pub profiles: Vec<usize>,
    /// Whether any blend of all profiles is to be free too.
    pub any_blend: bool,
    /// The margin that the pairs must have, in mm.
    pub margin_mm: f64,
}

/// What is not yet as asked.
pub struct Open {
    /// Pairs that are not clear, or by less than the margin.
    pub pairs: Vec<Pair>,
    /// Profiles that are not clear themselves.
    pub profiles: Vec<usize>,
    /// Any blend, where it is asked for and not proved.
    pub blend: Option<AnyBlend>,
}

/// A pair, or a profile with itself, to look after while nodes move.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct InPlay {
    /// Which.
    pub pair: Pair,
    /// Whether it is a target, to have the margin asked for.
    pub is_target: bool,
}

impl Scope {
    /// The targets of `request`.
    pub fn new(family: &Family, request: &Request) -> Self {
        let count = family.profiles.len();
        let all_pairs = || (0..count).flat_map(|high| (0..high).map(move |low| (low, high)));
        let mut pairs = match &request.target {
            Target::Pair(one, other) => vec![(*one, *other)],
            Target::Pairs(pairs) => pairs.clone(),
            Target::All | Target::AnyBlend => all_pairs().collect(),
        };
        for pair in &mut pairs {
            *pair = (pair.0.min(pair.1), pair.0.max(pair.1));
        }
        pairs.sort_unstable();
        pairs.dedup();
        let is_named = |index: &usize| match request.target {
            Target::All | Target::AnyBlend => true,
            _ => pairs
                .iter()
                .any(|pair| pair.0 == *index || pair.1 == *index),
        };
        Self {
            profiles: (0..count).filter(is_named).collect(),
            any_blend: request.target == Target::AnyBlend,
            margin_mm: request.margin_mm,
            pairs,
        }
    }

    /// What `table` does not show to be as asked.
    pub fn open(&self, table: &Table) -> Open {
        let is_open = |&(low, high): &Pair| {
            table.cell(low, high).verdict != Verdict::Clear || self.falls_short(table, (low, high))
        };
        let pairs: Vec<Pair> = self.pairs.iter().copied().filter(is_open).collect();
        let is_faulty = |&index: &usize| table.cell(index, index).verdict != Verdict::Clear;
        let profiles: Vec<usize> = self.profiles.iter().copied().filter(is_faulty).collect();
        let blend = self.any_blend.then(|| table.any_blend());
        Open {
            pairs,
            profiles,
            blend: blend.filter(|blend| *blend != AnyBlend::Proved),
        }
    }

    fn falls_short(&self, table: &Table, (low, high): Pair) -> bool {
        let margin = || table.margin_up_to(low, high, self.margin_mm);
        0.0 < self.margin_mm && margin().is_none_or(|mm| mm < self.margin_mm)
    }

    /// The profiles that move: those of what is open that may.
    pub fn active(&self, family: &Family, request: &Request, open: &Open) -> Vec<usize> {
        let has_part = |index: &usize| {
            let of_pair = |pair: &Pair| pair.0 == *index || pair.1 == *index;
            open.blend.is_some() || open.profiles.contains(index) || open.pairs.iter().any(of_pair)
        };
        (0..family.profiles.len())
            .filter(has_part)
            .filter(|index| request.may_move(*index))
            .collect()
    }

    /// What to look after: targets, and clear pairs of what moves.
    pub fn in_play(&self, table: &Table, open: &Open, active: &[usize]) -> Vec<InPlay> {
        let mut in_play: Vec<InPlay> = Vec::new();
        for high in 0..table.size() {
            for low in 0..=high {
                let pair = (low, high);
                let moves = active.contains(&low) || active.contains(&high);
                let is_target = if low == high {
                    open.profiles.contains(&low)
                } else {
                    self.pairs.contains(&pair)
                };
                let to_keep = low < high && table.cell(low, high).verdict == Verdict::Clear;
                if moves && (is_target || to_keep) {
                    in_play.push(InPlay { pair, is_target });
                }
            }
        }
        in_play
    }
}

impl Open {
    /// Whether all is as asked.
    pub fn is_empty(&self) -> bool {
        self.pairs.is_empty() && self.profiles.is_empty() && self.blend.is_none()
    }

    /// The blend that meets itself, if one is known.
    pub fn bad_blend(&self) -> Option<BadBlend> {
        match &self.blend {
            Some(AnyBlend::Refuted(bad)) => Some(bad.clone()),
            _ => None,
        }
    }

    /// What moving nodes cannot help against.
    pub fn hindrance(&self, table: &Table) -> Option<Hindrance> {
        let alone = self.profiles.iter().map(|&index| (index, index));
        self.pairs.iter().copied().chain(alone).find_map(|pair| {
            match table.cell(pair.0, pair.1).doubt {
                Some(Doubt::ProfileInvalid { profile, error }) => {
                    Some(Hindrance::ProfileInvalid { profile, error })
                }
                Some(Doubt::CountsDiffer { .. }) => Some(Hindrance::CountsDiffer { pair }),
                _ => None,
            }
        })
    }

    /// The profiles that meet themselves, or are not proved not to.
    pub fn meeting(&self, table: &Table) -> Vec<usize> {
        let meets = |&index: &usize| !table.cell(index, index).is_simple();
        self.profiles.iter().copied().filter(meets).collect()
    }
}
