//! Which missing evidence would narrow the answer most.

use crate::outcome::MissingEvidence;
use crate::standing::Standing;
use resistance::Source;

/// Sources that looking could narrow, ranked by the share of the variance of ln(resistance) that they
/// carry in the modes likely to govern (`governs`, adding to 1, in the standing's order). Shares below
/// 2 % are left out.
pub(crate) fn missing(standing: &Standing, governs: &[f64], loss_variance: f64) -> Vec<MissingEvidence> {
    let mut carried = [0.0; Source::COUNT];
    for (mode, weight) in standing.modes.iter().zip(governs) {
        for source in Source::ALL {
            carried[source as usize] += weight * mode.variance[source as usize];
        }
        let power = mode.section_exponent;
        carried[Source::Loss as usize] += weight * power * power * loss_variance;
    }
    let total: f64 = carried.iter().sum();
    if total <= 0.0 {
        return Vec::new();
    }
    let mut list: Vec<MissingEvidence> = Source::ALL
        .iter()
        .filter(|s| s.can_be_narrowed())
        .map(|s| MissingEvidence { source: *s, share: carried[*s as usize] / total, advice: advice(*s) })
        .filter(|m| m.share >= 0.02)
        .collect();
    list.sort_by(|a, b| b.share.total_cmp(&a.share).then(a.source.cmp(&b.source)));
    list
}

/// What to do to find out, in one plain sentence. Source: common practice, no source.
pub(crate) const fn advice(source: Source) -> &'static str {
    match source {
        Source::RockStrength => {
            "Take a rebound hammer reading or a hammer-and-knife field grade of the rock beside the bolt."
        }
        Source::RockSoundness => {
            "Tap the rock around the bolt: does it ring or sound hollow? Note joints and flakes."
        }
        Source::Embedment => {
            "Find out how deep it sits: records, maker's data for the length, or a removed sister."
        }
        Source::Surroundings => "Measure the distance to the nearest edge, crack and old bolt.",
        Source::Diameter => "Measure the diameter of the stud, sleeve or rod with a calliper.",
        Source::Material => "Look for marks, try a magnet, ask who set it: which steel is it?",
        Source::Kind => "Find out what kind of bolt it is: head, thread, sleeve or resin.",
        Source::Resin => {
            "Ask which resin was used and how the hole was cleaned; try the resin's edge with a nail."
        }
        Source::Loss => {
            "Measure the shank or thread with a calliper behind the hanger, or take one sister out."
        }
        Source::Sign => "Look at the sign again, closer: how far does it move, how deep is it?",
        Source::Direction => "Note how steep the rock is at the bolt.",
        Source::Model | Source::Setting => "A pull test of this bolt or of sister bolts.",
    }
}
