//! What can be wrong with a problem.

use serde::{Deserialize, Serialize};

/// A limit that the works that must be done run into.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Resource {
    /// Money, in the group's currency.
    Money,
    /// Person-hours.
    Hours,
    /// A stock item that cannot be bought, by name; counted in pieces.
    Stock(String),
}

impl std::fmt::Display for Resource {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Money => write!(f, "money"),
            Self::Hours => write!(f, "person-hours"),
            Self::Stock(name) => write!(f, "pieces of {name}"),
        }
    }
}

/// How far the works that must be done go beyond one limit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Shortfall {
    /// Which limit.
    pub resource: Resource,
    /// What the works that must be done need.
    pub needed: f64,
    /// What there is.
    pub available: f64,
}

impl Shortfall {
    /// Needed less available, > 0.
    pub fn over_by(&self) -> f64 {
        self.needed - self.available
    }
}

impl std::fmt::Display for Shortfall {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "{} {} needed, {} available, {} too few",
            tidy(self.needed),
            self.resource,
            tidy(self.available),
            tidy(self.over_by())
        )
    }
}

/// At most two decimals, none where they are zero.
fn tidy(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Why there is no plan.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum CampaignError {
    /// A number is negative, infinite or not a number.
    #[error("{what} is {value}: it must be a number from 0 to {greatest:e}")]
    BadNumber {
        /// What it stands for, with the name of the work, route or item.
        what: String,
        /// The value given.
        value: f64,
        /// Greatest value accepted.
        greatest: f64,
    },
    /// A work points to a route or stock item that is not in the problem.
    #[error("the work on {placement} refers to {what} number {index}, but there are only {count}")]
    BadIndex {
        /// Placement of the work.
        placement: String,
        /// "route" or "stock item".
        what: &'static str,
        /// The index given.
        index: usize,
        /// How many there are.
        count: usize,
    },
    /// The works that must be done do not fit into the limits.
    #[error("the works that must be done do not fit: {}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))]
    MustNotFit(
        /// Every limit that fails.
        Vec<Shortfall>,
    ),
}
