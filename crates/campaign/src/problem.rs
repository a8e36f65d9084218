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

/// How far the search goes. Both limits are counts or ratios, never wall time, so that the same
/// problem gives the same plan on every machine.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Options {
    /// Search stops when the plan is proved to be within this share of the best possible gain, >= 0
    /// (0 = search until the optimum is proved).
    pub gap: f64,
    /// Search stops after this many branch-and-bound nodes.
    pub node_limit: u64,
}

impl Default for Options {
    /// Gap 0 (exact), 10 000 nodes. Source: judgement; 400 works on 120 routes are proved optimal in
    /// about 3000 nodes and a second, several thousand works stop at the node limit with a small gap.
    fn default() -> Self {
        Self { gap: 0.0, node_limit: 10_000 }
    }
}

/// How the search ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Proof {
    /// No plan is better.
    Optimal,
    /// The gap asked for was reached.
    WithinGap,
    /// The node limit came first; the bound still holds.
    NodeLimit,
    /// The solver gave up for numerical reasons: the plan is the greedy one, the bound is the sum of
    /// all gains.
    Greedy,
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
    /// Chosen works in order of doing: routes with a must first, then routes by gain per hour; within a
    /// route in the order of the problem.
    pub chosen: Vec<Choice>,
    /// Sum of gains.
    pub gain: f64,
    /// Upper bound on any plan's gain that was proved.
    pub bound: f64,
    /// `(bound - gain) / bound`, 0 = proved optimum.
    pub gap: f64,
    /// How the search ended.
    pub proof: Proof,
    /// Branch-and-bound nodes that were solved.
    pub nodes: u64,
    /// Money spent, purchases included.
    pub money: f64,
    /// Person-hours spent, visits included.
    pub hours: f64,
    /// Pieces to buy per stock item (same index as the problem's stock).
    pub buy: Vec<u32>,
    /// Pieces used per stock item, rounded up.
    pub used: Vec<u32>,
}
