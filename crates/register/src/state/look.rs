//! Looking things up in the state. Every list comes in an order that depends on the records alone.

use super::State;
use super::mark::{Marks, NONE};
use super::relation::Relation;
use super::table::Table;
use crate::fact::{Body, Subject};
use crate::field::Record;
use crate::identity::{self, Placed};
use crate::record::*;
use jiff::civil::Date;
use uuid::Uuid;

/// A visible subject: its identity and what is known of it.
#[derive(Debug, PartialEq)]
pub struct Known<'a, R> {
    /// Identity.
    pub id: &'a str,
    /// What is known.
    pub record: &'a R,
}

impl<R> Clone for Known<'_, R> {
    fn clone(&self) -> Self {
        *self
    }
}
impl<R> Copy for Known<'_, R> {}

/// How many visible subjects of each kind there are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs)]
pub struct Counts {
    pub crags: usize,
    pub routes: usize,
    pub placements: usize,
    pub fittings: usize,
    pub sightings: usize,
    pub pulls: usize,
    pub photos: usize,
    pub batches: usize,
    pub stock: usize,
}

/// Order on a route: pitch (none = the first), number (none = last).
pub(super) fn place_on_route(record: &PlacementRecord) -> (u16, u16) {
    (pitch_of(record), record.number.unwrap_or(u16::MAX))
}

/// The pitch of a placement; none recorded means the first.
pub(crate) fn pitch_of(record: &PlacementRecord) -> u16 {
    record.pitch.unwrap_or(1).max(1)
}

/// Order in time: unknown first, a year alone before the days of that year.
pub(crate) fn day_of(placed: Placed) -> (i16, i16) {
    match placed {
        Placed::Unknown => (i16::MIN, 0),
        Placed::Year(year) => (year, 0),
        Placed::On(date) => (date.year(), date.day_of_year()),
    }
}

fn visible<R: Record>(table: &Table<R>, slot: u32) -> Option<Known<'_, R>> {
    table.at(slot).filter(|(_, entry)| entry.visible).map(|(id, entry)| Known { id, record: &entry.record })
}

fn get<'a, R: Record>(table: &'a Table<R>, id: &str) -> Option<&'a R> {
    table.entry(id).filter(|entry| entry.visible).map(|entry| &entry.record)
}

fn all<R: Record>(table: &Table<R>) -> impl Iterator<Item = Known<'_, R>> {
    table.sorted().into_iter().filter_map(|slot| visible(table, slot))
}

fn under<'a, R: Record>(
    parent: Option<u32>,
    relation: &'a Relation,
    table: &'a Table<R>,
) -> impl DoubleEndedIterator<Item = Known<'a, R>> + Clone + use<'a, R> {
    let slots = parent.map_or(&[][..], |slot| relation.of(slot));
    slots.iter().filter_map(|slot| visible(table, *slot))
}

fn wrote<R: Record>(table: &Table<R>, marks: &Marks, id: &str, field: &str) -> Option<Uuid> {
    let writer = table.entry(id)?.writer(R::field(field)?);
    marks.fact(writer)
}

impl State {
    /// The crag of an identity.
    pub fn crag(&self, id: &str) -> Option<&CragRecord> {
        get(&self.crags, id)
    }
    /// All crags, by identity.
    pub fn crags(&self) -> impl Iterator<Item = Known<'_, CragRecord>> {
        all(&self.crags)
    }
    /// The route of an identity.
    pub fn route(&self, id: &str) -> Option<&RouteRecord> {
        get(&self.routes, id)
    }
    /// All routes, by identity.
    pub fn routes(&self) -> impl Iterator<Item = Known<'_, RouteRecord>> {
        all(&self.routes)
    }
    /// Routes of a crag, by identity.
    pub fn routes_of<'a>(
        &'a self,
        crag: &str,
    ) -> impl DoubleEndedIterator<Item = Known<'a, RouteRecord>> + Clone + use<'a> {
        under(self.crags.find(crag), &self.routes_of, &self.routes)
    }
    /// The placement of an identity.
    pub fn placement(&self, id: &str) -> Option<&PlacementRecord> {
        get(&self.placements, id)
    }
    /// All placements: route by route by identity, on each from the ground up; last those without a
    /// route.
    pub fn placements(&self) -> impl Iterator<Item = Known<'_, PlacementRecord>> {
        let mut strays: Vec<u32> = Vec::new();
        for (slot, (_, entry)) in self.placements.iter().enumerate() {
            if entry.visible && entry.parent == u32::MAX {
                strays.push(slot as u32);
            }
        }
        strays.sort_unstable_by(|a, b| self.placements.id(*a).cmp(self.placements.id(*b)));
        let on_routes =
            self.routes.sorted().into_iter().flat_map(|route| self.placements_of.of(route)).copied();
        on_routes.chain(strays).filter_map(|slot| visible(&self.placements, slot))
    }
    /// Placements of a route, by pitch and number.
    pub fn placements_of<'a>(
        &'a self,
        route: &str,
    ) -> impl DoubleEndedIterator<Item = Known<'a, PlacementRecord>> + Clone + use<'a> {
        under(self.routes.find(route), &self.placements_of, &self.placements)
    }
    /// Placements that come after this one on its route, in order.
    pub(crate) fn placements_after<'a>(
        &'a self,
        id: &str,
    ) -> impl Iterator<Item = Known<'a, PlacementRecord>> + use<'a> {
        self.beyond(id, true)
    }
    /// Placements that come before this one on its route, from the nearest down.
    pub(crate) fn placements_before<'a>(
        &'a self,
        id: &str,
    ) -> impl Iterator<Item = Known<'a, PlacementRecord>> + use<'a> {
        self.beyond(id, false)
    }
    fn beyond<'a>(
        &'a self,
        id: &str,
        up: bool,
    ) -> impl Iterator<Item = Known<'a, PlacementRecord>> + use<'a> {
        let here = self.placements.find(id).and_then(|slot| {
            let (id, entry) = self.placements.at(slot)?;
            let list = self.placements_of.of(entry.parent);
            let key = (place_on_route(&entry.record), id);
            let at = list.partition_point(|other| {
                self.placements
                    .at(*other)
                    .is_some_and(|(id, entry)| (place_on_route(&entry.record), id) < key)
            });
            Some(if up { list.get(at + 1..).unwrap_or(&[]) } else { list.get(..at).unwrap_or(&[]) })
        });
        let list = here.unwrap_or(&[]);
        (0..list.len())
            .map(move |step| if up { list[step] } else { list[list.len() - 1 - step] })
            .filter_map(move |slot| visible(&self.placements, slot))
    }
    /// The fitting of an identity.
    pub fn fitting(&self, id: &str) -> Option<&FittingRecord> {
        get(&self.fittings, id)
    }
    /// All fittings, by identity.
    pub fn fittings(&self) -> impl Iterator<Item = Known<'_, FittingRecord>> {
        all(&self.fittings)
    }
    /// Fittings of a placement, by the date they were placed; first those without a date.
    pub fn fittings_of<'a>(
        &'a self,
        placement: &str,
    ) -> impl DoubleEndedIterator<Item = Known<'a, FittingRecord>> + Clone + use<'a> {
        under(self.placements.find(placement), &self.fittings_of, &self.fittings)
    }
    /// Fittings made from a batch, by identity; `batch` is its identity or its code.
    pub fn fittings_of_batch<'a>(
        &'a self,
        batch: &str,
    ) -> impl DoubleEndedIterator<Item = Known<'a, FittingRecord>> + Clone + use<'a> {
        under(self.batches.find(&identity::batch(batch)), &self.fittings_of_batch, &self.fittings)
    }
    /// The fitting in a placement on a date: the one placed last by then and not removed by then.
    ///
    /// A fitting without a date comes before every dated one. A year alone counts from its first day.
    /// If all are dated later than `on`, and one was not removed, the earliest of these: its date is
    /// then a contradiction, and the rules say so.
    pub fn current_fitting<'a>(&'a self, placement: &str, on: Date) -> Option<Known<'a, FittingRecord>> {
        let today = day_of(Placed::On(on));
        let there = |fitting: &Known<'_, FittingRecord>| fitting.record.removed_on.is_none_or(|day| day > on);
        let placed = |fitting: &Known<'_, FittingRecord>| day_of(Placed::from(fitting.record));
        let mut by_then =
            self.fittings_of(placement).rev().filter(|fitting| placed(fitting) <= today).filter(there);
        let last = by_then.next();
        if let Some(last) = last
            && Placed::from(last.record) == Placed::Year(on.year())
            && let Some(before) = by_then.next()
            && before.record.removed_on.is_some_and(|day| day.year() == on.year())
        {
            // Placed some time this year, and the one before it comes out only later this year.
            return Some(before);
        }
        let by_then = last;
        if by_then.is_some() || self.fittings_of(placement).any(|fitting| placed(&fitting) <= today) {
            return by_then;
        }
        self.fittings_of(placement).find(there)
    }
    /// The fitting that a pull on a date pulled. Where hardware was replaced on that very day (or at an
    /// unknown date of that year), a failure is that of the old fitting and any other end that of the new.
    pub fn fitting_pulled<'a>(
        &'a self,
        placement: &str,
        on: Date,
        end: Option<PullEnd>,
    ) -> Option<Known<'a, FittingRecord>> {
        let that_day = day_of(Placed::On(on));
        let old = || {
            let in_hole = |fitting: &Known<'_, FittingRecord>| {
                let surely_before = match Placed::from(fitting.record) {
                    Placed::Year(year) => year < on.year(),
                    placed => day_of(placed) < that_day,
                };
                surely_before && fitting.record.removed_on.is_none_or(|removed| removed >= on)
            };
            let removed = |fitting: &Known<'_, FittingRecord>| fitting.record.removed_on == Some(on);
            self.fittings_of(placement)
                .find(removed)
                .or_else(|| self.fittings_of(placement).rev().find(in_hole))
        };
        let new = || self.current_fitting(placement, on);
        if end.is_some_and(PullEnd::is_failure) { old().or_else(new) } else { new().or_else(old) }
    }
    /// The fitting that a row most likely speaks of: one with the same date; else, if the row or the
    /// register knows only the year, one of that year; else, if there is exactly one fitting and one of
    /// the two dates is not known, that one. `None`: it is a new one.
    pub fn fitting_meant<'a>(&'a self, placement: &str, placed: Placed) -> Option<&'a str> {
        let fittings = || self.fittings_of(placement);
        let of = |fitting: &Known<'_, FittingRecord>| Placed::from(fitting.record);
        if let Some(same) = fittings().find(|fitting| of(fitting) == placed && placed != Placed::Unknown) {
            return Some(same.id);
        }
        let year_alone = |fitting: &Known<'_, FittingRecord>| {
            let known = of(fitting);
            known.year().is_some()
                && known.year() == placed.year()
                && (matches!(known, Placed::Year(_)) || matches!(placed, Placed::Year(_)))
        };
        if let Some(same_year) = fittings().find(year_alone) {
            return Some(same_year.id);
        }
        let mut left = fittings();
        match (left.next(), left.next()) {
            (Some(only), None) if of(&only) == Placed::Unknown || placed == Placed::Unknown => Some(only.id),
            (Some(_), Some(_)) if placed == Placed::Unknown => {
                fittings().rev().find(|fitting| fitting.record.removed_on.is_none()).map(|fitting| fitting.id)
            }
            _ => None,
        }
    }
    /// The sighting of an identity.
    pub fn sighting(&self, id: &str) -> Option<&SightingRecord> {
        get(&self.sightings, id)
    }
    /// All sightings, by identity.
    pub fn sightings(&self) -> impl Iterator<Item = Known<'_, SightingRecord>> {
        all(&self.sightings)
    }
    /// Sightings of a placement, oldest first; before all those without a date.
    pub fn sightings_of<'a>(
        &'a self,
        placement: &str,
    ) -> impl DoubleEndedIterator<Item = Known<'a, SightingRecord>> + Clone + use<'a> {
        under(self.placements.find(placement), &self.sightings_of, &self.sightings)
    }
    /// The pull of an identity.
    pub fn pull(&self, id: &str) -> Option<&PullRecord> {
        get(&self.pulls, id)
    }
    /// All pulls, by identity.
    pub fn pulls(&self) -> impl Iterator<Item = Known<'_, PullRecord>> {
        all(&self.pulls)
    }
    /// Pulls of a placement, oldest first; before all those without a date.
    pub fn pulls_of<'a>(
        &'a self,
        placement: &str,
    ) -> impl DoubleEndedIterator<Item = Known<'a, PullRecord>> + Clone + use<'a> {
        under(self.placements.find(placement), &self.pulls_of, &self.pulls)
    }
    /// The photo of an identity.
    pub fn photo(&self, id: &str) -> Option<&PhotoRecord> {
        get(&self.photos, id)
    }
    /// All photos, by identity.
    pub fn photos(&self) -> impl Iterator<Item = Known<'_, PhotoRecord>> {
        all(&self.photos)
    }
    /// Photos that show the subject of an identity.
    pub fn photos_of<'a>(&'a self, id: &str) -> impl Iterator<Item = Known<'a, PhotoRecord>> + use<'a> {
        let slots = self.photos_of.get(id).map_or(&[][..], |list| list);
        slots.iter().filter_map(|slot| visible(&self.photos, *slot))
    }
    /// The batch of an identity or code.
    pub fn batch(&self, id: &str) -> Option<&BatchRecord> {
        get(&self.batches, &identity::batch(id))
    }
    /// All batches, by identity.
    pub fn batches(&self) -> impl Iterator<Item = Known<'_, BatchRecord>> {
        all(&self.batches)
    }
    /// The item of stock of an identity or name.
    pub fn stock_item(&self, id: &str) -> Option<&StockRecord> {
        get(&self.stock, &identity::stock(id))
    }
    /// All stock, by identity.
    pub fn stock(&self) -> impl Iterator<Item = Known<'_, StockRecord>> {
        all(&self.stock)
    }
    /// Identity of the crag that a placement lies in.
    pub fn crag_of<'a>(&'a self, placement: &str) -> Option<&'a str> {
        self.route(self.placement(placement)?.route.as_deref()?)?.crag.as_deref()
    }
    /// How many visible subjects there are. Walks through all of them.
    pub fn counts(&self) -> Counts {
        Counts {
            crags: self.crags.len_visible(),
            routes: self.routes.len_visible(),
            placements: self.placements.len_visible(),
            fittings: self.fittings.len_visible(),
            sightings: self.sightings.len_visible(),
            pulls: self.pulls.len_visible(),
            photos: self.photos.len_visible(),
            batches: self.batches.len_visible(),
            stock: self.stock.len_visible(),
        }
    }
    /// The fact that a field's value comes from; field names as in the record.
    pub fn fact_of(&self, subject: &Subject, field: &str) -> Option<Uuid> {
        let marks = &self.marks;
        match subject {
            Subject::Crag(id) => wrote(&self.crags, marks, id, field),
            Subject::Route(id) => wrote(&self.routes, marks, id, field),
            Subject::Placement(id) => wrote(&self.placements, marks, id, field),
            Subject::Fitting(id) => wrote(&self.fittings, marks, id, field),
            Subject::Sighting(id) => wrote(&self.sightings, marks, id, field),
            Subject::Pull(id) => wrote(&self.pulls, marks, id, field),
            Subject::Photo(id) => wrote(&self.photos, marks, id, field),
            Subject::Batch(id) => wrote(&self.batches, marks, id, field),
            Subject::Stock(id) => wrote(&self.stock, marks, id, field),
        }
    }
    /// True if the subject was recorded and then withdrawn.
    pub fn is_withdrawn(&self, subject: &Subject) -> bool {
        fn of<R: Record>(table: &Table<R>, id: &str) -> bool {
            table.entry(id).is_some_and(|entry| !entry.visible && entry.withdrawn != NONE)
        }
        match subject {
            Subject::Crag(id) => of(&self.crags, id),
            Subject::Route(id) => of(&self.routes, id),
            Subject::Placement(id) => of(&self.placements, id),
            Subject::Fitting(id) => of(&self.fittings, id),
            Subject::Sighting(id) => of(&self.sightings, id),
            Subject::Pull(id) => of(&self.pulls, id),
            Subject::Photo(id) => of(&self.photos, id),
            Subject::Batch(id) => of(&self.batches, id),
            Subject::Stock(id) => of(&self.stock, id),
        }
    }
    /// What of a record the state does not say already: the body with only the new or changed fields,
    /// or `None` if there are none. A re-import states this and so adds nothing twice. For a subject
    /// that is not there (new or withdrawn) it is the whole record; a withdrawal or retraction passes.
    pub fn news(&self, subject: &Subject, body: Body) -> Option<Body> {
        fn of<R: Record>(table: &Table<R>, id: &str, mut record: R, wrap: fn(R) -> Body) -> Option<Body> {
            match get(table, id) {
                Some(known) => {
                    record.keep_news(known);
                    (!record.is_blank()).then(|| wrap(record))
                }
                None => {
                    record.keep_sayings();
                    Some(wrap(record))
                }
            }
        }
        match (subject, body) {
            (Subject::Crag(id), Body::Crag(record)) => of(&self.crags, id, record, Body::Crag),
            (Subject::Route(id), Body::Route(record)) => of(&self.routes, id, record, Body::Route),
            (Subject::Placement(id), Body::Placement(record)) => {
                of(&self.placements, id, record, Body::Placement)
            }
            (Subject::Fitting(id), Body::Fitting(record)) => of(&self.fittings, id, record, Body::Fitting),
            (Subject::Sighting(id), Body::Sighting(record)) => {
                of(&self.sightings, id, record, Body::Sighting)
            }
            (Subject::Pull(id), Body::Pull(record)) => of(&self.pulls, id, record, Body::Pull),
            (Subject::Photo(id), Body::Photo(record)) => of(&self.photos, id, record, Body::Photo),
            (Subject::Batch(id), Body::Batch(record)) => of(&self.batches, id, record, Body::Batch),
            (Subject::Stock(id), Body::Stock(record)) => of(&self.stock, id, record, Body::Stock),
            (_, body) => Some(body),
        }
    }
}
