//! A time from which use is counted anew.
//!
//! Must not know what is counted.

use crate::book::entry::EntryId;
use crate::history::order::Rank;

/// A time from which use is counted anew.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Start {
    /// When, in the order of the book.
    pub rank: Rank,
    /// The line that did the work; `None` for the beginning of the book.
    pub entry: Option<EntryId>,
    /// Whether the line says so for certain: one with a mistake may have been something else.
    pub sure: bool,
}
