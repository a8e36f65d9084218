//! Uncertain numbers, and the account of how each was made.
//!
//! Belongs here: the log-normal quantity every model speaks ([`Uncertain`]), the normal distribution
//! functions they share, the kinds of origin a number may have, and the [`Scribe`] that models report
//! their steps to.
//! May not come in: any formula about rock, steel, ropes or corrosion.

mod account;
pub mod normal;
mod uncertain;

pub use account::{Account, Origin, Scribe, Silent, Step, Term};
pub use uncertain::Uncertain;
