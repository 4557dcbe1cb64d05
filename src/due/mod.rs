//! What must be done, carried or watched before an event: limits, chances, spares.
//!
//! Knows the book, its history and its lives. Must not know words, reports or the terminal.

pub mod fitted;
pub mod limits;
pub mod plan;
