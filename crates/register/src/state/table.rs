//! The subjects of one kind and what is known of each.

use super::mark::{Mark, MarkNo, Marks, NONE};
use crate::field::Record;
use indexmap::IndexMap;
use rustc_hash::FxBuildHasher;

/// Which facts wrote the fields of a record.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Written {
    /// Nothing is written.
    Nothing,
    /// One fact wrote every field that says something.
    All(MarkNo),
    /// The fact of each field, [`NONE`] where it was never written.
    Each(Box<[MarkNo]>),
}

/// What is known of one subject.
#[derive(Clone, Debug)]
pub(super) struct Entry<R> {
    pub(super) record: R,
    pub(super) written: Written,
    /// Latest fact that states a record, [`NONE`] if the subject is only named by others.
    pub(super) stated: MarkNo,
    /// Latest fact that withdraws the subject.
    pub(super) withdrawn: MarkNo,
    /// Slot of the subject it belongs to, in that kind's table; `u32::MAX` where unknown.
    pub(super) parent: u32,
    pub(super) visible: bool,
}

impl<R: Record> Default for Entry<R> {
    fn default() -> Self {
        Self {
            record: R::default(),
            written: Written::Nothing,
            stated: NONE,
            withdrawn: NONE,
            parent: u32::MAX,
            visible: false,
        }
    }
}

impl<R: Record> Entry<R> {
    /// The fact that wrote a field (or said that it is not known).
    pub(super) fn writer(&self, field: usize) -> MarkNo {
        match &self.written {
            Written::Nothing => NONE,
            Written::All(mark) => {
                if self.record.states(field) {
                    *mark
                } else {
                    NONE
                }
            }
            Written::Each(marks) => marks.get(field).copied().unwrap_or(NONE),
        }
    }

    fn each(&mut self) -> &mut [MarkNo] {
        if !matches!(self.written, Written::Each(_)) {
            let marks = (0..R::FIELDS.len()).map(|field| self.writer(field)).collect();
            self.written = Written::Each(marks);
        }
        match &mut self.written {
            Written::Each(marks) => marks,
            Written::Nothing | Written::All(_) => &mut [],
        }
    }

    /// Takes in a record; true if anything came of it.
    pub(super) fn state(&mut self, mut record: R, by: MarkNo, marks: &Marks) -> bool {
        let mut used = false;
        if self.written == Written::Nothing {
            record.keep_sayings();
            self.record = record;
            self.written = Written::All(by);
            used = true;
        } else if !matches!(self.written, Written::All(mark) if marks.order(mark, by).is_eq()) {
            self.each();
            let Self { record: known, written: Written::Each(writers), .. } = self else { return used };
            known.take(&record, |field| {
                let wins = marks.later(by, writers[field]);
                if wins {
                    writers[field] = by;
                    used = true;
                }
                wins
            });
        }
        if marks.later(by, self.stated) {
            self.stated = by;
            used = true;
        }
        self.show(marks);
        used
    }

    /// Takes in that fields are not known after all; true if anything came of it.
    pub(super) fn retract(&mut self, fields: &[String], by: MarkNo, marks: &Marks) -> bool {
        let mut used = false;
        for field in fields.iter().filter_map(|name| R::field(name)) {
            let writers = self.each();
            if marks.later(by, writers[field]) {
                writers[field] = by;
                self.record.clear(field);
                used = true;
            }
        }
        used
    }

    /// Takes in a withdrawal; true if anything came of it.
    pub(super) fn withdraw(&mut self, by: MarkNo, marks: &Marks) -> bool {
        let used = marks.later(by, self.withdrawn);
        if used {
            self.withdrawn = by;
            self.show(marks);
        }
        used
    }

    pub(super) fn show(&mut self, marks: &Marks) {
        self.visible = self.stated != NONE && marks.later(self.stated, self.withdrawn);
    }

    /// All that facts have left here, in a form that does not depend on their order.
    pub(super) fn canonical(&self, marks: &Marks) -> Canonical<'_, R> {
        Canonical {
            record: &self.record,
            writers: (0..R::FIELDS.len()).map(|field| marks.get(self.writer(field))).collect(),
            stated: marks.get(self.stated),
            withdrawn: marks.get(self.withdrawn),
        }
    }

    /// False for a slot that exists only because another subject names it.
    pub(super) fn has_facts(&self) -> bool {
        self.written != Written::Nothing || self.withdrawn != NONE
    }
}

#[derive(Debug, PartialEq)]
pub(super) struct Canonical<'a, R> {
    record: &'a R,
    writers: Vec<Option<Mark>>,
    stated: Option<Mark>,
    withdrawn: Option<Mark>,
}

/// The subjects of one kind, numbered in the order they were first named.
#[derive(Clone, Debug)]
pub(super) struct Table<R>(IndexMap<Box<str>, Entry<R>, FxBuildHasher>);

impl<R> Default for Table<R> {
    fn default() -> Self {
        Self(IndexMap::default())
    }
}

impl<R: Record> Table<R> {
    /// The slot of an identity, made if it is new.
    pub(super) fn slot(&mut self, id: &str) -> u32 {
        match self.0.get_index_of(id) {
            Some(slot) => slot as u32,
            None => {
                if self.0.len() == self.0.capacity() {
                    // Doubling would leave up to half of a large table empty.
                    self.0.reserve_exact(self.0.len() / 4 + 16);
                }
                self.0.insert_full(id.into(), Entry::default()).0 as u32
            }
        }
    }

    pub(super) fn find(&self, id: &str) -> Option<u32> {
        self.0.get_index_of(id).map(|slot| slot as u32)
    }

    pub(super) fn id(&self, slot: u32) -> &str {
        self.0.get_index(slot as usize).map_or("", |(id, _)| id)
    }

    pub(super) fn at(&self, slot: u32) -> Option<(&str, &Entry<R>)> {
        self.0.get_index(slot as usize).map(|(id, entry)| (&**id, entry))
    }

    pub(super) fn at_mut(&mut self, slot: u32) -> Option<&mut Entry<R>> {
        self.0.get_index_mut(slot as usize).map(|(_, entry)| entry)
    }

    pub(super) fn entry(&self, id: &str) -> Option<&Entry<R>> {
        self.0.get(id)
    }

    pub(super) fn iter(&self) -> impl Iterator<Item = (&str, &Entry<R>)> {
        self.0.iter().map(|(id, entry)| (&**id, entry))
    }

    /// Slots in the order of their identities, also of subjects that are only named.
    pub(super) fn sorted(&self) -> Vec<u32> {
        let mut slots: Vec<u32> = (0..self.0.len() as u32).collect();
        slots.sort_unstable_by(|a, b| self.id(*a).cmp(self.id(*b)));
        slots
    }

    pub(super) fn len_visible(&self) -> usize {
        self.0.values().filter(|entry| entry.visible).count()
    }

    pub(super) fn reserve(&mut self, more: usize) {
        self.0.reserve(more);
    }

    pub(super) fn same(&self, mine: &Marks, other: &Self, theirs: &Marks) -> bool {
        let stated = |table: &Self| table.0.values().filter(|entry| entry.has_facts()).count();
        stated(self) == stated(other)
            && self.iter().filter(|(_, entry)| entry.has_facts()).all(|(id, entry)| {
                other.entry(id).is_some_and(|twin| entry.canonical(mine) == twin.canonical(theirs))
            })
    }
}
