//! The words that charts and report share.

use judgement::{Call, ReasonKind};
use resistance::{Mode, Source};

/// One word for a call.
pub fn call(call: Call) -> &'static str {
    match call {
        Call::Sound => "sound",
        Call::Watch => "watch",
        Call::Tend => "tend",
        Call::Renew => "renew",
        Call::Shun => "shun",
    }
}

/// What a call asks for.
pub fn call_meaning(call: Call) -> &'static str {
    match call {
        Call::Sound => "the evidence asks for no work now",
        Call::Watch => "look again soon, or look closer",
        Call::Tend => "small work now: tighten, clean",
        Call::Renew => "replace",
        Call::Shun => "do not use; warn",
    }
}

/// How a placement gives way.
pub fn mode(mode: Mode) -> &'static str {
    match mode {
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

/// What is not known.
pub fn source(source: Source) -> &'static str {
    match source {
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

/// Group of a reason.
pub fn reason_kind(kind: ReasonKind) -> &'static str {
    match kind {
        ReasonKind::Sign => "seen",
        ReasonKind::Hardware => "hardware",
        ReasonKind::Rock => "rock",
        ReasonKind::Decay => "decay",
        ReasonKind::Demand => "load",
        ReasonKind::Test => "test",
        ReasonKind::Unknown => "not known",
    }
}

/// The caution under every chart.
pub const SHORT_CAUTION: &str =
    "An estimate: no inspection sees inside the hole. Back up what you doubt.";

/// The cautions of the report, in full.
pub const CAUTIONS: [&str; 5] = [
    "Every number here is an estimate from recorded evidence, and the evidence is never complete. A range \
     says how far off the estimate may be; the truth may still lie outside it.",
    "No inspection sees inside the hole. Cracks, corrosion and poor setting can be hidden behind sound-looking \
     metal and rock.",
    "Follow the maker's instructions for every fitting, resin and tool, the codes that apply where you are and \
     the rules of whoever manages the land. Leave setting, testing and removal to people who are competent, \
     and licensed where that is required.",
    "Back up what you doubt. The word “sound” means only that the evidence at hand asks for no work now; it is \
     no promise about the next fall.",
    "The state of rock and metal changes. The judgement holds for the date on the front page and loses worth \
     with every season, rockfall and hard use since then.",
];
