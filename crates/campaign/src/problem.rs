//! The problem and its answer.

use serde::{Deserialize, Serialize};

/// Something in stock or to be bought, counted in whole pieces (bolts, cartridges, bits).
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct StockItem {
    /// Name as in the shopping list.
    pub name: String,
    /// Pieces in hand.
    pub in_hand: u32,
    /// Price of one more piece, in the group's currency; `None` = cannot be bought.
    pub price: Option<f64>,
}

/// A use of a stock item by a work. Fractions are allowed for what is shared (resin, bits).
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Use {
    /// Index into [`Problem::stock`].
    pub item: usize,
    /// Pieces used, > 0.
    pub quantity: f64,
}

/// One piece of work that can be chosen.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Work {
    /// Placement identity.
    pub placement: String,
    /// Index into [`Problem::routes`].
    pub route: usize,
    /// Expected failures avoided over the horizon, >= 0.
    pub gain: f64,
    /// Person-hours on the rope, >= 0.
    pub hours: f64,
    /// Money beyond stock (fees, hire), >= 0.
    pub cost: f64,
    /// Hardware used.
    pub uses: Vec<Use>,
    /// Must be chosen whatever the gain.
    pub must: bool,
}

/// A route that has to be visited to do works on it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Route {
    /// Route identity.
    pub name: String,
    /// Person-hours to get there, rig and come back, counted once.
    pub visit_hours: f64,
    /// Money for a visit (travel), counted once.
    pub visit_cost: f64,
}

/// What there is to spend.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Limits {
    /// Money in the group's currency.
    pub money: f64,
    /// Person-hours.
    pub hours: f64,
}

/// A campaign to be planned.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Problem {
    /// Works to choose from.
    pub works: Vec<Work>,
    /// Routes they are on.
    pub routes: Vec<Route>,
    /// Hardware they use.
    pub stock: Vec<StockItem>,
    /// Limits.
    pub limits: Limits,
}

/// A chosen work.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Choice {
    /// Index into [`Problem::works`].
    pub work: usize,
}

/// The answer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Plan {
    /// Chosen works in order of doing: routes by gain per hour, from the top of the list.
    pub chosen: Vec<Choice>,
    /// Sum of gains.
    pub gain: f64,
    /// Upper bound on any plan's gain that was proved.
    pub bound: f64,
    /// `(bound - gain) / bound`, 0 = proved optimum.
    pub gap: f64,
    /// Money spent, purchases included.
    pub money: f64,
    /// Person-hours spent, visits included.
    pub hours: f64,
    /// Pieces to buy per stock item (same index as the problem's stock).
    pub buy: Vec<u32>,
    /// Pieces used per stock item, rounded up.
    pub used: Vec<u32>,
}
