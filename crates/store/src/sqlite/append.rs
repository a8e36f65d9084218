//! Writing a batch: facts and the state that follows from them, in one transaction.

use super::{means, row};
use crate::{Appended, StoreError};
use register::{Fact, State, Subject};
use rusqlite::{Connection, OptionalExtension, Transaction, TransactionBehavior, params};
use std::collections::BTreeSet;
use std::path::Path;

pub(super) fn append(
    connection: &mut Connection,
    path: &Path,
    facts: &[Fact],
) -> Result<Appended, StoreError> {
    for fact in facts {
        fact.check()?;
    }
    let wrong = |error| means(path, error);
    let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate).map_err(wrong)?;
    let written = log(&transaction, path, facts)?;
    let subjects: BTreeSet<&Subject> = written.to_fold.iter().map(|fact| &fact.subject).collect();
    let mut state = kept(&transaction, path, subjects.iter().copied())?;
    state.apply(written.to_fold.into_iter().cloned());
    keep(&transaction, path, &state, subjects)?;
    transaction.commit().map_err(wrong)?;
    Ok(Appended { added: written.added, known: facts.len() - written.added })
}

/// What writing the log left to do.
struct Logged<'a> {
    added: usize,
    /// Facts about subjects that have a kept state already.
    to_fold: Vec<&'a Fact>,
}

/// Writes the facts that are not there yet. The first record of a subject is its state, and is kept as
/// such at once; all other facts are handed back to be folded.
fn log<'a>(transaction: &Transaction<'_>, path: &Path, facts: &'a [Fact]) -> Result<Logged<'a>, StoreError> {
    let wrong = |error| means(path, error);
    let mut logged = Logged { added: 0, to_fold: Vec::new() };
    let mut insert = transaction
        .prepare_cached(
            "INSERT INTO facts (id, millis, counter, device, author, wall_millis, origin, kind, subject, says, body)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11) ON CONFLICT (id) DO NOTHING",
        )
        .map_err(wrong)?;
    let mut first = transaction
        .prepare_cached(
            "INSERT INTO subjects (kind, id, visible, record, millis, counter, device, fact)
             VALUES (?1, ?2, 1, ?3, ?4, ?5, ?6, ?7) ON CONFLICT (kind, id) DO NOTHING",
        )
        .map_err(wrong)?;
    for fact in facts {
        let body = fact.body.to_json().map_err(|error| unwritable(path, error))?;
        let (kind, id, stamp) = (fact.subject.kind(), fact.subject.id(), &fact.stamp);
        let millis = stamp.millis.cast_signed();
        let added = insert
            .execute(params![
                fact.id.as_bytes(),
                millis,
                stamp.counter,
                stamp.device,
                fact.author,
                fact.wall_millis,
                fact.origin,
                kind,
                id,
                fact.body.says(),
                body,
            ])
            .map_err(wrong)?;
        if added == 0 {
            must_be_same(transaction, path, fact)?;
            continue;
        }
        logged.added += 1;
        let is_first = fact.body.says() == kind
            && first
                .execute(params![kind, id, body, millis, stamp.counter, stamp.device, fact.id.as_bytes()])
                .map_err(wrong)?
                > 0;
        if !is_first {
            logged.to_fold.push(fact);
        }
    }
    Ok(logged)
}

/// The same id must mean the same fact.
fn must_be_same(transaction: &Transaction<'_>, path: &Path, fact: &Fact) -> Result<(), StoreError> {
    let wrong = |error| means(path, error);
    let sql = format!("SELECT {} FROM facts WHERE id = ?1", row::FACT);
    let mut known = transaction.prepare_cached(&sql).map_err(wrong)?;
    let known = known.query_row([fact.id.as_bytes()], |row| Ok(row::fact(row, path))).map_err(wrong)??;
    let mut sent = fact.clone();
    sent.body.keep_sayings();
    if known == sent { Ok(()) } else { Err(StoreError::Clash { id: fact.id }) }
}

/// The state of these subjects as it is kept.
fn kept<'a>(
    transaction: &Transaction<'_>,
    path: &Path,
    subjects: impl Iterator<Item = &'a Subject>,
) -> Result<State, StoreError> {
    let wrong = |error| means(path, error);
    let sql = format!("SELECT {} FROM subjects WHERE kind = ?1 AND id = ?2", row::SUBJECT);
    let mut select = transaction.prepare_cached(&sql).map_err(wrong)?;
    let mut found = Vec::new();
    for subject in subjects {
        let kept = select
            .query_row([subject.kind(), subject.id()], |row| Ok(row::folded(row, path)))
            .optional()
            .map_err(wrong)?;
        if let Some(folded) = kept {
            found.push(folded?);
        }
    }
    Ok(State::restore(found))
}

/// Keeps the state of these subjects.
pub(super) fn keep<'a>(
    transaction: &Transaction<'_>,
    path: &Path,
    state: &State,
    subjects: impl IntoIterator<Item = &'a Subject>,
) -> Result<(), StoreError> {
    let wrong = |error| means(path, error);
    let mut replace = transaction
        .prepare_cached(
            "INSERT OR REPLACE INTO subjects
             (kind, id, visible, record, millis, counter, device, fact, written, withdrawn)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)",
        )
        .map_err(wrong)?;
    for folded in subjects.into_iter().filter_map(|subject| state.folded(subject)) {
        let json = |error| unwritable(path, error);
        let stated = folded.stated.as_ref();
        let withdrawn = folded.withdrawn.as_ref().map(serde_json::to_string).transpose().map_err(json)?;
        replace
            .execute(params![
                folded.subject.kind(),
                folded.subject.id(),
                folded.is_visible(),
                folded.record.to_json().map_err(json)?,
                stated.map(|mark| mark.stamp.millis.cast_signed()),
                stated.map(|mark| mark.stamp.counter),
                stated.map(|mark| &mark.stamp.device),
                stated.map(|mark| mark.fact.as_bytes()),
                row::written(&folded).map_err(json)?,
                withdrawn,
            ])
            .map_err(wrong)?;
    }
    Ok(())
}

fn unwritable(path: &Path, error: serde_json::Error) -> StoreError {
    StoreError::Database { path: path.to_owned(), source: Box::new(error) }
}
