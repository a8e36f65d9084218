//! Facts and folded subjects as table rows.

use super::means;
use crate::StoreError;
use register::{Body, Fact, Folded, Mark, Stamp, Subject, Written};
use rusqlite::Row;
use std::path::Path;
use uuid::Uuid;

/// Columns of a fact, in the order that [`fact`] reads.
pub(super) const FACT: &str =
    "seq, id, millis, counter, device, author, wall_millis, origin, kind, subject, says, body";

/// Columns of a subject, in the order that [`folded`] reads.
pub(super) const SUBJECT: &str = "kind, id, record, millis, counter, device, fact, written, withdrawn";

fn damaged(path: &Path, what: impl std::fmt::Display) -> StoreError {
    StoreError::Damaged { path: path.to_owned(), what: what.to_string() }
}

fn subject(path: &Path, kind: &str, id: String) -> Result<Subject, StoreError> {
    Subject::from_parts(kind, id)
        .ok_or_else(|| damaged(path, format_args!("a row is of the unknown kind `{kind}`")))
}

/// The fact of a row.
pub(super) fn fact(row: &Row<'_>, path: &Path) -> Result<Fact, StoreError> {
    let wrong = |error| means(path, error);
    let text = |column: usize| row.get_ref(column).map_err(wrong)?.as_str().map_err(|e| damaged(path, e));
    let seq: i64 = row.get(0).map_err(wrong)?;
    let body = Body::from_json(text(10)?, text(11)?)
        .map_err(|error| damaged(path, format_args!("fact number {seq} cannot be read ({error})")))?;
    Ok(Fact {
        id: Uuid::from_bytes(row.get(1).map_err(wrong)?),
        author: row.get(5).map_err(wrong)?,
        stamp: Stamp {
            millis: row.get::<_, i64>(2).map_err(wrong)?.cast_unsigned(),
            counter: row.get(3).map_err(wrong)?,
            device: row.get(4).map_err(wrong)?,
        },
        wall_millis: row.get(6).map_err(wrong)?,
        origin: row.get(7).map_err(wrong)?,
        subject: subject(path, text(8)?, row.get(9).map_err(wrong)?)?,
        body,
    })
}

/// The folded subject of a row.
pub(super) fn folded(row: &Row<'_>, path: &Path) -> Result<Folded, StoreError> {
    let wrong = |error| means(path, error);
    let text = |column: usize| row.get_ref(column).map_err(wrong)?.as_str().map_err(|e| damaged(path, e));
    let optional =
        |column: usize| row.get_ref(column).map_err(wrong)?.as_str_or_null().map_err(|e| damaged(path, e));
    let subject = subject(path, text(0)?, row.get(1).map_err(wrong)?)?;
    let unreadable =
        |error: serde_json::Error| damaged(path, format_args!("{subject} cannot be read ({error})"));
    let record = Body::from_json(subject.kind(), text(2)?).map_err(unreadable)?;
    let stated = match row.get::<_, Option<i64>>(3).map_err(wrong)? {
        None => None,
        Some(millis) => Some(Mark {
            stamp: Stamp {
                millis: millis.cast_unsigned(),
                counter: row.get(4).map_err(wrong)?,
                device: row.get(5).map_err(wrong)?,
            },
            fact: Uuid::from_bytes(row.get(6).map_err(wrong)?),
        }),
    };
    let written = match (optional(7)?, &stated) {
        (Some(json), _) => serde_json::from_str(json).map_err(unreadable)?,
        (None, Some(mark)) => Written::All(mark.clone()),
        (None, None) => Written::Each(Vec::new()),
    };
    let withdrawn = optional(8)?.map(serde_json::from_str).transpose().map_err(unreadable)?;
    Ok(Folded { subject, record, written, stated, withdrawn })
}

/// The `written` column of a subject: nothing where its latest record wrote every field.
pub(super) fn written(folded: &Folded) -> Result<Option<String>, serde_json::Error> {
    match (&folded.written, &folded.stated) {
        (Written::All(mark), Some(stated)) if mark == stated => Ok(None),
        (Written::Each(fields), None) if fields.is_empty() => Ok(None),
        (written, _) => serde_json::to_string(written).map(Some),
    }
}
