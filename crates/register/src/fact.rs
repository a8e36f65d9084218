//! One immutable fact of the log.

use crate::clock::LATEST_MILLIS;
use crate::field::Record;
use crate::record::*;
use serde::{Deserialize, Serialize};
use uuid::Uuid;

/// Hybrid logical clock: orders facts of all devices even when their clocks are wrong.
/// Ordered by time, then counter, then device; ties are broken by the fact's id.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Stamp {
    /// Milliseconds since 1970 UTC, never running backwards on one device.
    pub millis: u64,
    /// Counts facts within one millisecond.
    pub counter: u32,
    /// Device name.
    pub device: String,
}

/// What a fact is about. The text is the subject's identity: a readable path made when the subject is
/// first recorded (`harl-quarry`, `harl-quarry/blind-corner`, `harl-quarry/blind-corner/3`), and it
/// never changes, even if names do. See [`identity`](crate::identity).
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(tag = "kind", content = "id", rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum Subject {
    Crag(String),
    Route(String),
    Placement(String),
    /// `<placement>/f<placed-on or year>`
    Fitting(String),
    /// `<placement>/s<date>-<person>`
    Sighting(String),
    /// `<placement>/p<date>` and a number if several
    Pull(String),
    Photo(String),
    Batch(String),
    Stock(String),
}

impl Subject {
    /// The kind as one word: `crag`, `route` ... as in stored JSON.
    pub fn kind(&self) -> &'static str {
        match self {
            Subject::Crag(_) => "crag",
            Subject::Route(_) => "route",
            Subject::Placement(_) => "placement",
            Subject::Fitting(_) => "fitting",
            Subject::Sighting(_) => "sighting",
            Subject::Pull(_) => "pull",
            Subject::Photo(_) => "photo",
            Subject::Batch(_) => "batch",
            Subject::Stock(_) => "stock",
        }
    }

    /// The identity.
    pub fn id(&self) -> &str {
        match self {
            Subject::Crag(id)
            | Subject::Route(id)
            | Subject::Placement(id)
            | Subject::Fitting(id)
            | Subject::Sighting(id)
            | Subject::Pull(id)
            | Subject::Photo(id)
            | Subject::Batch(id)
            | Subject::Stock(id) => id,
        }
    }

    /// The subject of a kind's word and an identity; `None` for a word that is no kind.
    pub fn from_parts(kind: &str, id: String) -> Option<Subject> {
        Some(match kind {
            "crag" => Subject::Crag(id),
            "route" => Subject::Route(id),
            "placement" => Subject::Placement(id),
            "fitting" => Subject::Fitting(id),
            "sighting" => Subject::Sighting(id),
            "pull" => Subject::Pull(id),
            "photo" => Subject::Photo(id),
            "batch" => Subject::Batch(id),
            "stock" => Subject::Stock(id),
            _ => return None,
        })
    }
}

impl std::fmt::Display for Subject {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} {}", self.kind(), self.id())
    }
}

/// What a fact says. Every field of a record is optional: a fact states the fields it knows and leaves
/// the others as earlier facts left them.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "says", content = "record", rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum Body {
    Crag(CragRecord),
    Route(RouteRecord),
    Placement(PlacementRecord),
    Fitting(FittingRecord),
    Sighting(SightingRecord),
    Pull(PullRecord),
    Photo(PhotoRecord),
    Batch(BatchRecord),
    Stock(StockRecord),
    /// The subject was recorded in error and is left out of the state; the log keeps it. A later record
    /// brings it back with all it said before.
    Withdrawn {
        reason: String,
    },
    /// These fields were stated in error and are not known; names as in the record.
    Retracted {
        fields: Vec<String>,
        reason: String,
    },
}

/// Does one thing with the record, whatever its kind, or another with a body that holds none.
macro_rules! on_record {
    ($body:expr, |$record:ident| $do:expr, $otherwise:expr) => {
        match $body {
            Body::Crag($record) => $do,
            Body::Route($record) => $do,
            Body::Placement($record) => $do,
            Body::Fitting($record) => $do,
            Body::Sighting($record) => $do,
            Body::Pull($record) => $do,
            Body::Photo($record) => $do,
            Body::Batch($record) => $do,
            Body::Stock($record) => $do,
            Body::Withdrawn { .. } | Body::Retracted { .. } => $otherwise,
        }
    };
}

impl Body {
    /// What it is in one word: the kind of its record, `withdrawn` or `retracted`.
    pub fn says(&self) -> &'static str {
        match self {
            Body::Crag(_) => "crag",
            Body::Route(_) => "route",
            Body::Placement(_) => "placement",
            Body::Fitting(_) => "fitting",
            Body::Sighting(_) => "sighting",
            Body::Pull(_) => "pull",
            Body::Photo(_) => "photo",
            Body::Batch(_) => "batch",
            Body::Stock(_) => "stock",
            Body::Withdrawn { .. } => "withdrawn",
            Body::Retracted { .. } => "retracted",
        }
    }

    /// Drops every field whose number is NaN or infinite: such a number says nothing.
    pub fn keep_sayings(&mut self) {
        on_record!(self, |record| record.keep_sayings(), {});
    }

    /// Names of the fields whose number is NaN or infinite.
    pub fn empty_numbers(&self) -> Vec<&'static str> {
        on_record!(self, |record| record.empty_numbers(), Vec::new())
    }

    /// The content as JSON, without the word of [`Body::says`]. Numbers that are NaN or infinite are
    /// left out, since JSON cannot write them and they say nothing.
    ///
    /// # Errors
    /// Only what the JSON writer reports; these types give it no cause.
    pub fn to_json(&self) -> Result<String, serde_json::Error> {
        match self {
            Body::Withdrawn { reason } => serde_json::to_string(&Withdrawal { reason: reason.clone() }),
            Body::Retracted { fields, reason } => {
                serde_json::to_string(&Retraction { fields: fields.clone(), reason: reason.clone() })
            }
            _ => on_record!(self, |record| record_json(record), Ok(String::new())),
        }
    }

    /// The body of a word of [`Body::says`] and the JSON of [`Body::to_json`].
    ///
    /// # Errors
    /// A word that is none of them, or JSON that does not hold such a record.
    pub fn from_json(says: &str, json: &str) -> Result<Body, serde_json::Error> {
        Ok(match says {
            "crag" => Body::Crag(serde_json::from_str(json)?),
            "route" => Body::Route(serde_json::from_str(json)?),
            "placement" => Body::Placement(serde_json::from_str(json)?),
            "fitting" => Body::Fitting(serde_json::from_str(json)?),
            "sighting" => Body::Sighting(serde_json::from_str(json)?),
            "pull" => Body::Pull(serde_json::from_str(json)?),
            "photo" => Body::Photo(serde_json::from_str(json)?),
            "batch" => Body::Batch(serde_json::from_str(json)?),
            "stock" => Body::Stock(serde_json::from_str(json)?),
            "withdrawn" => {
                let Withdrawal { reason } = serde_json::from_str(json)?;
                Body::Withdrawn { reason }
            }
            "retracted" => {
                let Retraction { fields, reason } = serde_json::from_str(json)?;
                Body::Retracted { fields, reason }
            }
            other => {
                let message = format!("`{other}` is no kind of record");
                return Err(serde::de::Error::custom(message));
            }
        })
    }
}

fn record_json<R: Record + Serialize>(record: &R) -> Result<String, serde_json::Error> {
    if record.says_everything() {
        return serde_json::to_string(record);
    }
    let mut sayings = record.clone();
    sayings.keep_sayings();
    serde_json::to_string(&sayings)
}

#[derive(Serialize, Deserialize)]
struct Withdrawal {
    reason: String,
}

#[derive(Serialize, Deserialize)]
struct Retraction {
    fields: Vec<String>,
    reason: String,
}

/// One immutable fact.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Fact {
    /// UUID version 7.
    pub id: Uuid,
    /// Person who states it.
    pub author: String,
    /// Hybrid logical time.
    pub stamp: Stamp,
    /// Wall clock when it was written, milliseconds since 1970 UTC.
    pub wall_millis: i64,
    /// Where it came from when imported: file name, sheet, row.
    pub origin: Option<String>,
    /// What it is about.
    pub subject: Subject,
    /// What it says.
    pub body: Body,
}

/// A fact that no log may take in.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[allow(missing_docs)]
pub enum FactError {
    #[error(
        "fact {id} is about {subject} but holds a {says} record; it was not written by this program or was damaged on the way."
    )]
    OtherKind { id: Uuid, subject: Subject, says: &'static str },
    #[error("fact {id} names no subject; every fact must say which {kind} it is about.")]
    NoSubject { id: Uuid, kind: &'static str },
    #[error(
        "fact {id} of device `{device}` is stamped later than the year 2200; set that device's clock and state the fact again."
    )]
    FromTheFarFuture { id: Uuid, device: String },
}

impl Fact {
    /// Checks what the fold relies on: body and subject of one kind, an identity, a stamp before 2200.
    ///
    /// # Errors
    /// The first of these that is not so.
    pub fn check(&self) -> Result<(), FactError> {
        let says = self.body.says();
        if !matches!(self.body, Body::Withdrawn { .. } | Body::Retracted { .. })
            && says != self.subject.kind()
        {
            return Err(FactError::OtherKind { id: self.id, subject: self.subject.clone(), says });
        }
        if self.subject.id().trim().is_empty() {
            return Err(FactError::NoSubject { id: self.id, kind: self.subject.kind() });
        }
        if self.stamp.millis > LATEST_MILLIS {
            return Err(FactError::FromTheFarFuture { id: self.id, device: self.stamp.device.clone() });
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use units::Length;

    #[test]
    fn unknown_fields_and_empty_numbers_are_not_written() {
        let record = FittingRecord {
            diameter: Some(Length::mm(f64::NAN)),
            length: Some(Length::mm(90.0)),
            ..FittingRecord::default()
        };
        let body = Body::Fitting(record);
        assert_eq!(body.to_json().unwrap(), r#"{"length":0.09}"#);
        assert_eq!(body.empty_numbers(), ["diameter"]);
    }

    #[test]
    fn body_survives_json() {
        let bodies = [
            Body::Withdrawn { reason: "entered twice".into() },
            Body::Retracted { fields: vec!["torque".into()], reason: "another bolt".into() },
            Body::Placement(PlacementRecord {
                height: Some(Length::m(0.1 + 0.2)),
                ..PlacementRecord::default()
            }),
        ];
        for body in bodies {
            assert_eq!(Body::from_json(body.says(), &body.to_json().unwrap()).unwrap(), body);
        }
        assert!(Body::from_json("bolt", "{}").is_err());
        assert!(Body::from_json("crag", "[").is_err());
    }
}
