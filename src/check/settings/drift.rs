//! Where something was found otherwise than it was left.
//!
//! Must not know words: two checks put what is found here into theirs.

use super::lines::{Hit, by_line};
use crate::book::entry::{EntryId, Verb};
use crate::check::Context;
use crate::history::likeness::{self, Likeness};
use crate::history::slots::{Owner, Register, SlotEvent, Track};

/// One place that moved.
#[derive(Debug, Clone, Copy)]
pub struct Drift {
    /// The line that left it.
    pub left: EntryId,
    /// Where it was left.
    pub before: SlotEvent,
    /// How far it moved, SI.
    pub moved: f64,
    /// What both gauges leave open together, SI.
    pub grain: f64,
    /// Whose slot.
    pub owner: Owner,
    /// The next line that left or set it again.
    pub again: Option<EntryId>,
}

impl Drift {
    /// How many gauge widths it moved.
    #[must_use]
    pub fn widths(&self) -> f64 {
        if self.grain > 0.0 { self.moved.abs() / self.grain } else { 0.0 }
    }
}

/// Every drift of the book, by `found` line.
#[must_use]
pub fn drifts(cx: &Context<'_>) -> Vec<Vec<Hit<Drift>>> {
    by_line(cx, |track, out| look(cx, track, out))
}

fn look(cx: &Context<'_>, track: &Track, out: &mut Vec<Hit<Drift>>) {
    let quantity = cx.quantity(track.quantity);
    // A pressure changes with the weather and a counter with use; only what stays put can drift.
    if !quantity.is_disturbed() && !quantity.disturbed_by_hit {
        return;
    }
    let mut left: Option<(EntryId, SlotEvent)> = None;
    let mut open: Vec<usize> = Vec::new();
    for (line, event) in track.lines() {
        let entry = cx.entry(line);
        if event.register() == Register::Asked || entry.verb == Verb::Left {
            for at in open.drain(..) {
                if let Some(open) = out.get_mut(at) {
                    open.what.again = Some(line);
                }
            }
        }
        match event.register() {
            Register::Read if entry.verb == Verb::Left => left = Some((line, *event)),
            Register::Read if entry.verb == Verb::Found => {
                let Some((earlier, before)) = left else { continue };
                let (is, was) = ((event, cx.item(event.item())), (&before, cx.item(before.item())));
                let grain = likeness::room(cx.facts, was, is);
                let moved = likeness::difference(cx.facts, (event, track), (&before, track));
                if likeness::compare(cx.facts, (before, track), (*event, track)) == Likeness::Moved {
                    open.push(out.len());
                    let what = Drift { left: earlier, before, moved, grain, owner: track.owner, again: None };
                    out.push(Hit { entry: line, item: event.item(), what });
                    left = None;
                }
            }
            // Changed on purpose, or unknown: the previous left no longer says where it should be.
            Register::Asked | Register::Unknown => left = None,
            Register::Read => {}
        }
    }
}
