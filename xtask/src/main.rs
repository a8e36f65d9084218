//! The one door to build, demo, test and bench.
fn main() {}
