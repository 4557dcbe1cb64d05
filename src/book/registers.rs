//! Heads with nothing under them but what was handed out.
//!
//! Must not know who reads.

use super::entry::{Entry, EntryId, Head, Verb};
use crate::ids::Arena;

/// Whether a head has lines, and all of them say that a page was handed out: nothing happened on its day that a page tells of.
#[must_use]
pub fn registers(entries: &Arena<EntryId, Entry>, head: &Head) -> bool {
    !head.is_empty() && entries.within(head.first..head.end).iter().all(|entry| entry.verb == Verb::Handed)
}
