//! Which fact wrote something: its stamp and id, kept small and compared fast.

use crate::fact::Stamp;
use rustc_hash::FxHashMap;
use serde::{Deserialize, Serialize};
use std::cmp::Ordering;
use uuid::Uuid;

/// The fact behind a field: its place in the order of facts and its id.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Mark {
    /// When it was stated.
    pub stamp: Stamp,
    /// Which fact it was.
    pub fact: Uuid,
}

/// Number of a mark within one state.
pub(super) type MarkNo = u32;

/// No mark.
pub(super) const NONE: MarkNo = MarkNo::MAX;

#[derive(Clone, Copy, Debug)]
struct Short {
    millis: u64,
    counter: u32,
    device: u32,
    fact: Uuid,
}

/// All marks that a state refers to. Numbers differ between states that took the facts in another
/// order; marks themselves do not.
#[derive(Clone, Debug, Default)]
pub(super) struct Marks {
    all: Vec<Short>,
    devices: Vec<String>,
    numbers: FxHashMap<String, u32>,
    latest: Option<Stamp>,
}

impl Marks {
    pub(super) fn add(&mut self, stamp: &Stamp, fact: Uuid) -> MarkNo {
        let device = match self.numbers.get(&stamp.device) {
            Some(number) => *number,
            None => {
                let number = self.devices.len() as u32;
                self.devices.push(stamp.device.clone());
                self.numbers.insert(stamp.device.clone(), number);
                number
            }
        };
        if self.latest.as_ref().is_none_or(|latest| latest < stamp) {
            self.latest = Some(stamp.clone());
        }
        self.all.push(Short { millis: stamp.millis, counter: stamp.counter, device, fact });
        (self.all.len() - 1) as MarkNo
    }

    /// Takes back the mark added last, if nothing refers to it.
    pub(super) fn drop_last(&mut self) {
        self.all.pop();
    }

    pub(super) fn reserve(&mut self, more: usize) {
        self.all.reserve(more);
    }

    pub(super) fn get(&self, number: MarkNo) -> Option<Mark> {
        let short = self.all.get(number as usize)?;
        let device = self.devices.get(short.device as usize)?.clone();
        Some(Mark { stamp: Stamp { millis: short.millis, counter: short.counter, device }, fact: short.fact })
    }

    pub(super) fn fact(&self, number: MarkNo) -> Option<Uuid> {
        self.all.get(number as usize).map(|short| short.fact)
    }

    /// Order of two marks; no mark comes before every mark.
    pub(super) fn order(&self, a: MarkNo, b: MarkNo) -> Ordering {
        match (self.all.get(a as usize), self.all.get(b as usize)) {
            (Some(a), Some(b)) => {
                let device = |short: &Short| self.devices.get(short.device as usize);
                (a.millis, a.counter)
                    .cmp(&(b.millis, b.counter))
                    .then_with(
                        || if a.device == b.device { Ordering::Equal } else { device(a).cmp(&device(b)) },
                    )
                    .then_with(|| a.fact.cmp(&b.fact))
            }
            (a, b) => a.is_some().cmp(&b.is_some()),
        }
    }

    pub(super) fn later(&self, a: MarkNo, b: MarkNo) -> bool {
        self.order(a, b) == Ordering::Greater
    }

    /// The latest stamp of all marks ever added.
    pub(super) fn latest(&self) -> Option<&Stamp> {
        self.latest.as_ref()
    }
}
