//! What a file said when it was read before. A sheet that still says so does not undo what was corrected in
//! the register since.

use super::{Found, Kind, copied_rows};
use crate::exit::Failure;
use exchange::Limits;
use register::{Fact, State};
use std::collections::{BTreeMap, BTreeSet};
use store::RegisterStore;

/// What earlier readings of this sheet stated; nothing if it was never read. A sheet that was moved is known
/// by its name, and a repair list repeats the sheets that its rows were copied from.
pub fn by_sheet(store: &impl RegisterStore, found: &Found, limits: Limits) -> Result<Vec<State>, Failure> {
    if !matches!(found.kind, Kind::Sheet(_)) {
        return Ok(Vec::new());
    }
    let mut said = by_file(store, &found.name)?;
    let originals: BTreeSet<String> = copied_rows(found, limits).into_iter().map(|row| row.file).collect();
    for original in &originals {
        said.extend(by_file(store, original)?);
    }
    Ok(said)
}

fn by_file(store: &impl RegisterStore, file: &str) -> Result<Vec<State>, Failure> {
    let facts = store.facts_from(file)?;
    if !facts.is_empty() {
        return Ok(vec![State::of(facts)]);
    }
    let name = file.rsplit('/').next().unwrap_or(file);
    // Namesakes in other folders may be other sheets: each has its own word.
    let mut by_path: BTreeMap<String, Vec<Fact>> = BTreeMap::new();
    for fact in store.facts_from_name(name)? {
        let origin = fact.origin.as_deref().unwrap_or_default();
        let folder = origin.find(&format!("/{name}")).map_or("", |at| &origin[..at]).to_owned();
        by_path.entry(folder).or_default().push(fact);
    }
    Ok(by_path.into_values().map(State::of).collect())
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
