//! What to renew first: the choice of works under money, people-days and hardware stock.
//!
//! Belongs here: the problem, its exact solution, and what follows from it (shopping list).
//! May not come in: how a gain was judged, records, files.

mod problem;

pub use problem::{Choice, Limits, Plan, Problem, Route, StockItem, Use, Work};
