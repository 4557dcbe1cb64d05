//! Until when: a time to come, as a promise, work that is put off and a loan have it.
//!
//! Must not know what is due then.

use super::ids::EventId;
use crate::source::Span;
use jiff::civil::Date;

/// A time to come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Until {
    /// That day.
    Day(Date),
    /// An event: before it for a promise, at it for work that is put off.
    Event(EventId),
    /// Words of the shop's own: `winter`, or quoted.
    Words(Span),
}
