//! `found-has-drifted`: found otherwise than it was left, by more than the gauges can tell.

use super::{Check, Context, Family, Look};
use crate::book::entry::Verb;
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::slots::{Owner, Register, Track};
use crate::history::usage;

/// The check.
pub const CHECK: Check = Check {
    name: "found-has-drifted",
    severity: Severity::Warning,
    family: Family::Settings,
    brief: "found otherwise than it was left, by more than the gauges can tell",
    why: "What is found before anyone touches the car should be what was left the last time. If it is not, something \
          moved: an arm bent, a lock nut let go, somebody wrote nothing down. The difference is held against the coarser of \
          the two gauges, twice over, since each reading may be off by one width.",
    wrong: "  left camber RF -3.2 deg by cg-1\n  ...\n  found camber RF -2.7 deg by cg-1",
    right: "  found camber RF -2.7 deg by cg-1\n    waive found-has-drifted because top mount slid, see the note",
    look: Look::Track(look),
};

fn look(cx: &Context<'_>, track: &Track, out: &mut Vec<Diagnostic>) {
    let quantity = cx.quantity(track.quantity);
    // A pressure changes with the weather and a counter with use; only what stays put can drift.
    if quantity.disturbed_by.is_empty() && !quantity.disturbed_by_hit {
        return;
    }
    let mut left = None;
    for event in &track.events {
        if event.entry == u32::MAX {
            continue;
        }
        let entry = cx.entry(event.entry);
        match (event.register(), entry.verb) {
            (Register::Read, Verb::Left) => left = Some(*event),
            (Register::Read, Verb::Found) => {
                let Some(before) = left else { continue };
                let was = cx.entry(before.entry);
                let grain = cx.grain(entry, cx.item(event.item())).max(cx.grain(was, cx.item(before.item())));
                let moved = event.value - before.value;
                // Twice the grain: each of the two readings may be one width off.
                if moved.abs() > 2.0 * grain * 1.000_001 {
                    out.push(message(cx, track, before, *event, moved, grain));
                    left = None;
                }
            }
            // Changed on purpose, or unknown: the previous left no longer says where it should be.
            (Register::Asked | Register::Unknown, _) => left = None,
            _ => {}
        }
    }
}

fn message(
    cx: &Context<'_>,
    track: &Track,
    before: crate::history::slots::SlotEvent,
    event: crate::history::slots::SlotEvent,
    moved: f64,
    grain: f64,
) -> Diagnostic {
    let item = cx.item(event.item());
    let was = cx.entry(before.entry).span();
    let span = cx.item_span(event.entry, event.item());
    let mut between = String::new();
    if let Owner::Car(car) = track.owner {
        let (from, until) = (cx.rank(before.entry), cx.rank(event.entry));
        let sessions = cx.history.sessions.between(car, from, until);
        let run = usage::total(sessions.iter().map(|id| cx.history.sessions.get(*id)));
        let hits = cx.history.disturbances.hits(car, from, until).count();
        if run.sessions > 0 {
            between = format!(", {:.1} h of running", run.minutes / 60.0);
        }
        if hits > 0 {
            between.push_str(if hits == 1 { " and one impact" } else { " and more than one impact" });
        }
        between.push_str(if between.is_empty() { "" } else { " ago" });
    }
    CHECK
        .at(
            span,
            format!(
                "{} was left at {} ({}{between}) and is found at {}: moved {}, and the gauge tells {} apart.",
                cx.slot(track.quantity, item.place),
                cx.typed(before.entry, cx.item(before.item())),
                cx.when(before.entry, span),
                cx.typed(event.entry, item),
                cx.difference_like(moved, event.entry, item),
                cx.difference_like(grain, event.entry, item),
            ),
        )
        .and(was, "left here")
        .cure("find out what moved; `waive found-has-drifted because ...` once you know")
}
