//! The caution that goes with every verdict.

use std::io::{self, Write};

/// One line, for lists and JSON.
pub const SHORT: &str = "An estimate, not a promise: no inspection sees inside the hole. Follow the maker's \
instructions, local codes and land-manager rules; leave the work to competent, licensed people; back up what you \
doubt.";

/// For the help.
pub const LONG: &str = "Every number is an estimate from recorded evidence. No inspection sees inside the hole, \
and the program never says that an anchor is safe: it says what the evidence supports. Follow the maker's \
instructions, local codes, land-manager rules and competent, licensed practice; back up what you doubt.";

/// Prints the short caution after an answer.
pub fn print(out: &mut dyn Write) -> io::Result<()> {
    let dim = anstyle::Style::new().dimmed();
    writeln!(out)?;
    for line in crate::table::wrap(SHORT, 90, "").lines() {
        writeln!(out, "{dim}{line}{dim:#}")?;
    }
    Ok(())
}
