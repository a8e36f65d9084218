//! The invented scenario of the Sallow Ridge Bolting Group: its files, and the truth behind them.
//!
//! The same files come out on every run: one fixed seed, no clock, and transcendental functions from a
//! portable library. The truth (what each placement would really hold) is a model of this crate's own. It
//! shares no code with the crates that judge, so that their judgements can be scored against it.
//!
//! Belongs here: the world, its true strengths, and what the group's people saw and wrote of it.
//! May not come in: any of the judging crates.

mod dice;
mod gpx;
mod hardware;
mod loads;
mod names;
mod photo;
mod pulls;
mod region;
mod sheets;
mod signs;
mod strength;
mod trace;
mod truth;
mod world;

use anyhow::Result;

/// One file of the scenario.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct File {
    /// Path below the output folder, with forward slashes.
    pub path: String,
    /// Content.
    pub bytes: Vec<u8>,
}

impl File {
    fn new(path: impl Into<String>, bytes: impl Into<Vec<u8>>) -> Self {
        Self { path: path.into(), bytes: bytes.into() }
    }
}

/// All files of the scenario, inputs and truth, sorted by path.
///
/// # Errors
/// If a sheet or picture cannot be encoded, which no input can cause: there is none.
pub fn files() -> Result<Vec<File>> {
    let mut world = world::World::build();
    let pulls = pulls::run(&mut world);
    let sightings = signs::inspect(&world);
    let mut files = vec![
        sheets::harl(&world)?,
        sheets::tern(&world)?,
        sheets::otter(&world)?,
        sheets::sightings(&world, &sightings)?,
        sheets::pulls(&world, &pulls)?,
        sheets::crags()?,
        sheets::routes(&world)?,
        sheets::batches()?,
        sheets::stock()?,
        sheets::campaign(),
        truth::placements(&world)?,
        truth::pulled(&world, &pulls)?,
    ];
    files.extend(gpx::files(&world));
    files.extend(pulls.iter().map(trace::file));
    files.extend(photo::files(&world)?);
    files.sort_by(|a, b| a.path.cmp(&b.path));
    Ok(files)
}
