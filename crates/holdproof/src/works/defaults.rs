//! The data file of works.

use super::Candidate;
use decay::Setting;
use demand::Role;
use rock::RockType;
use serde::Deserialize;

/// The file could not be used.
#[derive(Debug, thiserror::Error)]
pub enum DefaultsError {
    /// Not the expected TOML.
    #[error("it is not a file of works: {0}")]
    Syntax(#[from] toml::de::Error),
    /// A value that makes no sense.
    #[error("{name} is {value}: it must lie between {low} and {high}")]
    OutOfRange {
        /// Where in the file.
        name: String,
        /// What was given.
        value: f64,
        /// Smallest allowed.
        low: f64,
        /// Largest allowed.
        high: f64,
    },
}

/// How a gain is reckoned.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Gain {
    /// Years over which avoided failures are counted.
    pub horizon_years: f64,
    /// Chance a year that a new fitting fails in use.
    pub fails_per_year_after_renewal: f64,
    /// Share of the chance of failure that tending takes away.
    pub tending_removes: f64,
    /// Where the numbers come from.
    pub source: String,
}

/// Weight of a failure by what the placement is for.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(missing_docs)]
pub struct Consequence {
    pub runner: f64,
    /// The first two runners.
    pub low_runner: f64,
    pub lower_off: f64,
    pub belay: f64,
    pub unknown: f64,
    /// Where the numbers come from.
    pub source: String,
}

impl Consequence {
    /// The weight for a role and a number from the ground up.
    pub fn weight(&self, role: Option<Role>, number: Option<u16>) -> f64 {
        match role {
            Some(Role::Runner) if number.is_some_and(|number| number <= 2) => self.low_runner,
            Some(Role::Runner) => self.runner,
            Some(Role::LowerOff) => self.lower_off,
            Some(Role::Belay) => self.belay,
            None => self.unknown,
        }
    }
}

/// What a visit to a route takes.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct VisitDefaults {
    /// Person-hours.
    pub hours: f64,
    /// Money.
    pub cost: f64,
    /// Where the numbers come from.
    pub source: String,
}

/// A volunteer's day.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DayDefaults {
    /// Person-hours on the rope.
    pub hours: f64,
    /// Where the number comes from.
    pub source: String,
}

/// Pieces of an item.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Need {
    /// Name as in the stock list.
    pub item: String,
    /// Pieces, fractions allowed for what is shared.
    pub pieces: f64,
}

/// Tightening and cleaning.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tending {
    /// Person-hours.
    pub hours: f64,
    /// Hardware used.
    pub uses: Vec<Need>,
    /// Where the numbers come from.
    pub source: String,
}

/// What one renewal takes.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Kit {
    /// Name for people.
    pub name: String,
    /// Settings it is meant for; empty = all.
    #[serde(default)]
    pub settings: Vec<Setting>,
    /// Rocks it is meant for; empty = all.
    #[serde(default)]
    pub rocks: Vec<RockType>,
    /// Roles it is meant for; empty = all.
    #[serde(default)]
    pub roles: Vec<Role>,
    /// Person-hours on the rope.
    pub hours: f64,
    /// Holes that one battery charge drills.
    pub holes_per_charge: u32,
    /// Hardware used.
    pub uses: Vec<Need>,
    /// Where the choice and the numbers come from.
    pub source: String,
}

impl Eq for Kit {}

impl Kit {
    fn fits(&self, candidate: &Candidate) -> bool {
        fn among<T: PartialEq>(list: &[T], value: Option<T>) -> bool {
            list.is_empty() || value.is_some_and(|value| list.contains(&value))
        }
        among(&self.settings, candidate.setting)
            && among(&self.rocks, candidate.rock)
            && among(&self.roles, candidate.role)
    }
}

/// A price for an item that the stock list does not price.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Price {
    /// Name of the item.
    pub name: String,
    /// Price of one piece.
    pub price: f64,
}

/// The whole file.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Defaults {
    /// How the group's money is called.
    pub currency: String,
    /// How a gain is reckoned.
    pub gain: Gain,
    /// Weight of a failure.
    pub consequence: Consequence,
    /// What a visit takes.
    pub visit: VisitDefaults,
    /// A volunteer's day.
    pub day: DayDefaults,
    /// Tightening and cleaning.
    pub tending: Tending,
    /// Kits for renewal, first fit wins.
    pub kit: Vec<Kit>,
    /// Prices beyond the stock list.
    #[serde(default)]
    pub item: Vec<Price>,
}

impl Defaults {
    /// The built-in file.
    pub const BUILT_IN: &'static str = include_str!("../../data/works.toml");

    /// Reads a file of works.
    ///
    /// # Errors
    /// Not such a file, or a value out of its range.
    pub fn from_toml(text: &str) -> Result<Self, DefaultsError> {
        let defaults: Self = toml::from_str(text)?;
        let mut ranges: Vec<(String, f64, f64, f64)> = vec![
            ("gain.horizon_years".into(), defaults.gain.horizon_years, 1.0, 100.0),
            (
                "gain.fails_per_year_after_renewal".into(),
                defaults.gain.fails_per_year_after_renewal,
                0.0,
                1.0,
            ),
            ("gain.tending_removes".into(), defaults.gain.tending_removes, 0.0, 1.0),
            ("visit.hours".into(), defaults.visit.hours, 0.0, 1e4),
            ("visit.cost".into(), defaults.visit.cost, 0.0, 1e6),
            ("day.hours".into(), defaults.day.hours, 0.1, 24.0),
            ("tending.hours".into(), defaults.tending.hours, 0.0, 1e3),
        ];
        let weights = &defaults.consequence;
        for (name, weight) in [
            ("runner", weights.runner),
            ("low_runner", weights.low_runner),
            ("lower_off", weights.lower_off),
            ("belay", weights.belay),
            ("unknown", weights.unknown),
        ] {
            ranges.push((format!("consequence.{name}"), weight, 0.0, 1000.0));
        }
        for need in &defaults.tending.uses {
            ranges.push((format!("tending, pieces of {}", need.item), need.pieces, 0.0, 1000.0));
        }
        for kit in &defaults.kit {
            ranges.push((format!("kit {}, hours", kit.name), kit.hours, 0.0, 1e3));
            let holes = f64::from(kit.holes_per_charge);
            ranges.push((format!("kit {}, holes_per_charge", kit.name), holes, 1.0, 1e6));
            for need in &kit.uses {
                ranges.push((format!("kit {}, pieces of {}", kit.name, need.item), need.pieces, 0.0, 1000.0));
            }
        }
        for item in &defaults.item {
            ranges.push((format!("price of {}", item.name), item.price, 0.0, 1e6));
        }
        for (name, value, low, high) in ranges {
            if !(low..=high).contains(&value) {
                return Err(DefaultsError::OutOfRange { name, value, low, high });
            }
        }
        Ok(defaults)
    }

    /// First kit that fits.
    pub fn kit_for(&self, candidate: &Candidate) -> Option<&Kit> {
        self.kit.iter().find(|kit| kit.fits(candidate))
    }

    /// Price of an item, names compared as the register compares them.
    pub fn price(&self, name: &str) -> Option<f64> {
        let key = register::identity::stock(name);
        self.item.iter().find(|item| register::identity::stock(&item.name) == key).map(|item| item.price)
    }
}
