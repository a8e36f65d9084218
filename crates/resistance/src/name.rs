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
    /// What happens when it fails this way, in a few words.
    pub const fn what_happens(self) -> &'static str {
        match self {
            Mode::Steel => "bolt steel breaks",
            Mode::Hanger => "hanger or eye breaks",
            Mode::Cone => "rock cone breaks out",
            Mode::PullOut => "bolt pulls out",
            Mode::Bond => "resin bond fails",
            Mode::EdgeBreakout => "rock edge breaks off",
            Mode::PryOut => "rock is pried out",
            Mode::Experience => "gives way (by experience)",
        }
    }
}

impl Source {
    /// The name in plain English.
    pub const fn name(self) -> &'static str {
        match self {
            Source::RockStrength => "rock strength",
            Source::RockSoundness => "joints and hollowness of the rock",
            Source::Embedment => "embedment",
            Source::Surroundings => "distance to edges and neighbours",
            Source::Diameter => "diameter",
            Source::Material => "steel grade or alloy",
            Source::Kind => "kind of fitting",
            Source::Resin => "resin and state of the hole",
            Source::Loss => "steel lost to corrosion",
            Source::Sign => "what a sign means",
            Source::Direction => "direction of pull",
            Source::Model => "the formula itself",
            Source::Setting => "product and setting scatter",
        }
    }
}
