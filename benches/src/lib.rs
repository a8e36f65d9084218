//! The whole job on invented data, for benchmarks: a register of any size, a sheet of any length, judging
//! and importing as the command line does them.
//!
//! The data have no scenario and no truth; they have the variety of real records, and are the same on
//! every run.

pub mod importing;
pub mod invented;
pub mod judging;
