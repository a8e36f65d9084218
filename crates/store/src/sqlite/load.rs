//! Reading the log and the kept state.

use super::{means, open, row};
use crate::{Checked, Position, StoreError};
use register::{Fact, Stamp, State, Subject};
use rusqlite::{Connection, OptionalExtension, params};
use std::path::Path;

pub(super) fn facts_after(
    connection: &Connection,
    path: &Path,
    after: Position,
    limit: usize,
) -> Result<Vec<(Position, Fact)>, StoreError> {
    let wrong = |error| means(path, error);
    let sql = format!("SELECT {} FROM facts WHERE seq > ?1 ORDER BY seq LIMIT ?2", row::FACT);
    let mut select = connection.prepare_cached(&sql).map_err(wrong)?;
    let (after, limit) =
        (i64::try_from(after.0).unwrap_or(i64::MAX), i64::try_from(limit).unwrap_or(i64::MAX));
    let mut rows = select.query(params![after, limit]).map_err(wrong)?;
    let mut facts = Vec::new();
    while let Some(row) = rows.next().map_err(wrong)? {
        let seq: i64 = row.get(0).map_err(wrong)?;
        facts.push((Position(seq.cast_unsigned()), row::fact(row, path)?));
    }
    Ok(facts)
}

pub(super) fn facts_about(
    connection: &Connection,
    path: &Path,
    subject: &Subject,
) -> Result<Vec<Fact>, StoreError> {
    facts(connection, path, "subject = ?1 AND kind = ?2", params![subject.id(), subject.kind()])
}

pub(super) fn facts_from(connection: &Connection, path: &Path, file: &str) -> Result<Vec<Fact>, StoreError> {
    // The comma and blank keep `bolts.csv` apart from `bolts.csv.old`.
    let start = format!("{file}, ");
    facts(connection, path, "origin = ?1 OR substr(origin, 1, length(?2)) = ?2", params![file, start])
}

pub(super) fn facts_from_name(
    connection: &Connection,
    path: &Path,
    name: &str,
) -> Result<Vec<Fact>, StoreError> {
    // The same two forms as above, behind a slash.
    let whole = format!("/{name}, ");
    facts(connection, path, "instr('/' || origin || ', ', ?1) > 0", params![whole])
}

fn facts(
    connection: &Connection,
    path: &Path,
    which: &str,
    values: impl rusqlite::Params,
) -> Result<Vec<Fact>, StoreError> {
    let wrong = |error| means(path, error);
    let sql = format!("SELECT {} FROM facts WHERE {which} ORDER BY seq", row::FACT);
    let mut select = connection.prepare_cached(&sql).map_err(wrong)?;
    let mut rows = select.query(values).map_err(wrong)?;
    let mut facts = Vec::new();
    while let Some(row) = rows.next().map_err(wrong)? {
        facts.push(row::fact(row, path)?);
    }
    Ok(facts)
}

/// Hands over every fact in the order of appending, one at a time.
pub(super) fn each_fact(
    connection: &Connection,
    path: &Path,
    mut take: impl FnMut(Fact) -> Result<(), StoreError>,
) -> Result<(), StoreError> {
    let wrong = |error| means(path, error);
    let mut select =
        connection.prepare(&format!("SELECT {} FROM facts ORDER BY seq", row::FACT)).map_err(wrong)?;
    let mut rows = select.query([]).map_err(wrong)?;
    while let Some(row) = rows.next().map_err(wrong)? {
        take(row::fact(row, path)?)?;
    }
    Ok(())
}

pub(super) fn state(connection: &Connection, path: &Path) -> Result<State, StoreError> {
    let wrong = |error| means(path, error);
    let mut select = connection.prepare(&format!("SELECT {} FROM subjects", row::SUBJECT)).map_err(wrong)?;
    let mut rows = select.query([]).map_err(wrong)?;
    let mut trouble = None;
    let state = State::restore(std::iter::from_fn(|| {
        let next = match rows.next() {
            Ok(Some(row)) => row::folded(row, path),
            Ok(None) => return None,
            Err(error) => Err(wrong(error)),
        };
        next.map_err(|error| trouble = Some(error)).ok()
    }));
    match trouble {
        None => Ok(state),
        Some(error) => Err(error),
    }
}

pub(super) fn latest_stamp(connection: &Connection) -> rusqlite::Result<Option<Stamp>> {
    let sql =
        "SELECT millis, counter, device FROM facts ORDER BY millis DESC, counter DESC, device DESC LIMIT 1";
    connection
        .query_row(sql, [], |row| {
            let millis: i64 = row.get(0)?;
            Ok(Stamp { millis: millis.cast_unsigned(), counter: row.get(1)?, device: row.get(2)? })
        })
        .optional()
}

pub(super) fn fact_count(connection: &Connection) -> rusqlite::Result<usize> {
    let count: i64 = connection.query_row("SELECT count(*) FROM facts", [], |row| row.get(0))?;
    Ok(usize::try_from(count).unwrap_or(0))
}

/// Pages, indexes, every fact, and the kept state against a fold of the log.
pub(super) fn check(connection: &Connection, path: &Path) -> Result<Checked, StoreError> {
    open::pages(connection, path, "integrity_check")?;
    let mut state = State::default();
    let mut facts = 0;
    let mut batch = Vec::new();
    each_fact(connection, path, |fact| {
        facts += 1;
        batch.push(fact);
        if batch.len() == 10_000 {
            state.apply(batch.drain(..));
        }
        Ok(())
    })?;
    state.apply(batch);
    if state != self::state(connection, path)? {
        let what = "the kept state is not what the log of facts says".to_owned();
        return Err(StoreError::Damaged { path: path.to_owned(), what });
    }
    let subjects = connection
        .query_row("SELECT count(*) FROM subjects", [], |row| row.get::<_, i64>(0))
        .map_err(|error| means(path, error))?;
    Ok(Checked { facts, subjects: usize::try_from(subjects).unwrap_or(0) })
}
