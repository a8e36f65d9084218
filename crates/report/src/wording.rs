//! The words that charts and report share.

use judgement::ReasonKind;

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

/// How near the best a plan is, from its proved gap `(bound - gain) / bound`; nothing is claimed of a gap
/// that is not known.
pub fn optimality(gap: f64) -> String {
    if !gap.is_finite() {
        "How near the best it is was not proved.".to_owned()
    } else if gap > 1e-6 {
        format!("No plan within the limits can gain {:.1} % more.", gap / (1.0 - gap).max(1e-9) * 100.0)
    } else {
        "No other plan within the limits gains more.".to_owned()
    }
}

/// The caution under every chart.
pub const SHORT_CAUTION: &str = "An estimate: no inspection sees inside the hole. Back up what you doubt.";

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

/// The method in plain words, chapter by chapter, with the sources it rests on (clauses and check values
/// stand in the documentation of the models themselves).
pub const METHOD: [(&str, &str); 7] = [
    (
        "What it holds",
        "For each way to fail (steel, hanger, rock cone, pull-out, bond, edge, pry-out) a median load and a scatter \
         follow from size, material, embedment and rock. Rock break-out uses the capacity-design cone (Fuchs, \
         Eligehausen and Breen 1995; EN 1992-4), steel the stress area and strength of the fastener standards (ISO \
         898-1, ISO 3506-1, EN 1992-4). The formulas were made for concrete; in rock they carry a wider scatter.",
    ),
    (
        "What was seen",
        "A sign, such as a bolt that moves in its hole, lowers only the way to fail that it concerns, by a published \
         ratio where there is one and else by a stated judgement with wide scatter.",
    ),
    (
        "Time",
        "Corrosion takes steel away at the rate of the place's category (ISO 9223 and ISO 9224); stress-corrosion \
         cracking adds a chance of sudden loss for the metals and places where it is known.",
    ),
    (
        "Tests",
        "A proof load that held, and pulls of sister fittings in the same rock, change the estimate by Bayes' rule. \
         A test tells of its day, not of the years after.",
    ),
    (
        "What is asked of it",
        "A roped fall is computed from the climber's mass, the rope out, the fall possible at that place on the route \
         and the friction above; the hard fall is the load that 95 of 100 such falls stay below.",
    ),
    (
        "The call",
        "The chance to hold a hard fall compares the two distributions. The characteristic value is the 5 % fractile \
         at 75 % confidence. Years left looks at steel alone: how resin, rock and wear age is not known. The policy turns chance, years left and signs into a call; the call carries its reasons.",
    ),
    (
        "What is not known",
        "An unknown input is never replaced by a silent default: it widens the range, and the section on what is \
         worth finding out says which unknown widens it most.",
    ),
];
