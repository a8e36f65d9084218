//! The command line of Holdproof.
fn main() {}
