//! What is otherwise than when the car last ran, in a line each.
//!
//! Must not know how a difference is worked out; that is `history::diff`.

use crate::book::model::{CarId, EventId};
use crate::history::diff;
use crate::history::order::Rank;
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::section::altered::{self, Altered};
use crate::report::section::change;
use crate::report::section::link::Link;
use crate::report::section::stops;
use serde::Serialize;

/// What is otherwise than at an event before.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SinceEvent {
    /// The event before.
    pub event: String,
    /// What is otherwise.
    pub lines: Vec<Altered>,
    /// How many more.
    pub more: usize,
    /// The page that tells all of it.
    pub link: Option<Link>,
}

/// More than these stand on the page of the difference.
const MOST: usize = 12;

/// What is otherwise at the moment before a rank than during the last session of the event before.
pub(super) fn since(desk: &Desk<'_>, car: CarId, pair: (EventId, EventId), rank: Rank) -> SinceEvent {
    let tell = desk.tell;
    let cx = &tell.cx;
    let then = stops::end(tell, car, pair.0);
    let diff = diff::diff(cx.facts, car, then, rank);
    let slots = diff.slots.iter().filter(|slot| change::is_set_otherwise(tell, slot));
    let mut lines = altered::altered(tell, car, slots, &diff.parts, rank);
    let more = lines.len().saturating_sub(MOST);
    lines.truncate(MOST);
    SinceEvent {
        event: tell.event(pair.0).to_owned(),
        lines,
        more,
        link: desk.table.link(Key::Diff(car, pair.0, pair.1)),
    }
}
