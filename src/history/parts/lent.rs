//! One time that a part was lent or borrowed, and what its lines say of it.
//!
//! Must not know where the part is.

use crate::book::Book;
use crate::book::entry::EntryId;
use crate::book::loan::{LoanFacts, UseAway};
use crate::book::model::PartId;
use crate::history::order::Rank;

/// A time a part was lent or borrowed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Loan {
    /// Lent by the shop; else borrowed by it.
    pub lent: bool,
    /// Rank and line of its beginning.
    pub out: (Rank, EntryId),
    /// Rank and line of its end: it came back, went back, was kept (bought), or is gone for good.
    pub back: Option<(Rank, EntryId)>,
}

impl Loan {
    /// Whether it lasted at the moment before a rank.
    #[must_use]
    pub fn lasts(&self, rank: Rank) -> bool {
        self.out.0 < rank && self.back.is_none_or(|(back, _)| back >= rank)
    }

    /// What the line that ends it says the part ran meanwhile; `None` while it lasts at the moment before `rank`, and where nobody said.
    #[must_use]
    pub fn ran<'a>(&self, book: &'a Book, rank: Rank) -> Option<&'a UseAway> {
        let (_, line) = self.back.filter(|(back, _)| *back < rank)?;
        facts(book, line).map(|loan| &loan.away).filter(|away| **away != UseAway::Unsaid)
    }
}

/// Whether a line names the part itself: what is inside another that it names is away, or back, with that.
#[must_use]
pub fn names(book: &Book, line: EntryId, part: PartId) -> bool {
    let Some(entry) = book.entries.get(line) else { return false };
    let facts = book.extra(entry).and_then(|extra| extra.parts.as_deref());
    entry.part() == Some(part) || facts.is_some_and(|facts| facts.more.contains(&part))
}

/// What a line says of a loan.
#[must_use]
pub fn facts(book: &Book, line: EntryId) -> Option<&LoanFacts> {
    book.extra(book.entries.get(line)?)?.parts.as_deref()?.loan.as_deref()
}
