//! Failure modes and how their uncertainty is kept apart by source.

use hardware::Fitting;
use rock::{RockStrength, Surroundings};
use serde::{Deserialize, Serialize};
use smallvec::SmallVec;
use units::{Angle, Force, Length};

/// A way to fail.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Mode {
    /// The bolt's steel (tension, shear, or both together).
    Steel,
    /// The hanger or eye.
    Hanger,
    /// A cone of rock breaks out.
    Cone,
    /// An expansion or compression bolt slips or pulls through.
    PullOut,
    /// The bond between rod, resin and rock gives way.
    Bond,
    /// Rock breaks out sideways to a free edge.
    EdgeBreakout,
    /// A short bolt levers rock out behind it.
    PryOut,
    /// Hardware that no formula covers (pitons, unknown kinds): experience with wide scatter.
    Experience,
}

/// What the uncertainty of a mode comes from. Variances of the logarithm are kept per source, so that
/// the judgement can say which missing evidence would narrow the answer most.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[repr(usize)]
pub enum Source {
    /// Strength of the rock (shared by all rock modes of the placement).
    RockStrength,
    /// Joints, hollowness.
    RockSoundness,
    /// Embedment not measured.
    Embedment,
    /// Distance to an edge or neighbour not measured.
    Surroundings,
    /// Diameter not measured.
    Diameter,
    /// Steel grade or alloy not known.
    Material,
    /// Kind not known.
    Kind,
    /// Resin or the state of the hole not known.
    Resin,
    /// Corrosion loss not measured.
    Loss,
    /// What a sign means.
    Sign,
    /// Direction of pull not known.
    Direction,
    /// The formula itself (cannot be narrowed by looking).
    Model,
    /// Product and setting scatter (cannot be narrowed by looking; a pull test can).
    Setting,
}

impl Source {
    /// Number of sources, for arrays indexed by `source as usize`.
    pub const COUNT: usize = 13;
    /// All, in index order.
    pub const ALL: [Source; Self::COUNT] = [
        Source::RockStrength,
        Source::RockSoundness,
        Source::Embedment,
        Source::Surroundings,
        Source::Diameter,
        Source::Material,
        Source::Kind,
        Source::Resin,
        Source::Loss,
        Source::Sign,
        Source::Direction,
        Source::Model,
        Source::Setting,
    ];
    /// True where looking, measuring or asking could narrow it; false for the scatter of products and
    /// formulas. Source: judgement.
    pub const fn can_be_narrowed(self) -> bool {
        !matches!(self, Source::Model | Source::Setting)
    }
}

/// Resistance of one mode against a load in a given direction: log-normal, with the variance of its
/// logarithm split by source. Of the rock's modes the weakest in tension and in shear stand combined
/// under the name of the one that is used more, see [`crate::modes`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ModeResistance {
    /// Which mode.
    pub mode: Mode,
    /// Median load it will hold in the direction asked for.
    pub median: Force,
    /// Variance of ln(resistance) by [`Source`].
    pub variance: [f64; Source::COUNT],
    /// Sensitivity d ln(R) / d ln(UCS), so that rock modes move together: 0 for steel, 0.5 for the cone,
    /// less where the cap on the strength is in reach. Root mean square over the scatter of the rock, so
    /// that the variance under [`Source::RockStrength`] is its square times that of ln(UCS).
    pub rock_exponent: f64,
    /// Power of the remaining steel area by which the median falls as steel is lost (0 rock, 1 tension
    /// and shear, 1.5 bending).
    pub section_exponent: f64,
}

impl ModeResistance {
    /// Standard deviation of ln(resistance) from all sources.
    pub fn sd_ln(&self) -> f64 {
        self.variance.iter().sum::<f64>().sqrt()
    }
}

/// The modes of one placement for one direction of pull. Never empty.
pub type ModeSet = SmallVec<[ModeResistance; 6]>;

/// All that the resistance models need to know.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Anchorage {
    /// The hardware.
    pub fitting: Fitting,
    /// The rock.
    pub rock: RockStrength,
    /// Edges and neighbours.
    pub surroundings: Surroundings,
    /// How far the hanger sits proud of the rock (lever arm e1); `None` = flush as far as is known.
    pub proud: Option<Length>,
    /// Direction of pull: 0 = straight out of the rock, 90 degrees = along the face.
    pub direction: Angle,
    /// Half-width of the direction if it is not known well (0 if known).
    pub direction_spread: Angle,
}
