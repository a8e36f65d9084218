//! From evidence to a judgement: chance to hold, years left, call and reasons.
//!
//! Belongs here: the case (all that is known of one placement at a date), its judgement, the policy
//! that turns numbers into a call, and the account of the whole chain.
//! May not come in: formulas of single models, records, files, clocks.

mod account;
mod call;
mod case;
mod frame;
mod judge;
mod missing;
mod outcome;
mod policy;
mod reasons;
mod standing;
mod statement;
mod years;

pub use case::{Case, ProofHeld};
pub use frame::Frame;
pub use judge::{Assessed, assess, explain, judge, stand_towards};
pub use outcome::{
    Band, Call, Chance, DemandView, Judgement, MissingEvidence, ModeView, Reason, ReasonKind, YearsLeft,
};
pub use policy::{KindFloor, Policy, PolicyError, Recall, Service, Sisters, Thresholds, UnknownAge};
pub use standing::{Knowledge, Standing};
pub use statement::Statement;
