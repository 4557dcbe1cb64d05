//! What a line about a part that is not where it belongs says: lent or borrowed, to or from whom, until when, and what it ran away.
//!
//! Must not know where the part is.

use super::clock::LifeAmount;
use super::ids::{ClientId, PersonId};
use super::until::Until;
use crate::source::Span;

/// Who has it, or whose it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whom {
    /// A client of the book.
    Client(ClientId),
    /// A person of the book.
    Person(PersonId),
    /// Words of the shop's own, in quotes.
    Words(Span),
    /// Somebody whom the reader of this book does not know.
    Withheld,
}

/// What a part ran where the book has no sessions of it.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum UseAway {
    /// Nobody said.
    #[default]
    Unsaid,
    /// `unused`: nothing on any clock.
    Unused,
    /// So much on these clocks; on the others nobody said.
    Ran(Vec<LifeAmount>),
}

/// What a `lend`, `borrow` or `return` line says of it.
#[derive(Debug, Clone, Default)]
pub struct LoanFacts {
    /// `to ...`, `from ...`.
    pub whom: Option<Whom>,
    /// The words of that.
    pub whom_span: Option<Span>,
    /// `until DATE` or `until EVENT`: when it is to come or go back.
    pub until: Option<(Until, Span)>,
    /// `on approval`.
    pub approval: bool,
    /// `ran 95 min`, `unused`.
    pub away: UseAway,
}
