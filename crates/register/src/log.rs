//! A log of facts as a set.

use crate::fact::Fact;
use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use uuid::Uuid;

/// Two facts with the same id say different things: one of them was damaged or forged.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "fact {id} is there twice with different content; one copy was damaged or forged. Restore the register from a backup, or take the log from a device you trust."
)]
pub struct Clash {
    /// The id that both carry.
    pub id: Uuid,
}

/// A set of facts, one per id.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Log(BTreeMap<Uuid, Fact>);

impl Log {
    /// Adds a fact; true if it is new. Numbers that are NaN or infinite are left out.
    ///
    /// # Errors
    /// Another fact with the same id is there; the log stays as it was.
    pub fn add(&mut self, mut fact: Fact) -> Result<bool, Clash> {
        fact.body.keep_sayings();
        match self.0.entry(fact.id) {
            Entry::Vacant(place) => {
                place.insert(fact);
                Ok(true)
            }
            Entry::Occupied(known) if *known.get() == fact => Ok(false),
            Entry::Occupied(known) => Err(Clash { id: *known.key() }),
        }
    }

    /// The union of two logs: commutative, associative, idempotent.
    ///
    /// # Errors
    /// The two know different facts under one id.
    pub fn merge(mut self, other: Log) -> Result<Log, Clash> {
        for fact in other.0.into_values() {
            self.add(fact)?;
        }
        Ok(self)
    }

    /// The facts by id.
    pub fn facts(&self) -> impl Iterator<Item = &Fact> {
        self.0.values()
    }

    /// Number of facts.
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// True without facts.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl IntoIterator for Log {
    type Item = Fact;
    type IntoIter = std::collections::btree_map::IntoValues<Uuid, Fact>;
    fn into_iter(self) -> Self::IntoIter {
        self.0.into_values()
    }
}
