//! Makes the invented demo scenario.
fn main() {}
