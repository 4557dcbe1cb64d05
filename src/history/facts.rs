//! What everything after the fold is made of: the texts, the book, what was true when. One bundle for all, and one value for
//! "this car at this moment".
//!
//! Must not know what anybody makes of it.

use super::History;
use super::order::Rank;
use crate::book::Book;
use crate::book::model::CarId;
use crate::source::Files;

/// The texts, the book and its fold. Whoever needs more adds to it, and lends it on by `Deref`.
#[derive(Debug, Clone, Copy)]
pub struct Facts<'a> {
    /// The texts.
    pub files: &'a Files,
    /// The book.
    pub book: &'a Book,
    /// Its fold.
    pub history: &'a History,
}

impl<'a> Facts<'a> {
    /// A car at the moment before a rank.
    #[must_use]
    pub const fn on(self, car: CarId, rank: Rank) -> Standing<'a> {
        Standing { facts: self, car, rank }
    }
}

/// A car at a moment: that before the entry of a rank. What it holds then is in [`super::state`].
#[derive(Debug, Clone, Copy)]
pub struct Standing<'a> {
    /// What is known.
    pub facts: Facts<'a>,
    /// The car.
    pub car: CarId,
    /// The rank.
    pub rank: Rank,
}

impl<'a> std::ops::Deref for Standing<'a> {
    type Target = Facts<'a>;

    fn deref(&self) -> &Facts<'a> {
        &self.facts
    }
}
