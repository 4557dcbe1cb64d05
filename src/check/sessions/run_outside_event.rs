//! `run-outside-event`: sessions under a date that the event does not have.

use crate::book::entry::Verb;
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
    for head in &cx.book.heads {
        let Some(event) = head.event.and_then(|event| cx.book.events.get(event.0 as usize)) else { continue };
        if head.date >= event.first && head.date <= event.last || told::is_ahead(cx, head.date) {
            continue;
        }
        let ran = (head.first..head.end).map(|index| cx.entry(index)).find(|entry| entry.verb == Verb::Run);
        let Some(run) = ran else { continue };
        let name = &event.named.typed;
        let dates = if event.first == event.last {
            event.first.to_string()
        } else {
            format!("{} to {}", event.first, event.last)
        };
        out.push(
            CHECK
                .at(head.span, format!("{name} is {dates}, and this is {}.", head.date))
                .and(run.span(), "a session that day")
                .and(event.named.declared, "its dates")
                .cure("correct the date or the event, here or in the event's own line"),
        );
    }
}
