//! From evidence to a judgement: chance to hold, years left, call and reasons.
//!
//! Belongs here: the case (all that is known of one placement at a date), its judgement, the policy
//! that turns numbers into a call, and the account of the whole chain.
//! May not come in: formulas of single models, records, files, clocks.

mod case;
mod outcome;

pub use case::{Case, ProofHeld};
pub use outcome::{
    Band, Call, Chance, DemandView, Judgement, MissingEvidence, ModeView, Reason, ReasonKind, YearsLeft,
};
