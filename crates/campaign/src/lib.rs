//! What to renew first: the choice of works under money, people-days and hardware stock.
//!
//! Belongs here: the problem, its exact solution, and what follows from it (shopping list, day plan).
//! May not come in: how a gain was judged, records, files.

mod check;
mod days;
mod dominance;
mod error;
mod greedy;
mod model;
mod order;
mod problem;
mod shopping;
mod solve;
mod tally;

pub use days::{Day, Stop, split_into_days};
pub use error::{CampaignError, Resource, Shortfall};
pub use order::{RouteShare, by_route};
pub use problem::{Choice, Limits, Options, Plan, Problem, Proof, Route, StockItem, Use, Work};
pub use shopping::{ShoppingLine, shopping_list};
pub use solve::solve;
