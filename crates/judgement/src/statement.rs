//! What a reason says: its content, and its sentence in the units a person chose.

use crate::outcome::{Chance, ReasonKind};
use evidence::{Finding, Seen, Sign};
use reckoning::{Origin, Uncertain};
use resistance::Source;
use units::{Force, Length, Stress, UnitSystem};

/// What a reason says. Shares and chances are 0..1, times in years.
#[derive(Clone, Debug, PartialEq)]
pub enum Statement {
    /// It gave way in a pull so many years ago.
    GaveWay(f64),
    /// It has survived loads that its judged strength would hardly have held.
    Outlived,
    /// Its batch was recalled.
    Recalled,
    /// The chance to hold a year of use is below a threshold.
    YearBelow {
        /// The chance.
        chance: Chance,
        /// The policy's threshold.
        threshold: f64,
    },
    /// A sign that asks for a closer look whatever the numbers.
    LookAt(Seen),
    /// Only the loads it is assumed to have held keep its chance above the threshold.
    KeptByService,
    /// What the loads that it is assumed to have held do to the chance to hold a hard fall.
    Served {
        /// Chance without them.
        from: f64,
        /// Chance with them.
        to: f64,
    },
    /// A sign that stops use whatever the numbers.
    StopSign(Sign),
    /// The chance to hold a hard fall is below a threshold.
    ChanceBelow {
        /// The hard fall.
        hard_fall: Force,
        /// The chance.
        chance: Chance,
        /// The policy's threshold.
        threshold: f64,
    },
    /// The unfavourable chance to hold a hard fall is below a threshold.
    DoubtBelow {
        /// The hard fall.
        hard_fall: Force,
        /// The chance.
        chance: Chance,
        /// The policy's threshold.
        threshold: f64,
    },
    /// The useful life ends within so many years.
    LifeEnds(f64),
    /// The useful life ends within so many years if what is unknown turns out badly.
    MayEnd(f64),
    /// Corrosion has gone beyond what strength can be computed for.
    Spent,
    /// The kind of hardware has a floor: why.
    KindFloor(String),
    /// A sign that small work would cure.
    Tendable(Sign),
    /// Last looked at so many years ago.
    LookAgain(f64),
    /// No sighting is on record.
    NeverSeen,
    /// A sign that was seen.
    Sign(Seen),
    /// An edge near the hole.
    Edge(Length),
    /// Another bolt near the hole.
    Neighbour(Length),
    /// Weak rock.
    WeakRock(Uncertain<Stress>),
    /// Joints or hollowness.
    Joints,
    /// Share of the steel's section that is left.
    SteelLost {
        /// Share left.
        area_left: f64,
        /// True where it was measured.
        measured: bool,
    },
    /// Chance that the steel has cracked.
    Cracking(f64),
    /// Chance of a hidden setting defect.
    HiddenDefect(f64),
    /// A proof load that held.
    Proof {
        /// The load.
        load: Force,
        /// Years since.
        years_ago: f64,
        /// True = straight out of the rock.
        axial: bool,
    },
    /// Ratio of observed to judged resistance of pulled sisters.
    Sisters(f64),
    /// The kind of bolt is not recorded.
    KindUnknown,
    /// Something is not well known and carries this share of the doubt.
    NotKnown {
        /// What.
        source: Source,
        /// Share of the variance.
        share: f64,
    },
}

impl Statement {
    /// The group it belongs to.
    pub const fn kind(&self) -> ReasonKind {
        match self {
            Self::StopSign(_) | Self::Tendable(_) | Self::LookAt(_) | Self::Sign(_) => ReasonKind::Sign,
            Self::Recalled | Self::KindFloor(_) | Self::HiddenDefect(_) => ReasonKind::Hardware,
            Self::Edge(_) | Self::Neighbour(_) | Self::WeakRock(_) | Self::Joints => ReasonKind::Rock,
            Self::LifeEnds(_)
            | Self::MayEnd(_)
            | Self::Spent
            | Self::SteelLost { .. }
            | Self::Cracking(_) => ReasonKind::Decay,
            Self::ChanceBelow { .. } | Self::YearBelow { .. } => ReasonKind::Demand,
            Self::GaveWay(_) | Self::Proof { .. } | Self::Sisters(_) => ReasonKind::Test,
            Self::DoubtBelow { .. }
            | Self::LookAgain(_)
            | Self::NeverSeen
            | Self::KindUnknown
            | Self::Outlived
            | Self::KeptByService
            | Self::Served { .. }
            | Self::NotKnown { .. } => ReasonKind::Unknown,
        }
    }

    /// Where its input came from.
    pub const fn origin(&self) -> Origin {
        match self {
            Self::GaveWay(_)
            | Self::Proof { .. }
            | Self::Sisters(_)
            | Self::SteelLost { measured: true, .. } => Origin::Measured,
            Self::StopSign(_)
            | Self::Tendable(_)
            | Self::LookAt(_)
            | Self::Recalled
            | Self::Sign(_)
            | Self::Edge(_)
            | Self::Neighbour(_)
            | Self::Joints
            | Self::LookAgain(_)
            | Self::NeverSeen => Origin::Recorded,
            Self::KindFloor(_) | Self::HiddenDefect(_) => Origin::Table,
            Self::KindUnknown | Self::KeptByService | Self::Served { .. } | Self::NotKnown { .. } => {
                Origin::Assumed
            }
            Self::ChanceBelow { .. }
            | Self::DoubtBelow { .. }
            | Self::YearBelow { .. }
            | Self::LifeEnds(_)
            | Self::MayEnd(_)
            | Self::Spent
            | Self::WeakRock(_)
            | Self::SteelLost { .. }
            | Self::Outlived
            | Self::Cracking(_) => Origin::Computed,
        }
    }

    /// One plain sentence, loads and lengths in the units chosen.
    pub fn text(&self, units: UnitSystem) -> String {
        match self {
            Self::GaveWay(years) => {
                format!("It gave way in a pull test {}; no new fitting is on record.", since(*years))
            }
            Self::Outlived => "It has outlived what it is judged to hold: records or models are wrong here; look closely, or pull it."
                .to_owned(),
            Self::Recalled => "Its batch was recalled: follow the recall, whatever the figures say.".to_owned(),
            Self::YearBelow { chance, threshold } => format!(
                "The chance to hold a year of its use is {}, below {}.",
                with_range(*chance),
                percent(*threshold)
            ),
            Self::LookAt(seen) => match seen.finding {
                Finding::Present(extent) => {
                    format!("{} ({}): look closer, whatever the figures say.", capital(seen.sign.name()), extent.name())
                }
                Finding::Absent => format!("{}: looked for and absent.", capital(seen.sign.name())),
            },
            Self::KeptByService => {
                "Only the loads it is assumed to have held keep its chance up; nobody has counted them.".to_owned()
            }
            Self::Served { from, to } => format!(
                "Loads it is assumed to have held change its chance from {} to {}.",
                percent(*from),
                percent(*to)
            ),
            Self::StopSign(sign) => format!("{}: this alone stops its use.", capital(sign.name())),
            Self::ChanceBelow { hard_fall, chance, threshold } => format!(
                "The chance to hold a hard fall of {} is {}, below {}.",
                units.force(*hard_fall),
                with_range(*chance),
                percent(*threshold)
            ),
            Self::DoubtBelow { hard_fall, chance, threshold } => format!(
                "The chance to hold a hard fall of {} is {}, but {} if what is unknown turns out badly, below {}.",
                units.force(*hard_fall),
                percent(chance.best),
                percent(chance.low),
                percent(*threshold)
            ),
            Self::LifeEnds(years) => format!("Its useful life ends within {years:.0} years."),
            Self::MayEnd(years) => {
                format!("If what is unknown turns out badly, its useful life ends within {years:.0} years.")
            }
            Self::Spent => {
                "Carbon steel in this air, or with this loss, is beyond what its strength can be computed for."
                    .to_owned()
            }
            Self::KindFloor(because) => format!("{because}."),
            Self::Tendable(sign) => format!("{}: small work may remove this sign; it mends nothing else.", capital(sign.name())),
            Self::LookAgain(years) => format!("Last looked at {}.", since(*years)),
            Self::NeverSeen => "No sighting is on record.".to_owned(),
            Self::Sign(seen) => {
                let extent = match seen.finding {
                    Finding::Present(extent) => extent.name(),
                    Finding::Absent => "looked for and absent",
                };
                format!("{} ({extent}).", capital(seen.sign.name()))
            }
            Self::Edge(distance) => {
                format!("An edge only {} away takes rock away from what holds it.", units.length(*distance))
            }
            Self::Neighbour(distance) => {
                format!("Another bolt {} away shares the same rock.", units.length(*distance))
            }
            Self::WeakRock(ucs) => format!(
                "The rock is weak: about {} to {} where it is used.",
                units.stress(ucs.fractile(0.1)),
                units.stress(ucs.fractile(0.9))
            ),
            Self::Joints => "Joints or hollowness near the hole.".to_owned(),
            Self::SteelLost { area_left, .. } => {
                format!("Corrosion has left about {:.0} % of the steel's section.", area_left * 100.0)
            }
            Self::Cracking(chance) => format!(
                "Stainless steel in this setting can crack unseen: chance so far about {}.",
                in_words(*chance)
            ),
            Self::HiddenDefect(chance) => format!(
                "About {} settings like this hide a fault that nobody sees from outside.",
                in_words(*chance)
            ),
            Self::Proof { load, years_ago, axial } => format!(
                "A proof load of {} {} held {}.",
                units.force(*load),
                if *axial { "straight out" } else { "along the face" },
                since(*years_ago)
            ),
            Self::Sisters(ratio) => {
                format!("Pulled sisters here held {:.0} % of what was judged for them.", ratio * 100.0)
            }
            Self::KindUnknown => "Nobody has recorded what kind of bolt it is.".to_owned(),
            Self::NotKnown { source, share } => format!(
                "{} is not well known; it carries {:.0} % of the doubt.",
                capital(source.name()),
                share * 100.0
            ),
        }
    }
}

/// A chance with the range that better evidence could move it in.
fn with_range(chance: Chance) -> String {
    let (best, low, high) = (percent(chance.best), percent(chance.low), percent(chance.high));
    match (low == best, high == best) {
        (true, true) => best,
        (true, false) => format!("{best}, at most {high}"),
        _ => format!("{best} ({low} to {high})"),
    }
}

fn percent(x: f64) -> String {
    match x {
        x if x > 0.9995 => "over 99.9 %".to_owned(),
        x if x < 0.0005 => "under 0.1 %".to_owned(),
        x if (0.02..0.98).contains(&x) => format!("{:.0} %", x * 100.0),
        x => format!("{:.1} %", x * 100.0),
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
