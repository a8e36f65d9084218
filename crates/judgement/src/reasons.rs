//! Why a judgement came out as it did: one plain sentence per influence, ranked by its effect.

use crate::call::Rule;
use crate::outcome::{Call, Chance, MissingEvidence, Reason, ReasonKind};
use evidence::{Finding, Seen};
use hardware::Fitting;
use reckoning::Origin;
use resistance::{Mode, Source};
use rock::RockStrength;

/// Plain name of a failure mode, as the end of "the weakest part is ...".
pub const fn mode_name(mode: Mode) -> &'static str {
    match mode {
        Mode::Steel => "the bolt's steel",
        Mode::Hanger => "the hanger or eye",
        Mode::Cone => "a cone of rock breaking out",
        Mode::PullOut => "the bolt slipping out of the hole",
        Mode::Bond => "the bond of the resin",
        Mode::EdgeBreakout => "rock breaking out to the edge",
        Mode::PryOut => "rock levered out behind the bolt",
        Mode::Experience => "the hold of this old kind in its hole",
    }
}

/// An influence whose effect on the governing resistance has been worked out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Influence {
    Sign(Seen),
    Edge { mm: f64 },
    Neighbour { mm: f64 },
    Rock(RockStrength),
    Joints,
    SteelLost { area_left: f64, measured: bool },
    Cracking { chance: f64 },
    HiddenDefect { chance: f64 },
    Proof { kn: f64, years_ago: f64, axial: bool },
    Sisters { ratio: f64 },
}

/// The sentence and group of an influence.
fn sentence(influence: Influence) -> (ReasonKind, String, Origin) {
    match influence {
        Influence::Sign(seen) => {
            let extent = match seen.finding {
                Finding::Present(extent) => extent.name(),
                Finding::Absent => "looked for and absent",
            };
            (ReasonKind::Sign, format!("{} ({extent}).", capital(seen.sign.name())), Origin::Recorded)
        }
        Influence::Edge { mm } => (
            ReasonKind::Rock,
            format!("An edge only {mm:.0} mm away takes rock away from what holds it."),
            Origin::Recorded,
        ),
        Influence::Neighbour { mm } => (
            ReasonKind::Rock,
            format!("Another bolt {mm:.0} mm away shares the same rock."),
            Origin::Recorded,
        ),
        Influence::Rock(rock) => {
            let (low, high) = (rock.ucs.fractile(0.1).as_mpa(), rock.ucs.fractile(0.9).as_mpa());
            (
                ReasonKind::Rock,
                format!("The rock is weak: about {low:.0} to {high:.0} MPa where it is used."),
                Origin::Computed,
            )
        }
        Influence::Joints => {
            (ReasonKind::Rock, "Joints or hollowness near the hole.".to_owned(), Origin::Recorded)
        }
        Influence::SteelLost { area_left, measured } => (
            ReasonKind::Decay,
            format!("Corrosion has left about {:.0} % of the steel's section.", area_left * 100.0),
            if measured { Origin::Measured } else { Origin::Computed },
        ),
        Influence::Cracking { chance } => (
            ReasonKind::Decay,
            format!(
                "Stainless steel in this setting can crack unseen: chance so far about {}.",
                in_words(chance)
            ),
            Origin::Computed,
        ),
        Influence::HiddenDefect { chance } => (
            ReasonKind::Hardware,
            format!(
                "About {} settings like this hide a fault that nobody sees from outside.",
                in_words(chance)
            ),
            Origin::Table,
        ),
        Influence::Proof { kn, years_ago, axial } => (
            ReasonKind::Test,
            format!(
                "A proof load of {kn:.1} kN {} held {}.",
                if axial { "straight out" } else { "along the face" },
                since(years_ago)
            ),
            Origin::Measured,
        ),
        Influence::Sisters { ratio } => (
            ReasonKind::Test,
            format!("Pulled sisters here held {:.0} % of what was judged for them.", ratio * 100.0),
            Origin::Measured,
        ),
    }
}

/// "3 years ago" for a time since.
fn since(years: f64) -> String {
    match years {
        y if y < 1.0 => "within the last year".to_owned(),
        y if y < 1.5 => "a year ago".to_owned(),
        y => format!("{y:.0} years ago"),
    }
}

/// The text with its first letter in upper case.
fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// "1 in N" for a chance, rounded to a figure people can hold in mind.
pub(crate) fn in_words(chance: f64) -> String {
    if chance >= 0.995 {
        return "certain".to_owned();
    }
    if chance > 0.3 {
        return format!("{:.0} in 100", chance * 100.0);
    }
    if chance < 1e-6 {
        return "less than 1 in a million".to_owned();
    }
    let n = 1.0 / chance;
    let step = 10f64.powf(n.log10().floor());
    let rounded =
        if n / step < 2.0 { (n / step * 10.0).round() * step / 10.0 } else { (n / step).round() * step };
    format!("1 in {rounded:.0}")
}

/// The sentence of a rule, with the numbers it compared.
pub(crate) fn of_rule(rule: &Rule<'_>, hard_fall_kn: f64, chance: Chance) -> (ReasonKind, String, Origin) {
    let percent = |x: f64| {
        if x > 0.9995 { "more than 99.9 %".to_owned() } else { format!("{:.1} %", x * 100.0) }
    };
    match rule {
        Rule::GaveWay(years) => (
            ReasonKind::Test,
            format!("It gave way in a pull test {}; no new fitting is on record.", since(*years)),
            Origin::Measured,
        ),
        Rule::StopSign(sign) => (
            ReasonKind::Sign,
            format!("{}: this alone stops its use.", capital(sign.name())),
            Origin::Recorded,
        ),
        Rule::ChanceBelow(threshold) => (
            ReasonKind::Demand,
            format!(
                "The chance to hold a hard fall of {hard_fall_kn:.1} kN is about {} ({} to {}), below {}.",
                percent(chance.best),
                percent(chance.low),
                percent(chance.high),
                percent(*threshold)
            ),
            Origin::Computed,
        ),
        Rule::DoubtBelow(threshold) => (
            ReasonKind::Unknown,
            format!(
                "If what is unknown turns out badly, the chance to hold a hard fall of {hard_fall_kn:.1} kN is {}, below {}.",
                percent(chance.low),
                percent(*threshold)
            ),
            Origin::Computed,
        ),
        Rule::LifeEnds(years) => {
            (ReasonKind::Decay, format!("Its useful life ends within {years:.0} years."), Origin::Computed)
        }
        Rule::MayEnd(years) => (
            ReasonKind::Decay,
            format!("If corrosion is fast, its useful life ends within {years:.0} years."),
            Origin::Computed,
        ),
        Rule::Spent => (
            ReasonKind::Decay,
            "Carbon steel in this air, or with this loss, is beyond what its strength can be computed for."
                .to_owned(),
            Origin::Computed,
        ),
        Rule::Floor(floor) => (ReasonKind::Hardware, format!("{}.", floor.because), Origin::Table),
        Rule::Tendable(sign) => {
            (ReasonKind::Sign, format!("{}: small work can cure it.", capital(sign.name())), Origin::Recorded)
        }
        Rule::LookAgain(years) => {
            (ReasonKind::Unknown, format!("Last looked at {}.", since(*years)), Origin::Recorded)
        }
        Rule::NeverSeen => (ReasonKind::Unknown, "No sighting is on record.".to_owned(), Origin::Recorded),
    }
}

/// All reasons: the rules that made the call first, then the influences by the size of their effect
/// (|ln factor|), then what is not known.
pub(crate) fn assemble(
    rules: &[(Call, Rule<'_>)],
    call: Call,
    hard_fall_kn: f64,
    chance: Chance,
    influences: &mut [(Influence, f64)],
    missing: &[MissingEvidence],
    fitting: &Fitting,
) -> Vec<Reason> {
    let mut reasons: Vec<Reason> = Vec::with_capacity(rules.len() + influences.len() + 2);
    for (asked, rule) in rules {
        let (kind, text, origin) = of_rule(rule, hard_fall_kn, chance);
        if *asked == call || kind != ReasonKind::Unknown {
            reasons.push(Reason { kind, text, effect: 1.0, origin });
        }
    }
    influences.sort_by(|a, b| b.1.ln().abs().total_cmp(&a.1.ln().abs()));
    for (influence, effect) in influences.iter() {
        if let Influence::Sign(seen) = influence
            && rules
                .iter()
                .any(|(_, r)| matches!(r, Rule::StopSign(s) | Rule::Tendable(s) if *s == seen.sign))
        {
            // named by the rule already: give that reason the effect
            let name = capital(seen.sign.name());
            if let Some(reason) = reasons.iter_mut().find(|r| r.text.starts_with(&name)) {
                reason.effect = *effect;
            }
            continue;
        }
        if effect.ln().abs() < 0.01 {
            continue;
        }
        let (kind, text, origin) = sentence(*influence);
        reasons.push(Reason { kind, text, effect: *effect, origin });
    }
    if fitting.kind.is_none() {
        reasons.push(Reason {
            kind: ReasonKind::Unknown,
            text: "Nobody has recorded what kind of bolt it is.".to_owned(),
            effect: 1.0,
            origin: Origin::Assumed,
        });
    }
    for unknown in missing.iter().filter(|m| m.share >= 0.15 && m.source != Source::Kind).take(2) {
        reasons.push(Reason {
            kind: ReasonKind::Unknown,
            text: format!(
                "{} is not well known; it carries {:.0} % of the doubt.",
                source_name(unknown.source),
                unknown.share * 100.0
            ),
            effect: 1.0,
            origin: Origin::Assumed,
        });
    }
    reasons
}

/// Plain name of a source of doubt, as the start of a sentence.
pub const fn source_name(source: Source) -> &'static str {
    match source {
        Source::RockStrength => "The strength of the rock",
        Source::RockSoundness => "The soundness of the rock around it",
        Source::Embedment => "How deep it sits",
        Source::Surroundings => "The distance to edges and neighbours",
        Source::Diameter => "Its diameter",
        Source::Material => "What steel it is made of",
        Source::Kind => "What kind of bolt it is",
        Source::Resin => "The resin and the state of the hole",
        Source::Loss => "How much steel corrosion has taken",
        Source::Sign => "What the signs seen on it mean",
        Source::Direction => "The direction of pull",
        Source::Model => "How well the formula fits rock",
        Source::Setting => "How well this one was set",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chances_are_put_in_plain_words() {
        for (chance, words) in [
            (0.5, "50 in 100"),
            (0.05, "1 in 20"),
            (0.031, "1 in 30"),
            (0.066, "1 in 15"),
            (0.000_12, "1 in 8000"),
            (1e-9, "less than 1 in a million"),
            (1.0, "certain"),
        ] {
            assert_eq!(in_words(chance), words);
        }
    }
}
