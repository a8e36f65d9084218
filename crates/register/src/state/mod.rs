//! The state: what all facts together say.
//!
//! Each field of a subject is what the latest fact (by stamp, then id) says of it; a subject is visible
//! if its latest record comes after its latest withdrawal. Both are the greatest of a set, so the state
//! depends on which facts were taken in, never on their order, their batches or their repetition.

mod folded;
mod look;
mod mark;
mod relation;
mod table;

pub use folded::{Folded, Written};
pub use look::{Counts, Known};
pub(crate) use look::{day_of, pitch_of};
pub use mark::Mark;

use crate::fact::{Body, Fact, Stamp, Subject};
use crate::identity::{self, Placed};
use crate::record::*;
use mark::Marks;
use relation::Relation;
use rustc_hash::FxHashMap;
use std::cmp::Ordering;
use table::Table;

/// What all facts taken in so far say.
#[derive(Clone, Debug, Default)]
pub struct State {
    marks: Marks,
    crags: Table<CragRecord>,
    routes: Table<RouteRecord>,
    placements: Table<PlacementRecord>,
    fittings: Table<FittingRecord>,
    sightings: Table<SightingRecord>,
    pulls: Table<PullRecord>,
    photos: Table<PhotoRecord>,
    batches: Table<BatchRecord>,
    stock: Table<StockRecord>,
    routes_of: Relation,
    placements_of: Relation,
    fittings_of: Relation,
    sightings_of: Relation,
    pulls_of: Relation,
    fittings_of_batch: Relation,
    /// Slot of the batch of each fitting.
    batch_of: FxHashMap<u32, u32>,
    photos_of: FxHashMap<String, Vec<u32>>,
    shown_by: FxHashMap<u32, String>,
}

/// Runs `$do` with the table of the subject's kind and its identity.
macro_rules! with_table {
    ($state:expr, $subject:expr, |$table:ident, $id:ident| $do:expr) => {
        match $subject {
            Subject::Crag($id) => {
                let $table = &mut $state.crags;
                $do
            }
            Subject::Route($id) => {
                let $table = &mut $state.routes;
                $do
            }
            Subject::Placement($id) => {
                let $table = &mut $state.placements;
                $do
            }
            Subject::Fitting($id) => {
                let $table = &mut $state.fittings;
                $do
            }
            Subject::Sighting($id) => {
                let $table = &mut $state.sightings;
                $do
            }
            Subject::Pull($id) => {
                let $table = &mut $state.pulls;
                $do
            }
            Subject::Photo($id) => {
                let $table = &mut $state.photos;
                $do
            }
            Subject::Batch($id) => {
                let $table = &mut $state.batches;
                $do
            }
            Subject::Stock($id) => {
                let $table = &mut $state.stock;
                $do
            }
        }
    };
}
use with_table;

impl State {
    /// The state of a set of facts.
    pub fn of(facts: impl IntoIterator<Item = Fact>) -> State {
        let mut state = State::default();
        state.apply(facts);
        state
    }

    /// Takes in more facts. Facts already taken in change nothing; facts that fail [`Fact::check`]
    /// because body and subject are of different kinds say nothing.
    pub fn apply(&mut self, facts: impl IntoIterator<Item = Fact>) {
        for fact in facts {
            self.take_in(fact);
        }
        self.settle();
    }

    fn take_in(&mut self, fact: Fact) {
        let Fact { id, stamp, subject, body, .. } = fact;
        let by = self.marks.add(&stamp, id);
        let marks = &self.marks;
        macro_rules! record {
            ($table:ident, $id:expr, $record:expr) => {{
                let slot = self.$table.slot($id);
                let used = self.$table.at_mut(slot).is_some_and(|entry| entry.state($record, by, marks));
                (used, slot)
            }};
        }
        let (used, slot) = match (&subject, body) {
            (Subject::Crag(id), Body::Crag(record)) => record!(crags, id, record),
            (Subject::Route(id), Body::Route(record)) => record!(routes, id, record),
            (Subject::Placement(id), Body::Placement(record)) => record!(placements, id, record),
            (Subject::Fitting(id), Body::Fitting(record)) => record!(fittings, id, record),
            (Subject::Sighting(id), Body::Sighting(record)) => record!(sightings, id, record),
            (Subject::Pull(id), Body::Pull(record)) => record!(pulls, id, record),
            (Subject::Photo(id), Body::Photo(record)) => record!(photos, id, record),
            (Subject::Batch(id), Body::Batch(record)) => record!(batches, id, record),
            (Subject::Stock(id), Body::Stock(record)) => record!(stock, id, record),
            (subject, Body::Withdrawn { .. }) => with_table!(self, subject, |table, id| {
                let slot = table.slot(id);
                (table.at_mut(slot).is_some_and(|entry| entry.withdraw(by, marks)), slot)
            }),
            (subject, Body::Retracted { fields, .. }) => with_table!(self, subject, |table, id| {
                let slot = table.slot(id);
                (table.at_mut(slot).is_some_and(|entry| entry.retract(&fields, by, marks)), slot)
            }),
            _ => (false, u32::MAX),
        };
        if used {
            self.relink(&subject, slot);
        } else {
            self.marks.drop_last();
        }
    }

    /// Puts a subject under the one it now belongs to.
    fn relink(&mut self, subject: &Subject, slot: u32) {
        macro_rules! under {
            ($table:ident, $field:ident, $parents:ident, $relation:ident) => {{
                let Some(entry) = self.$table.at_mut(slot) else { return };
                let new = entry.record.$field.as_deref().map_or(u32::MAX, |id| self.$parents.slot(id));
                let old = std::mem::replace(&mut entry.parent, new);
                self.$relation.link(slot, old, new);
            }};
        }
        match subject {
            Subject::Route(_) => under!(routes, crag, crags, routes_of),
            Subject::Placement(_) => under!(placements, route, routes, placements_of),
            Subject::Fitting(_) => {
                under!(fittings, placement, placements, fittings_of);
                self.relink_batch(slot);
            }
            Subject::Sighting(_) => under!(sightings, placement, placements, sightings_of),
            Subject::Pull(_) => under!(pulls, placement, placements, pulls_of),
            Subject::Photo(_) => self.relink_photo(slot),
            Subject::Crag(_) | Subject::Batch(_) | Subject::Stock(_) => {}
        }
    }

    fn relink_batch(&mut self, fitting: u32) {
        let Some((_, entry)) = self.fittings.at(fitting) else { return };
        let new = match entry.record.batch.as_deref() {
            Some(code) => self.batches.slot(&identity::batch(code)),
            None => u32::MAX,
        };
        let old = match new {
            u32::MAX => self.batch_of.remove(&fitting),
            new => self.batch_of.insert(fitting, new),
        };
        self.fittings_of_batch.link(fitting, old.unwrap_or(u32::MAX), new);
    }

    fn relink_photo(&mut self, photo: u32) {
        let Some((_, entry)) = self.photos.at(photo) else { return };
        let new = entry.record.shows.clone();
        let old = match &new {
            Some(shows) => self.shown_by.insert(photo, shows.clone()),
            None => self.shown_by.remove(&photo),
        };
        if old == new {
            return;
        }
        if let Some(photos) = old.and_then(|old| self.photos_of.get_mut(&old)) {
            photos.retain(|slot| *slot != photo);
        }
        if let Some(shows) = new {
            let list = self.photos_of.entry(shows).or_default();
            list.push(photo);
            list.sort_unstable_by(|a, b| self.photos.id(*a).cmp(self.photos.id(*b)));
        }
    }

    /// Brings every changed list into its order, which depends on the records alone.
    fn settle(&mut self) {
        // One order per kind: a key from the record, then the identity.
        fn by<R: crate::Record, K: Ord>(
            table: &Table<R>,
            key: impl Fn(&R) -> K,
        ) -> impl Fn(u32, u32) -> Ordering {
            move |a, b| match (table.at(a), table.at(b)) {
                (Some((a_id, a)), Some((b_id, b))) => {
                    key(&a.record).cmp(&key(&b.record)).then_with(|| a_id.cmp(b_id))
                }
                _ => a.cmp(&b),
            }
        }
        let placed = |record: &FittingRecord| day_of(Placed::from(record));
        self.routes_of.settle(by(&self.routes, |_| ()));
        self.placements_of.settle(by(&self.placements, look::place_on_route));
        self.fittings_of.settle(by(&self.fittings, placed));
        self.fittings_of_batch.settle(by(&self.fittings, |_| ()));
        self.sightings_of.settle(by(&self.sightings, |record| record.on));
        self.pulls_of.settle(by(&self.pulls, |record| record.on));
    }

    /// The latest stamp taken in, for [`Clock::resume`](crate::Clock::resume). A state made by
    /// [`State::restore`] knows only the stamps of facts that still show; ask the log there.
    pub fn latest(&self) -> Option<&Stamp> {
        self.marks.latest()
    }
}

/// Equal when every subject says the same, by the same facts.
impl PartialEq for State {
    fn eq(&self, other: &Self) -> bool {
        let (mine, theirs) = (&self.marks, &other.marks);
        self.crags.same(mine, &other.crags, theirs)
            && self.routes.same(mine, &other.routes, theirs)
            && self.placements.same(mine, &other.placements, theirs)
            && self.fittings.same(mine, &other.fittings, theirs)
            && self.sightings.same(mine, &other.sightings, theirs)
            && self.pulls.same(mine, &other.pulls, theirs)
            && self.photos.same(mine, &other.photos, theirs)
            && self.batches.same(mine, &other.batches, theirs)
            && self.stock.same(mine, &other.stock, theirs)
    }
}
