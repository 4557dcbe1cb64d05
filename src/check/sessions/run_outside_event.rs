//! `run-outside-event`: sessions under a date that the event does not have.

use crate::ids::Arena;
use crate::book::entry::{Entry, Head, Verb};
use crate::book::model::{Event, EventId};
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "run-outside-event",
    severity: Severity::Error,
    family: Family::Sessions,
    brief: "sessions under a date that the event does not have",
    why: "The head says `at EVENT`, but its date is not one of the event's. Either the date was mistyped or the \
          event was; until then the sessions stand in a meeting on a day when there was none. A session that goes \
          past midnight of the last day stands under that last day and is fine.",
    wrong: "2026-04-21 heron at quern-1\n  09:35..09:55 run s1",
    right: "2026-04-19 heron at quern-1\n  09:35..09:55 run s1",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    // Of each event: heads with sessions inside its dates, and the heads outside with their first session.
    let mut inside: Arena<EventId, u32> = vec![0; cx.book.events.len()].into();
    let mut outside: Arena<EventId, Vec<(&Head, &Entry)>> = vec![Vec::new(); cx.book.events.len()].into();
    for head in &cx.book.heads {
        let Some(id) = head.event else { continue };
        let Some(event) = cx.book.events.get(id) else { continue };
        let ran = head.lines().map(|index| cx.entry(index)).find(|entry| entry.verb == Verb::Run);
        let Some(run) = ran else { continue };
        if head.date >= event.first && head.date <= event.last {
            inside[id] += 1;
        } else if !told::is_ahead(cx, head.date) {
            outside[id].push((head, run));
        }
    }
    for (id, heads) in outside.iter_enumerated() {
        let event = &cx.book.events[id];
        if let (0, [(first, run), _, ..]) = (inside[id], heads.as_slice()) {
            // Every session disagrees: then it is the event's own line that is wrong, once.
            out.push(
                CHECK
                    .at(
                        event.named.declared,
                        format!("{} is {}, and no session under it is: {} and more.", event.named.typed, dates(event), first.date),
                    )
                    .and(run.span(), "a session of it")
                    .cure("correct the event's dates"),
            );
            continue;
        }
        for (head, run) in heads {
            out.push(
                CHECK
                    .at(head.span, format!("{} is {}, and this is {}.", event.named.typed, dates(event), head.date))
                    .and(run.span(), "a session that day")
                    .and(event.named.declared, "its dates")
                    .cure("correct the date or the event, here or in the event's own line"),
            );
        }
    }
}

fn dates(event: &Event) -> String {
    if event.first == event.last { event.first.to_string() } else { format!("{} to {}", event.first, event.last) }
}
