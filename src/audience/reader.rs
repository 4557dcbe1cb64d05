//! Who reads, and what becomes of a line for him.
//!
//! Must not know how a line is emptied.

use crate::Compiled;
use crate::book::entry::{Audience, EntryId};
use crate::book::model::{CarId, ClientId};
use crate::history::order::Rank;

/// Who reads. The shop reads the book as it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reader {
    /// A client: his cars, while they are his.
    Client(ClientId),
    /// Whoever buys a car: that car until then.
    Buyer(Purchase),
}

/// What a buyer gets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Purchase {
    /// The car.
    pub car: CarId,
    /// The buyer, where he is a client of the book.
    pub to: Option<ClientId>,
    /// The last rank he gets to read: the sale's, or the end of the book.
    pub until: Rank,
    /// The line that sells it; none where it is not sold yet.
    pub sale: Option<EntryId>,
    /// Whether bench lines go along: only where asked for.
    pub bench: bool,
    /// Whether prices of parts go along: only where asked for.
    pub prices: bool,
}

impl Purchase {
    /// The same in a book without the lines after the sale, where the line that sells the car has another number.
    #[must_use]
    pub fn of(&self, compiled: &Compiled) -> Self {
        let sale = self.sale.and_then(|_| compiled.history.order.entries.get(self.until)).copied();
        Self { sale, ..*self }
    }
}

impl Reader {
    /// The audience that a line must have for him.
    #[must_use]
    pub const fn level(&self) -> Audience {
        match self {
            Self::Client(_) => Audience::Client,
            Self::Buyer(_) => Audience::Buyer,
        }
    }
}

/// What becomes of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Fate {
    /// He may read it.
    Read,
    /// He may not read it; that it ran a car, moved a part or hit something counts.
    Fact,
    /// He may not read what it set or read; that it is no longer what it was counts.
    Unknown,
    /// Nothing of it is kept but its place in time.
    Gone,
}
