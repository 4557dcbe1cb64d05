//! What is told of a book, and where it is from.
//!
//! Must not know who tells it.

use crate::answer::LedgerLine;
use serde::Serialize;

/// Of which sort a fact is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum AlteredSort {
    /// What is worked out.
    Figure,
    /// What was set or read.
    Value,
    /// How a car stands by a rule.
    Verdict,
    /// Money.
    Total,
    /// How long parts last.
    Life,
    /// A message about the book.
    Message,
}

/// What is told.
#[derive(Debug, Clone)]
pub(super) struct Fact {
    /// As it is shown.
    pub shown: String,
    /// The lines it rests on.
    pub lines: Vec<LedgerLine>,
}
