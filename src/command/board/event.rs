//! What the board's own thread is told by the others.
//!
//! Must not know who tells it, nor what is done about it.

use std::time::Duration;

/// Something has happened.
#[derive(Debug)]
pub(super) enum Event {
    /// Something was saved in a folder of the book.
    Saved,
    /// A browser has painted what was saved.
    Shown(Shown),
    /// Nobody is let in any more, and why.
    Ended(String),
}

/// A browser has painted what was saved.
#[derive(Debug)]
pub(super) struct Shown {
    /// The page.
    pub page: String,
    /// How long after it was saved.
    pub after: Duration,
}
