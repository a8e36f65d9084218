//! The state of one subject on its own, for stores that keep the state beside the log.

use super::mark::{Mark, Marks, NONE};
use super::table::{self, Entry, Table};
use super::{State, with_table};
use crate::fact::{Body, Subject};
use crate::field::Record;
use serde::{Deserialize, Serialize};

/// Which facts wrote the fields of a folded record.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Written {
    /// One fact wrote every field that says something.
    All(Mark),
    /// Name of each field that was ever written, and its fact.
    Each(Vec<(String, Mark)>),
}

/// The state of one subject: all that later facts need to be folded in.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Folded {
    /// Which subject.
    pub subject: Subject,
    /// Its record (never a withdrawal or retraction).
    pub record: Body,
    /// Which facts wrote its fields.
    pub written: Written,
    /// Latest fact with a record; `None` if only withdrawals or retractions are there.
    pub stated: Option<Mark>,
    /// Latest withdrawal.
    pub withdrawn: Option<Mark>,
}

impl Folded {
    /// True if the subject is part of the visible state.
    pub fn is_visible(&self) -> bool {
        self.stated.is_some() && self.stated > self.withdrawn
    }
}

fn out<R: Record>(table: &Table<R>, marks: &Marks, id: &str, wrap: fn(R) -> Body) -> Option<(Body, Parts)> {
    let entry = table.entry(id).filter(|entry| entry.has_facts())?;
    let written = match &entry.written {
        table::Written::All(mark) => Written::All(marks.get(*mark)?),
        _ => Written::Each(
            R::FIELDS
                .iter()
                .enumerate()
                .filter_map(|(field, name)| Some(((*name).to_owned(), marks.get(entry.writer(field))?)))
                .collect(),
        ),
    };
    let parts = Parts { written, stated: marks.get(entry.stated), withdrawn: marks.get(entry.withdrawn) };
    Some((wrap(entry.record.clone()), parts))
}

struct Parts {
    written: Written,
    stated: Option<Mark>,
    withdrawn: Option<Mark>,
}

fn back<R: Record>(table: &mut Table<R>, marks: &mut Marks, id: &str, record: R, parts: Parts) -> u32 {
    let mut number = |mark: &Mark| marks.add(&mark.stamp, mark.fact);
    let mut entry = Entry { record, ..Entry::default() };
    let mut one = None;
    match &parts.written {
        Written::All(mark) => {
            let by = number(mark);
            one = Some((mark, by));
            entry.written = table::Written::All(by);
        }
        Written::Each(fields) => {
            let mut writers = vec![NONE; R::FIELDS.len()];
            for (name, mark) in fields {
                if let Some(field) = R::field(name) {
                    writers[field] = number(mark);
                }
            }
            entry.written = table::Written::Each(writers.into());
        }
    }
    let mut again = |mark: &Mark| match one {
        Some((same, by)) if same == mark => by,
        _ => number(mark),
    };
    entry.stated = parts.stated.as_ref().map_or(NONE, &mut again);
    entry.withdrawn = parts.withdrawn.as_ref().map_or(NONE, &mut again);
    entry.show(marks);
    let slot = table.slot(id);
    if let Some(place) = table.at_mut(slot) {
        *place = entry;
    }
    slot
}

impl State {
    /// The state of one subject on its own; `None` if no fact is about it.
    pub fn folded(&self, subject: &Subject) -> Option<Folded> {
        let marks = &self.marks;
        let (record, parts) = match subject {
            Subject::Crag(id) => out(&self.crags, marks, id, Body::Crag),
            Subject::Route(id) => out(&self.routes, marks, id, Body::Route),
            Subject::Placement(id) => out(&self.placements, marks, id, Body::Placement),
            Subject::Fitting(id) => out(&self.fittings, marks, id, Body::Fitting),
            Subject::Sighting(id) => out(&self.sightings, marks, id, Body::Sighting),
            Subject::Pull(id) => out(&self.pulls, marks, id, Body::Pull),
            Subject::Photo(id) => out(&self.photos, marks, id, Body::Photo),
            Subject::Batch(id) => out(&self.batches, marks, id, Body::Batch),
            Subject::Stock(id) => out(&self.stock, marks, id, Body::Stock),
        }?;
        let Parts { written, stated, withdrawn } = parts;
        Some(Folded { subject: subject.clone(), record, written, stated, withdrawn })
    }

    /// The state that [`State::folded`] took apart. Each subject once; a record of another kind than its
    /// subject is left out.
    pub fn restore(folded: impl IntoIterator<Item = Folded>) -> State {
        let folded = folded.into_iter();
        let mut state = State::default();
        state.marks.reserve(folded.size_hint().0);
        for Folded { subject, record, written, stated, withdrawn } in folded {
            let parts = Parts { written, stated, withdrawn };
            let marks = &mut state.marks;
            let slot = match (&subject, record) {
                (Subject::Crag(id), Body::Crag(record)) => back(&mut state.crags, marks, id, record, parts),
                (Subject::Route(id), Body::Route(record)) => {
                    back(&mut state.routes, marks, id, record, parts)
                }
                (Subject::Placement(id), Body::Placement(record)) => {
                    back(&mut state.placements, marks, id, record, parts)
                }
                (Subject::Fitting(id), Body::Fitting(record)) => {
                    back(&mut state.fittings, marks, id, record, parts)
                }
                (Subject::Sighting(id), Body::Sighting(record)) => {
                    back(&mut state.sightings, marks, id, record, parts)
                }
                (Subject::Pull(id), Body::Pull(record)) => back(&mut state.pulls, marks, id, record, parts),
                (Subject::Photo(id), Body::Photo(record)) => {
                    back(&mut state.photos, marks, id, record, parts)
                }
                (Subject::Batch(id), Body::Batch(record)) => {
                    back(&mut state.batches, marks, id, record, parts)
                }
                (Subject::Stock(id), Body::Stock(record)) => back(&mut state.stock, marks, id, record, parts),
                _ => continue,
            };
            state.relink(&subject, slot);
        }
        state.settle();
        state
    }

    /// Makes room for about `more` subjects of one kind at once.
    pub fn reserve(&mut self, kind: &Subject, more: usize) {
        with_table!(self, kind, |table, _id| table.reserve(more));
    }
}
