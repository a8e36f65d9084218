//! What a file said when it was read before. A sheet that still says so does not undo what was corrected in
//! the register since.

use super::{Found, Kind, copied_rows};
use crate::exit::Failure;
use exchange::Limits;
use register::{Fact, State};
use std::collections::BTreeSet;
use store::RegisterStore;

/// What earlier readings of this sheet stated; none if it was never read. A sheet that was moved is known by
/// its name, and a repair list repeats the sheets that its rows were copied from.
pub fn by_sheet(store: &impl RegisterStore, found: &Found, limits: Limits) -> Result<Option<State>, Failure> {
    if !matches!(found.kind, Kind::Sheet(_)) {
        return Ok(None);
    }
    let mut facts = by_file(store, &found.name)?;
    let originals: BTreeSet<String> = copied_rows(found, limits).into_iter().map(|row| row.file).collect();
    for original in &originals {
        facts.extend(by_file(store, original)?);
    }
    Ok((!facts.is_empty()).then(|| State::of(facts)))
}

fn by_file(store: &impl RegisterStore, file: &str) -> Result<Vec<Fact>, Failure> {
    let facts = store.facts_from(file)?;
    if !facts.is_empty() {
        return Ok(facts);
    }
    let name = file.rsplit('/').next().unwrap_or(file);
    Ok(store.facts_from_name(name)?)
}

/// Of the facts of a photo, trace or waypoint file, those that it did not state before.
pub fn news(store: &impl RegisterStore, found: &Found, facts: Vec<Fact>) -> Result<Vec<Fact>, Failure> {
    if matches!(found.kind, Kind::Sheet(_)) {
        return Ok(facts);
    }
    let start = format!("{}, ", found.name);
    let mut news = Vec::with_capacity(facts.len());
    for mut fact in facts {
        let mut before = store.facts_about(&fact.subject)?;
        before.retain(|f| f.origin.as_ref().is_some_and(|o| *o == found.name || o.starts_with(&start)));
        if let Some(body) = State::of(before).news(&fact.subject, fact.body) {
            fact.body = body;
            news.push(fact);
        }
    }
    Ok(news)
}
