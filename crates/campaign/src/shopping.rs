//! What to take from stock and what to buy.

use crate::{Plan, Problem};
use serde::{Deserialize, Serialize};

/// One line of the shopping list.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ShoppingLine {
    /// Name of the item.
    pub name: String,
    /// Pieces used, rounded up.
    pub used: u32,
    /// Of these from stock in hand.
    pub from_hand: u32,
    /// Pieces to buy.
    pub buy: u32,
    /// Price of one, where it can be bought.
    pub price: Option<f64>,
    /// Money for the purchase.
    pub cost: f64,
}

/// Every item that the plan uses, in the order of the problem.
pub fn shopping_list(problem: &Problem, plan: &Plan) -> Vec<ShoppingLine> {
    let counts = plan.used.iter().zip(&plan.buy);
    problem
        .stock
        .iter()
        .zip(counts)
        .filter(|(_, (used, _))| **used > 0)
        .map(|(item, (&used, &buy))| ShoppingLine {
            name: item.name.clone(),
            used,
            from_hand: used.saturating_sub(buy),
            buy,
            price: item.price,
            cost: f64::from(buy) * item.price.unwrap_or(0.0),
        })
        .collect()
}
