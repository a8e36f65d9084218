//! Which subjects belong to which: lists of slots, kept in a fixed order.

use smallvec::SmallVec;
use std::cmp::Ordering;

/// For each slot of one kind the slots of another kind that belong to it.
#[derive(Clone, Debug, Default)]
pub(super) struct Relation {
    lists: Vec<SmallVec<[u32; 4]>>,
    unsorted: Vec<u32>,
}

impl Relation {
    /// Takes a child from its old parent to its new one (`u32::MAX`: none) and remembers that the new
    /// parent's list wants sorting, also if the parent stays the same.
    pub(super) fn link(&mut self, child: u32, old: u32, new: u32) {
        if old != new
            && let Some(list) = self.lists.get_mut(old as usize)
        {
            list.retain(|slot| *slot != child);
        }
        if new == u32::MAX {
            return;
        }
        if self.lists.len() <= new as usize {
            self.lists.resize_with(new as usize + 1, SmallVec::new);
        }
        if old != new {
            self.lists[new as usize].push(child);
        }
        self.unsorted.push(new);
    }

    /// Sorts what has changed.
    pub(super) fn settle(&mut self, order: impl Fn(u32, u32) -> Ordering) {
        let mut changed = std::mem::take(&mut self.unsorted);
        changed.sort_unstable();
        changed.dedup();
        for parent in changed {
            if let Some(list) = self.lists.get_mut(parent as usize)
                && list.len() > 1
            {
                list.sort_unstable_by(|a, b| order(*a, *b));
            }
        }
    }

    pub(super) fn of(&self, parent: u32) -> &[u32] {
        self.lists.get(parent as usize).map_or(&[], |list| list)
    }
}
