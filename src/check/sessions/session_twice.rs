//! `session-twice`: a session label used twice at one event.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "session-twice",
    severity: Severity::Error,
    family: Family::Sessions,
    brief: "a session label used twice at one event",
    why: "A car's sessions at an event are told apart by their labels: `during s3` and `quern-1/s3` must mean one \
          session. The first keeps the label.",
    wrong: "  09:30..09:50 run s1\n  11:10..11:30 run s1",
    right: "  09:30..09:50 run s1\n  11:10..11:30 run s2",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::SessionTwice { entry, first } = *problem else { return None };
    let run = cx.book.run(cx.entry(entry))?;
    let label = cx.text(run.label);
    let event = cx.book.head(cx.entry(entry)).and_then(|head| head.event);
    let event = event.and_then(|event| cx.book.events.get(event));
    let at = event.map_or_else(|| "that day".to_owned(), |event| format!("at {}", event.named.typed));
    Some(
        CHECK
            .at(run.label, format!("There is a session {label} {at} already ({}).", cx.when(first, run.label)))
            .and(cx.entry(first).span(), format!("{label} here"))
            .cure("give this one a label of its own"),
    )
}
