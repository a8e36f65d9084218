//! Signs: the things a person can see, hear or feel at a placement.

use serde::{Deserialize, Serialize};

/// A sign that an inspection looks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Sign {
    /// The bolt moves in its hole.
    MovesInHole,
    /// The hanger turns by hand.
    HangerTurns,
    /// The nut is loose.
    NutLoose,
    /// The stud turns with the nut and never tightens.
    StudTurns,
    /// More thread shows than a well-set bolt leaves.
    ThreadExcess,
    /// The hanger sits proud of the rock.
    Proud,
    /// The bolt is bent.
    Bent,
    /// A crack in bolt, hanger or weld.
    MetalCrack,
    /// Rust on the surface.
    Rust,
    /// Rust runs out of the hole.
    RustFromHole,
    /// Dents or flattening from rockfall or hammer.
    ImpactDamage,
    /// Rope or metal wear in the hanger or eye.
    Worn,
    /// Resin soft, tacky or streaky.
    ResinSoft,
    /// A gap between resin and rock, or the resin is cracked.
    ResinGap,
    /// A glue-in turns by hand.
    GlueInTurns,
    /// A crack in the rock through or beside the hole.
    RockCrack,
    /// The rock rings hollow.
    RockHollow,
    /// The rock around the hole is crushed or cratered.
    RockCrushed,
    /// Water seeps from the hole.
    Seepage,
    /// Bolt and hanger are of unlike metals.
    MixedMetals,
}

impl Sign {
    /// Number of signs.
    pub const COUNT: usize = 20;
    /// All, in index order.
    pub const ALL: [Sign; Self::COUNT] = [
        Sign::MovesInHole,
        Sign::HangerTurns,
        Sign::NutLoose,
        Sign::StudTurns,
        Sign::ThreadExcess,
        Sign::Proud,
        Sign::Bent,
        Sign::MetalCrack,
        Sign::Rust,
        Sign::RustFromHole,
        Sign::ImpactDamage,
        Sign::Worn,
        Sign::ResinSoft,
        Sign::ResinGap,
        Sign::GlueInTurns,
        Sign::RockCrack,
        Sign::RockHollow,
        Sign::RockCrushed,
        Sign::Seepage,
        Sign::MixedMetals,
    ];
}

impl Sign {
    /// False for damage that stays, so that a later look that missed it does not undo it. Source:
    /// common practice, no source.
    pub const fn heals(self) -> bool {
        !matches!(
            self,
            Self::MetalCrack
                | Self::Bent
                | Self::Worn
                | Self::ImpactDamage
                | Self::RustFromHole
                | Self::RockCrack
                | Self::RockHollow
                | Self::ResinSoft
                | Self::ResinGap
        )
    }
}

/// How far a sign goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum Extent {
    Slight,
    Marked,
    Severe,
}

impl Extent {
    /// All, from least to most.
    pub const ALL: [Extent; 3] = [Extent::Slight, Extent::Marked, Extent::Severe];

    /// Name for people.
    pub const fn name(self) -> &'static str {
        match self {
            Extent::Slight => "slight",
            Extent::Marked => "marked",
            Extent::Severe => "severe",
        }
    }
}

/// What an inspection found of one sign. A sign that was not looked for has no finding at all.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Finding {
    /// Looked for and not there.
    Absent,
    /// There, to this extent.
    Present(Extent),
}

/// One sign with its finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Seen {
    /// Which sign.
    pub sign: Sign,
    /// What was found.
    pub finding: Finding,
}
