//! The words shown to people.

use crate::mode::{Mode, Source};

impl Mode {
    /// Every mode.
    pub const ALL: [Mode; 8] = [
        Mode::Steel,
        Mode::Hanger,
        Mode::Cone,
        Mode::PullOut,
        Mode::Bond,
        Mode::EdgeBreakout,
        Mode::PryOut,
        Mode::Experience,
    ];
    /// The name in plain English.
    pub const fn name(self) -> &'static str {
        match self {
            Mode::Steel => "steel",
            Mode::Hanger => "hanger",
            Mode::Cone => "cone breakout",
            Mode::PullOut => "pull-out",
            Mode::Bond => "bond",
            Mode::EdgeBreakout => "edge breakout",
            Mode::PryOut => "pry-out",
            Mode::Experience => "experience",
        }
    }
    /// What happens when it fails this way, as a short sentence part.
    pub const fn what_happens(self) -> &'static str {
        match self {
            Mode::Steel => "the bolt breaks",
            Mode::Hanger => "the hanger or eye breaks",
            Mode::Cone => "a cone of rock breaks out with the bolt",
            Mode::PullOut => "the bolt slips out of its hole",
            Mode::Bond => "the resin lets go",
            Mode::EdgeBreakout => "rock breaks out towards the edge",
            Mode::PryOut => "the bolt levers rock out behind it",
            Mode::Experience => "it comes out or breaks as others of its kind did",
        }
    }
}

impl Source {
    /// The name in plain English.
    pub const fn name(self) -> &'static str {
        match self {
            Source::RockStrength => "strength of the rock",
            Source::RockSoundness => "joints and hollowness",
            Source::Embedment => "embedment",
            Source::Surroundings => "edges and neighbours",
            Source::Diameter => "diameter",
            Source::Material => "material",
            Source::Kind => "kind",
            Source::Resin => "resin and state of the hole",
            Source::Loss => "loss by corrosion",
            Source::Sign => "meaning of the signs",
            Source::Direction => "direction of pull",
            Source::Model => "the formula",
            Source::Setting => "product and setting",
        }
    }
}
