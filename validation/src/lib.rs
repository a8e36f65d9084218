//! Check values from published sources, and the page that shows them.
//!
//! Belongs here: the reader of the case files in `cases/` (one file per source), the computations that
//! the cases name, and the writer of VALIDATION.md.
//! May not come in: models of its own. A computation only hands the inputs of a case to a core crate.

mod case;
mod inputs;
mod page;
mod run;

pub mod bond;
pub mod concrete;
pub mod conversions;
pub mod corrosion;
pub mod distributions;
pub mod falls;
pub mod hardware;
pub mod planning;
pub mod practice;
pub mod reliability;
pub mod rock;
pub mod sharing;
pub mod statistics;
pub mod steel;
pub mod traces;

pub use case::{Bound, Case, CaseError, CaseFile, Kind, Source, Status, Tolerance, read_folder};
pub use inputs::{Error, Inputs};
pub use page::page;
pub use run::{Outcome, SourceOutcome, Verdict, run};

/// A named computation: takes the inputs of a case, returns the value in the unit of the case.
pub type Computation = (&'static str, fn(&Inputs) -> Result<f64, Error>);

/// Pairs a name with a computation; lets a closure be written where a function pointer is wanted.
pub const fn computation(name: &'static str, compute: fn(&Inputs) -> Result<f64, Error>) -> Computation {
    (name, compute)
}

/// All computations that a case may name, by area.
pub fn registry() -> Vec<Computation> {
    [
        bond::computations(),
        concrete::computations(),
        conversions::computations(),
        corrosion::computations(),
        distributions::computations(),
        falls::computations(),
        hardware::computations(),
        planning::computations(),
        practice::computations(),
        reliability::computations(),
        rock::computations(),
        sharing::computations(),
        statistics::computations(),
        steel::computations(),
        traces::computations(),
    ]
    .concat()
}
