//! What a judgement says.

use crate::statement::Statement;
use reckoning::Origin;
use resistance::{Mode, Source};
use serde::{Deserialize, Serialize};
use units::{Angle, Force};

/// What to do about a placement. Order: from least to most urgent.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Call {
    /// The evidence asks for no work now.
    Sound,
    /// Look again soon, or look closer.
    Watch,
    /// Small work now: tighten, clean.
    Tend,
    /// Replace.
    Renew,
    /// Do not use; warn.
    Shun,
}

impl Call {
    /// One word.
    pub const fn name(self) -> &'static str {
        match self {
            Call::Sound => "sound",
            Call::Watch => "watch",
            Call::Tend => "tend",
            Call::Renew => "renew",
            Call::Shun => "shun",
        }
    }

    /// What it asks for, in a few words.
    pub const fn meaning(self) -> &'static str {
        match self {
            Call::Sound => "the evidence asks for no work now",
            Call::Watch => "look again soon, or look closer",
            Call::Tend => "small work now: tighten, clean",
            Call::Renew => "replace; do not rely on it until then",
            Call::Shun => "do not use; warn",
        }
    }
}

/// Fractiles of an uncertain load.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Band {
    /// 5 % lie below.
    pub p05: Force,
    /// Half lie below.
    pub p50: Force,
    /// 95 % lie below.
    pub p95: Force,
}

/// A probability with the band that better evidence could move it in.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Chance {
    /// Best estimate.
    pub best: f64,
    /// If what is unknown turns out badly (10 % fractile).
    pub low: f64,
    /// If what is unknown turns out well (90 % fractile).
    pub high: f64,
}

/// One failure mode as it stands at the date of the judgement.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ModeView {
    /// Which mode.
    pub mode: Mode,
    /// Its resistance in the direction of the demand.
    pub band: Band,
    /// Probability that this mode is the weakest.
    pub governs: f64,
}

/// The load to be held.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct DemandView {
    /// Peak force of one loading.
    pub per_fall: Band,
    /// A typical hard fall (95 % fractile of one loading).
    pub hard_fall: Force,
    /// Greatest load of a year.
    pub worst_year: Band,
    /// Loadings a year, best estimate.
    pub falls_per_year: f64,
    /// Direction of the pull from the rock's normal.
    pub direction: Angle,
}

/// Years until the chance to hold a hard fall sinks below the policy's threshold. Zero = already
/// below; `None` = beyond the horizon looked at.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct YearsLeft {
    /// Best estimate.
    pub best: Option<f64>,
    /// If what is unknown turns out badly.
    pub low: Option<f64>,
    /// If what is unknown turns out well.
    pub high: Option<f64>,
    /// How far ahead was looked, in years.
    pub horizon: f64,
}

/// Where a reason comes from, for icons and grouping.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ReasonKind {
    /// A sign that was seen.
    Sign,
    /// The kind or state of the hardware.
    Hardware,
    /// Rock, edges, neighbours.
    Rock,
    /// Corrosion or cracking.
    Decay,
    /// The load side.
    Demand,
    /// A test or survived load.
    Test,
    /// Something is not known.
    Unknown,
}

/// Why the judgement came out as it did.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// Group.
    pub kind: ReasonKind,
    /// What it says; [`Statement::text`] makes the sentence.
    pub statement: Statement,
    /// Factor on the median resistance (below 1 weakens); 1 where it acts otherwise. Reasons are
    /// ranked by the size of their effect.
    pub effect: f64,
    /// Where its input came from.
    pub origin: Origin,
}

/// Evidence that is missing, ranked by how much it would narrow the answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MissingEvidence {
    /// What is uncertain.
    pub source: Source,
    /// Share of the variance of ln(resistance) of the governing mode that it carries, 0..1.
    pub share: f64,
    /// What to do to find out, in one plain sentence.
    pub advice: &'static str,
}

/// The computed result for a placement at a date.
#[derive(Clone, Debug, PartialEq)]
pub struct Judgement {
    /// Modes, weakest median first.
    pub modes: Vec<ModeView>,
    /// The mode most likely to govern.
    pub governing: Mode,
    /// Overall resistance in the direction of the demand.
    pub resistance: Band,
    /// 5 % fractile of the resistance at 75 % confidence.
    pub characteristic: Force,
    /// The load to be held.
    pub demand: DemandView,
    /// Chance that it holds a typical hard fall.
    pub holds_hard_fall: Chance,
    /// Chance that it holds a year of use.
    pub holds_year: Chance,
    /// Years until the threshold.
    pub years_left: YearsLeft,
    /// What to do.
    pub call: Call,
    /// Why, strongest first.
    pub reasons: Vec<Reason>,
    /// What is missing, most useful first.
    pub missing: Vec<MissingEvidence>,
}
