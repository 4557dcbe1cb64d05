//! What is otherwise than when the car last ran, in a line each.
//!
//! Must not know how a difference is worked out; that is `history::diff`.

use crate::book::model::{CarId, EventId};
use crate::history::diff;
use crate::history::order::Rank;
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::section::change::{self, ShownChange};
use crate::report::section::diff::part_changes;
use crate::report::section::link::Link;
use crate::report::section::stops;
use crate::report::section::value::{ShownValue, ValueOrigin};
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

/// One thing that is otherwise, wherever it is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Altered {
    /// "camber", "coupling".
    pub what: String,
    /// Its places.
    pub steps: Vec<Altering>,
    /// Why, each reason once.
    pub because: Vec<String>,
    /// Its lines.
    pub src: String,
}

/// Then and now at a place, or at several that changed alike.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Altering {
    /// "LF RF"; empty for the car as a whole.
    pub place: String,
    /// Then.
    pub then: ShownValue,
    /// Now.
    pub now: ShownValue,
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
    let changes: Vec<ShownChange> =
        slots.map(|slot| change::change(tell, car, slot, change::swapped(tell, slot, rank), rank)).collect();
    let part = |text: String| ShownValue { text, unit: String::new(), how: ValueOrigin::Set };
    let mut lines: Vec<Altered> = Vec::new();
    for one in part_changes(tell, &diff) {
        let step = Altering { place: one.place, then: part(one.then), now: part(one.now) };
        push(&mut lines, one.kind, step, one.because, &one.src);
    }
    for one in change::join(changes) {
        let step = Altering { place: one.places, then: one.then, now: one.now };
        push(&mut lines, one.name, step, one.because, &one.src);
    }
    let more = lines.len().saturating_sub(MOST);
    lines.truncate(MOST);
    SinceEvent {
        event: tell.event(pair.0).to_owned(),
        lines,
        more,
        link: desk.table.link(Key::Diff(car, pair.0, pair.1)),
    }
}

/// Puts a step to the last line, if that is about the same.
fn push(lines: &mut Vec<Altered>, what: String, step: Altering, because: String, src: &str) {
    if lines.last().is_none_or(|last| last.what != what) {
        lines.push(Altered { what, steps: Vec::new(), because: Vec::new(), src: String::new() });
    }
    let Some(line) = lines.last_mut() else { return };
    line.steps.push(step);
    if !because.is_empty() && !line.because.contains(&because) {
        line.because.push(because);
    }
    if !src.is_empty() && !line.src.split(" · ").any(|known| known == src) {
        if !line.src.is_empty() {
            line.src.push_str(" · ");
        }
        line.src.push_str(src);
    }
}
