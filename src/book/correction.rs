//! What a `correct` line put right, and what was typed there first.
//!
//! Must not know how the line was found.

use super::entry::{EntryId, Item};

/// A value that was put right.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Correction {
    /// Its line.
    pub line: EntryId,
    /// As it was typed.
    pub typed: Item,
    /// The last `correct` line of it.
    pub by: EntryId,
}
