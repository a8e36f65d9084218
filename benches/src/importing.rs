//! Importing a sheet into a register on disk, as the command line does it.

use crate::invented::TODAY;
use register::{Clock, Fact};
use std::fs::File;
use std::io::{BufReader, Error};
use std::path::Path;
use store::{RegisterStore, SqliteStore};
use uuid::Uuid;

/// Reads the sheet, states what it says, appends that to the register and folds it into the state.
/// Returns the number of new facts.
///
/// # Errors
/// The sheet cannot be read or the register not written.
pub fn sheet(path: &Path, register: &Path) -> Result<usize, Error> {
    let mut store = SqliteStore::create(register).map_err(Error::other)?;
    let mut state = store.state().map_err(Error::other)?;
    let latest = store.latest_stamp().map_err(Error::other)?;
    let mut clock = Clock::resume("bench".to_owned(), latest.as_ref());
    let mut facts = Vec::new();
    let options = exchange::Options::new(TODAY);
    let file = BufReader::new(File::open(path)?);
    exchange::read_batches("bolts.csv", file, &options, &state, &mut |_, drafts| {
        facts.extend(drafts.into_iter().map(|draft| Fact {
            id: Uuid::now_v7(),
            author: "Ines Morrow".to_owned(),
            stamp: clock.tick(1_764_000_000_000),
            wall_millis: 1_764_000_000_000,
            origin: Some(exchange::origin("bolts.csv", None, draft.row)),
            subject: draft.subject,
            body: draft.body,
        }));
    })
    .map_err(Error::other)?;
    let added = store.append(&facts).map_err(Error::other)?.added;
    state.apply(facts);
    std::hint::black_box(&state);
    Ok(added)
}
