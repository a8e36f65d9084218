//! What every command works with: the answers to the options all share.

use crate::cli::Common;
use crate::exit::{Exit, Failure};
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::Offset;
use serde::Serialize;
use std::io::{self, BufWriter, Write};
use std::path::PathBuf;
use units::UnitSystem;

/// Options of every command, and where answers go.
pub struct Desk {
    /// The register file.
    pub register: PathBuf,
    /// Units to show.
    pub units: UnitSystem,
    /// Answer as JSON.
    pub json: bool,
    /// Today.
    pub today: Date,
    now: Timestamp,
    /// Where answers go; colour is taken out where it is not wanted.
    pub out: Box<dyn Write>,
}

impl Desk {
    /// From the options. Today is the day in UTC where it is not given.
    pub fn new(common: &Common) -> Self {
        let given = common.today.and_then(|day| Offset::UTC.to_timestamp(day.at(0, 0, 0, 0)).ok());
        let now = given.unwrap_or_else(Timestamp::now);
        Self {
            register: common.register.clone(),
            units: common.units.into(),
            json: common.json,
            today: common.today.unwrap_or_else(|| Offset::UTC.to_datetime(now).date()),
            now,
            out: Box::new(BufWriter::new(anstream::AutoStream::auto(io::stdout()))),
        }
    }

    /// The wall clock in milliseconds since 1970 UTC; the start of the day where today is given.
    pub fn now_millis(&self) -> i64 {
        self.now.as_millisecond()
    }

    /// Writes an answer as JSON.
    pub fn write_json(&mut self, answer: &impl Serialize) -> Result<(), Failure> {
        serde_json::to_writer_pretty(&mut self.out, answer)?;
        writeln!(self.out)?;
        Ok(())
    }
}

/// Ends quietly where the reader of a pipe has gone (`holdproof list | head`).
pub fn pardon_closed_pipe(result: Result<Exit, Failure>) -> Result<Exit, Failure> {
    match result {
        Err(failure) if failure.closed_pipe => Ok(Exit::Fine),
        other => other,
    }
}
