//! One value of a slot, and the register it is in.
//!
//! Must not know how a slot comes by its values.

use crate::book::Book;
use crate::book::entry::{Entry, EntryId, ItemId};
use crate::history::rank::{Order, Rank};

/// Which register an event writes, or that it makes the slot unknown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Register {
    /// Asked for.
    Asked,
    /// Read.
    Read,
    /// An error or a dispute: not known from here.
    Unknown,
}

/// One value of a slot. 16 bytes: a book has millions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SlotEvent {
    /// The value in SI after this line; for `adjust` the sum. 0 for text, `off` and unknown.
    pub value: f64,
    /// The line; `None` for a value that the car is declared with.
    pub entry: Option<EntryId>,
    packed: u32,
}

const ITEM_MASK: u32 = (1 << 29) - 1;

impl SlotEvent {
    pub(super) fn new(value: f64, entry: Option<EntryId>, item: ItemId, register: Register) -> Self {
        let code = match register {
            Register::Asked => 0,
            Register::Read => 1,
            Register::Unknown => 2,
        };
        Self { value, entry, packed: (item.number() & ITEM_MASK) | (code << 30) }
    }

    /// The same line with another value.
    #[must_use]
    pub const fn at(self, value: f64) -> Self {
        Self { value, ..self }
    }

    /// The item of the book; of an opening value, its place among what the car is declared with for the quantity.
    #[must_use]
    pub const fn item(&self) -> ItemId {
        ItemId::new(self.packed & ITEM_MASK)
    }

    /// Its line.
    #[must_use]
    pub fn line<'b>(&self, book: &'b Book) -> Option<&'b Entry> {
        self.entry.and_then(|entry| book.entries.get(entry))
    }

    /// The rank of its line; `None` for a value that the car is declared with, which comes before all of them.
    #[must_use]
    pub fn rank(&self, order: &Order) -> Option<Rank> {
        self.entry.and_then(|entry| order.rank.get(entry).copied())
    }

    /// The register.
    #[must_use]
    pub const fn register(&self) -> Register {
        match self.packed >> 30 {
            0 => Register::Asked,
            1 => Register::Read,
            _ => Register::Unknown,
        }
    }
}
