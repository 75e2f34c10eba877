//! Where the rounds begin besides the drawing: strewn about it, and drawn after one of the profiles.

use crate::chance::Chance;
use crate::freedom::Freedom;
use crate::modelled::modelled;
use crate::request::Request;
use crate::scope::InPlay;
use loftkin_kernel::curve::Curve;

/// How many beginnings there are besides the drawing.
const STREWN: usize = 6;
/// How far from the drawing, each way, as shares of the largest profile taken in
/// turn.
const SPREADS: [f64; 3] = [0.045, 0.08, 0.12];
/// The most models after which the profiles are drawn.
const MOST_MODELS: usize = 4;
/// Beyond this many pairs in play the drawing is the only beginning.
const MOST_STREWN: usize = 60;

/// Where nothing else leads to a mend: the `active` profiles drawn after one of
/// those in play that is not `meeting` itself, which is far from the drawing and a
/// mend or nearly one.
pub fn after_models(
    freedom: &Freedom,
    active: &[usize],
    in_play: &[InPlay],
    meeting: &[usize],
) -> Vec<Vec<f64>> {
    let is_model = |index: &usize| {
        let mut pairs = in_play.iter().map(|play| play.pair);
        !meeting.contains(index) && pairs.any(|(low, high)| low == *index || high == *index)
    };
    let drawn = &freedom.drawn;
    let models: Vec<usize> = (0..drawn.profiles.len()).filter(is_model).collect();
    modelled(drawn, active, &models)
        .iter()
        .take(MOST_MODELS)
        .map(|family| freedom.setting_of(family))
        .collect()
}

/// For small families settings strewn about `start`: what is linear there need
/// not lead to the least movement.
pub fn strewn(
    freedom: &Freedom,
    request: &Request,
    in_play: &[InPlay],
    start: &[f64],
) -> Vec<Vec<f64>> {
    let mut beginnings = Vec::new();
    if request.begin_at.is_some() || MOST_STREWN < in_play.len() {
        return beginnings;
    }
    let pacing = freedom.drawn.settings.pacing;
    let profiles = freedom.drawn.profiles.iter();
    let sizes =
        profiles.map(|profile| Curve::new(profile, pacing).map_or(0.0, |curve| curve.size()));
    let largest = sizes.fold(0.0, f64::max);
    let mut chance = Chance::new();
    for spread in SPREADS.into_iter().cycle().take(STREWN) {
        let spread = spread * largest;
        let strewn = start.iter().map(|z| z + spread * chance.either_way());
        beginnings.push(strewn.collect());
    }
    beginnings
}
